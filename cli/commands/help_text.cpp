#include "cli/commands/help_text.hpp"

#include <fmt/format.h>

#include "cli/commands/options.hpp"
#include "cli/views/text_table.hpp"
#include "engine/solve/transient.hpp"

namespace voltfall {

namespace {

constexpr std::string_view program_examples =
    "voltfall check cab-blower.toml\n"
    "voltfall whatif cab-blower.toml --fault \"R1 limiter open\"\n"
    "voltfall match weak-air.job.toml\n"
    "voltfall next weak-air.job.toml";

constexpr std::string_view purpose =
    "Where do the volts fall? A circuit typed from a wiring diagram, healthy and with any fault; which faults fit what "
    "was measured; what to measure next.";

void write_examples(TextPage& page, std::string_view examples) {
    page.line("Examples");
    std::size_t at = 0;
    while (at < examples.size()) {
        const std::size_t end = std::min(examples.find('\n', at), examples.size());
        page.paragraph(examples.substr(at, end - at), 2, 4);
        at = end + 1;
    }
}

void write_commands(TextPage& page) {
    TextTable table({{""}, {"", Align::left, Fold::words}});
    for (const Command* command : commands()) table.row({std::string(command->word), std::string(command->summary)});
    page.table(table);
}

TextTable options_table(const CLI::App& app) {
    TextTable table({{""}, {"", Align::left, Fold::words}});
    for (const CLI::Option* option : app.get_options()) table.row({option_words(*option), option->get_description()});
    return table;
}

void write_global_options(TextPage& page) {
    CLI::App app;
    app.set_help_flag();
    GlobalOptions ignored;
    declare_global_options(app, ignored);
    TextTable table = options_table(app);
    table.row({"-h, --help", "this text"});
    table.row({"-V, --version", "version of the program and of ngspice"});
    page.line("Options of every command");
    page.table(table);
}

/// "--format FORMAT, --color WHEN, …", in one paragraph.
std::string global_option_list() {
    CLI::App app;
    app.set_help_flag();
    GlobalOptions ignored;
    declare_global_options(app, ignored);
    std::string text;
    for (const CLI::Option* option : app.get_options()) text += (text.empty() ? "" : ", ") + option_words(*option);
    return text;
}

void write_statuses(TextPage& page) {
    page.line("Exit status");
    page.paragraph(exit_statuses(), 2, 0);
}

}  // namespace

std::string_view program_purpose() {
    return purpose;
}

std::string_view exit_statuses() {
    return "0 done, or yes; 1 the answer is no; 2 wrong usage; 3 a file has errors; 4 cannot be computed; 70 a bug of "
           "ours; 130 interrupted";
}

std::string option_words(const CLI::Option& option) {
    std::string name = option.get_name(option.get_positional(), true);
    if (option.get_positional()) return name;
    if (const std::size_t comma = name.find(','); comma != std::string::npos) name.insert(comma + 1, " ");
    // The words that an option takes stand behind a colon; they are in its description already.
    const std::string type = option.get_type_name();
    const std::string value = type.substr(0, type.find(':'));
    return value.empty() ? name : name + " " + value;
}

std::string short_help(int width) {
    TextPage page({width});
    page.paragraph(purpose, 0, 0);
    page.gap();
    write_examples(page, program_examples);
    page.gap();
    page.line("Commands");
    write_commands(page);
    page.gap();
    page.paragraph(
        "voltfall --help shows the options, voltfall COMMAND --help a command, voltfall help readings what may be "
        "typed.",
        0, 0);
    return page.text();
}

std::string program_help(int width) {
    TextPage page({width});
    page.paragraph(purpose, 0, 0);
    page.gap();
    write_examples(page, program_examples);
    page.gap();
    page.line("Usage: voltfall COMMAND FILE... [options]");
    page.gap();
    page.line("Commands");
    write_commands(page);
    page.gap();
    write_global_options(page);
    page.gap();
    write_statuses(page);
    return page.text();
}

std::string command_help(const Command& command, int width) {
    CLI::App app;
    app.set_help_flag();
    const CommandWork ignored = command.declare(app);  // holds what the options are read into
    TextPage page({width});
    write_examples(page, command.examples);
    page.gap();
    page.paragraph(fmt::format("Usage: voltfall {} {}", command.word, command.usage), 0, 4);
    page.gap();
    page.paragraph(command.summary, 0, 0);
    page.gap();
    page.line("Options");
    page.table(options_table(app));
    page.paragraph("also " + global_option_list() + "; voltfall --help tells them and the exit status", 2, 0);
    return page.text();
}

std::string version_text(const TransientSimulator& simulator) {
    return fmt::format("voltfall {}\n{}\n", VOLTFALL_VERSION, simulator.version());
}

}  // namespace voltfall
