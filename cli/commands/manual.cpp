#include "cli/commands/manual.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/commands/command.hpp"
#include "cli/commands/help_text.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/starters.hpp"
#include "netlists/files/lesson_file.hpp"
#include "netlists/files/section_names.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

/// Text as troff prints it: a backslash and a leading dot or apostrophe mean nothing there, and a hyphen stays one that
/// can be typed.
std::string plain(std::string_view text) {
    std::string out;
    bool line_begins = true;
    for (const char c : text) {
        if (line_begins && (c == '.' || c == '\'')) out += "\\&";
        if (c == '\\')
            out += "\\e";
        else if (c == '-')
            out += "\\-";
        else
            out += c;
        line_begins = c == '\n';
    }
    return out;
}

class TroffPage {
public:
    TroffPage(const std::string& name, int section, std::string_view what) {
        text_ = fmt::format(".TH {} {} \"\" \"voltfall {}\"\n.SH NAME\n{} \\- {}\n", plain(name), section,
                            VOLTFALL_VERSION, plain(name), plain(what));
    }

    void section(std::string_view title) { text_ += fmt::format(".SH {}\n", title); }
    void subsection(std::string_view title) { text_ += fmt::format(".SS {}\n", plain(title)); }
    void paragraph(std::string_view words) { text_ += ".PP\n" + plain(words) + "\n"; }
    void term(std::string_view name, std::string_view words) {
        text_ += fmt::format(".TP\n.B {}\n{}\n", plain(name), plain(words.empty() ? " " : words));
    }
    /// Lines as they stand.
    void example(std::string_view lines) {
        text_ += ".PP\n.nf\n.RS 4\n" + plain(lines);
        text_ += lines.ends_with('\n') ? ".RE\n.fi\n" : "\n.RE\n.fi\n";
    }
    std::string take() { return std::move(text_); }

private:
    std::string text_;
};

void write_options(TroffPage& page, const CLI::App& app) {
    for (const CLI::Option* option : app.get_options()) page.term(option_words(*option), option->get_description());
}

void write_command(TroffPage& page, const Command& command) {
    CLI::App app;
    app.set_help_flag();
    const CommandWork unused = command.declare(app);
    page.subsection(fmt::format("{} {}", command.word, command.usage));
    page.paragraph(command.summary);
    page.example(command.examples);
    write_options(page, app);
}

ManualPage program_page() {
    TroffPage page("voltfall", 1, "find the fault in a vehicle's circuit from what was measured");
    page.section("SYNOPSIS");
    page.paragraph("voltfall COMMAND FILE... [options]");
    page.section("DESCRIPTION");
    page.paragraph(program_purpose());
    page.section("COMMANDS");
    for (const Command* command : commands()) write_command(page, *command);
    page.section("\"OPTIONS OF EVERY COMMAND\"");
    CLI::App app;
    app.set_help_flag();
    GlobalOptions ignored;
    declare_global_options(app, ignored);
    write_options(page, app);
    page.term("-h, --help", "help of the program or of a command");
    page.term("-V, --version", "version of the program and of ngspice");
    page.section("\"EXIT STATUS\"");
    page.paragraph(exit_statuses());
    page.section("FILES");
    page.term("~/.config/voltfall.toml",
              "settings: format = 1, tools = [\"meter 0.5%+2digits\"], columns = 80, color = \"auto\"; voltfall check "
              "looks at it");
    page.term("share/voltfall", "starters, lessons and the circuits that they work on");
    page.section("ENVIRONMENT");
    page.term("COLUMNS", "width of the page where the output is no terminal");
    page.term("NO_COLOR", "no colour where it is not empty");
    page.term("XDG_CONFIG_HOME", "folder of the settings");
    page.term("VOLTFALL_SIMULATOR_SECONDS",
              "limit of one call into the circuit simulator, 1 to 86400; 120 where it is not set");
    page.section("\"SEE ALSO\"");
    page.paragraph("voltfall-circuit(5), voltfall-job(5), voltfall-lesson(5), ngspice(1)");
    return {"voltfall", 1, page.take()};
}

void write_values(TroffPage& page) {
    page.section("VALUES");
    page.paragraph("A value carries its unit, a decimal comma is read. Units are: " +
                   fmt::format("{}", fmt::join(unit_words(), ", ")) + ".");
}

ManualPage circuit_page() {
    TroffPage page("voltfall-circuit", 5, "a circuit typed from a wiring diagram");
    page.section("DESCRIPTION");
    page.paragraph(
        "A TOML file of one line a part and one line a wire. [parts] gives each part its kind and values, [wires] each "
        "circuit "
        "number its ends, size, colour and length: \"from > to  size colour length\"; a chain of ends is cut into "
        "pieces. Other "
        "sections may be left out.");
    page.section("\"KINDS OF PART\"");
    for (const Kind& kind : kinds()) {
        std::string figures;
        for (const FigureBounds& row : kind.figures)
            figures += fmt::format("{}{} {}", figures.empty() ? "" : "; ", row.figure, row.range());
        page.term(kind.example, figures);
    }
    page.section("SECTIONS");
    page.paragraph(fmt::format("{}; all but parts and wires may be left out.",
                               fmt::join(words_of_sections(SectionOf::circuit), ", ")));
    write_values(page);
    page.section("EXAMPLE");
    if (const Starter* starter = find_starter("low-side-pack")) page.example(starter->text);
    page.section("\"SEE ALSO\"");
    page.paragraph("voltfall(1), voltfall-job(5)");
    return {"voltfall-circuit", 5, page.take()};
}

ManualPage job_page() {
    TroffPage page("voltfall-job", 5, "what was said, seen and measured at a vehicle");
    page.section("DESCRIPTION");
    page.paragraph(
        "A TOML file that names its circuit, a path from the job's folder, and keeps readings under [readings]: number "
        "= \"state  "
        "measurement  value\". A trailing ? marks a reading that is doubted. What a meter shows or has logged may be "
        "pasted: 12.34 V "
        "DC, OL, 2026-11-29,10:12:03,12.34,V,DC. [fitted] says what is new, [history] what was done before, [repaired] "
        "what was "
        "mended; [after] holds the readings after that.");
    page.section("EXAMPLE");
    page.example(
        "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak air on every speed\"\ntools   = [\"meter\", "
        "\"clamp 1%+0.3A\", "
        "\"lamp 21W\"]\n\n[readings]\n1 = \"key run, hi  M1.1 to B1-  10.3V\"\n2 = \"key run, hi  clamp 542  "
        "12.1A\"\n3 = \"lo,ml,mh  "
        "blower slow\"\n4 = \"unplug C303  R1.1 to R1.4  2.25ohm\"\n5 = \"fuse F7 good\"\n");
    write_values(page);
    page.section("\"SEE ALSO\"");
    page.paragraph("voltfall(1), voltfall-circuit(5)");
    return {"voltfall-job", 5, page.take()};
}

ManualPage lesson_page() {
    TroffPage page("voltfall-lesson", 5, "a hidden fault to find");
    page.section("DESCRIPTION");
    page.paragraph(
        "A TOML file that names its circuit and what hides in it. voltfall check tries it out: the tool works it, and "
        "every allowed "
        "action is asked for an answer. voltfall teach LESSON --seal -o FILE writes it with its answer not readable at "
        "a glance.");
    page.section("KEYS");
    page.term("circuit", "the circuit's file, a path from the lesson's folder");
    page.term("title, concern, goal", "what the learner reads");
    page.term("level", "1 feedback at once, 2 on wasted tests, 3 at the end");
    page.term("skill", fmt::format("one of {}", fmt::join(lesson_skills(), ", ")));
    page.term("fault, root", "what failed, and what made it fail");
    page.term("budget", "minutes that the work may take: \"25min\"");
    page.term("allow", fmt::format("some of {}", fmt::join(lesson_actions(), ", ")));
    page.term("traps, reason", "tests that mislead, and a sentence beside the computed reason");
    page.section("EXAMPLE");
    page.example(
        "format  = 1\ncircuit = \"cab-blower.toml\"\ntitle   = \"Only high works\"\nconcern = \"no air on the three "
        "lower "
        "settings\"\nlevel   = 1\nfault   = [\"R1 limiter open\"]\nroot    = [\"M1 drag 1.4\"]\nbudget  = \"25min\"\n");
    page.section("\"SEE ALSO\"");
    page.paragraph("voltfall(1), voltfall-circuit(5)");
    return {"voltfall-lesson", 5, page.take()};
}

}  // namespace

std::vector<ManualPage> manual_pages() {
    return {program_page(), circuit_page(), job_page(), lesson_page()};
}

}  // namespace voltfall
