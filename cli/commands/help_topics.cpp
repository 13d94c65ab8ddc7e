#include "cli/commands/help_topics.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/views/text_table.hpp"
#include "netlists/parts/kind_names.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/phrases/phrase_forms.hpp"

namespace voltfall {

namespace {

/// A long list of choices with a blank now and then, so that it may be broken there.
std::string spaced(const std::string& form) {
    constexpr std::size_t longest = 30;
    std::string text;
    std::size_t unbroken = 0;
    for (const char c : form) {
        text += c;
        unbroken = c == ' ' ? 0 : unbroken + 1;
        if (c != '|' || unbroken < longest) continue;
        text += ' ';
        unbroken = 0;
    }
    return text;
}

/// What may be typed, and what it tells.
struct HelpRow {
    std::string typed;
    std::string tells;
};

/// Two columns; on a narrow screen one below the other where that takes fewer lines.
void write_rows(TextPage& page, const std::vector<HelpRow>& rows, std::string_view typed_head,
                std::string_view tells_head) {
    constexpr int wide = 60;
    TextPage beside({page.style().width, page.style().colour});
    TextPage below({page.style().width, page.style().colour});
    TextTable table(
        {{std::string(typed_head), Align::left, Fold::words}, {std::string(tells_head), Align::left, Fold::words, 1}});
    for (const HelpRow& row : rows) {
        table.row({row.typed, row.tells});
        below.paragraph(row.typed + ": " + row.tells, 0, 2);
    }
    beside.table(table, 0);
    page.add(page.style().width >= wide || beside.lines() <= below.lines() ? beside : below);
}

std::vector<HelpRow> form_rows(std::span<const PhraseForm> forms, const Circuit* circuit) {
    std::vector<HelpRow> rows;
    for (const PhraseForm& form : forms) {
        const auto typed = circuit ? form_of_circuit(form, *circuit) : form_of_example(form);
        if (typed) rows.push_back({spaced(*typed), std::string(form.tells)});
    }
    return rows;
}

void write_forms(TextPage& page, std::string_view head, std::span<const PhraseForm> forms, const Circuit* circuit) {
    page.paragraph(head, 0, 0);
    write_rows(page, form_rows(forms, circuit), "", "");
    if (!circuit) page.paragraph("with the names of your own circuit: voltfall help TOPIC CIRCUIT", 0, 0, Tone::quiet);
}

void write_files(TextPage& page, const Circuit*) {
    page.paragraph("Three files, TOML, one line a thing; voltfall new lists circuits to start from.", 0, 0);
    TextTable table({{"in it", Align::left, Fold::words}, {"it says", Align::left, Fold::words}});
    table.row({"first lines", "format = 1, name, supply = \"24V\", colours = \"german\""});
    table.row({"[parts]", "NAME = \"kind values, options\"; kinds: " + [] {
                   std::string text;
                   for (const std::string& word : kind_words()) text += (text.empty() ? "" : " ") + word;
                   return text;
               }()});
    table.row({"[wires]", "NUMBER = \"from > to  size colour length\": 542 = \"C101.4 > M1.1 6mm2 RD 1.4m\""});
    table.row({"[plugs]", "the connector at a part: R1 = \"C303\""});
    table.row({"[controls]", "what a person sets: S1 = \"blower\""});
    table.row({"[limits]", "the maker's figures: hi.amps = \"18-21A @13.5V\""});
    table.row({"[reach] [strip]", "minutes there and back; one strip-down that opens several places"});
    table.row({"[care] [closed]", "what wears there: hot, rubs, moves, wet, rust; where a probe may not go"});
    table.row({"[together]", "replaced or checked together"});
    table.row({"a job", "circuit, concern, tools, [readings] 1 = \"hi  M1.1 to B1-  10.3V\", [repaired], [after]"});
    table.row({"a lesson", "circuit, title, concern, fault, root, level, budget"});
    table.row({"settings", "~/.config/voltfall.toml: tools, columns, color"});
    page.table(table, 0);
    page.paragraph("a value carries its unit: 40A 13.8V 8mohm 1.4m 2.5mm2 16AWG; ~1.4m is a guess", 0, 2, Tone::quiet);
}

/// A part as the kind's own example makes it.
Part part_of_example(const Kind& kind) {
    Problems unused;
    const Circuit nothing;
    const TypedText line = TypedText::argument("example", kind.example);
    WordReader words(line, unused);
    words.take();
    Part part;
    part.name = "X1";
    part.kind = &kind;
    PartReader reader(words, nothing, unused);
    kind.read(reader, part);
    reader.finish(part);
    return part;
}

std::string terminals_of(const Kind& kind) {
    switch (kind.joining) {
        case Joining::cavities:
            return "its cavities";
        case Joining::legs:
            return "any";
        case Joining::metal:
            return "one";
        case Joining::nothing:
            break;
    }
    return fmt::format("{}", fmt::join(kind.terminals(part_of_example(kind)), " "));
}

void write_parts(TextPage& page, const Circuit*) {
    page.paragraph("[parts] NAME = \"kind values, options\"; your own words stand behind a comma:", 0, 0);
    // Short lines of kinds with the same terminals share a row, so that all fit a screen.
    constexpr std::size_t longest = 56;
    std::vector<HelpRow> rows;
    for (const Kind& kind : kinds()) {
        const std::string terminals = terminals_of(kind);
        const auto same = std::find_if(rows.begin(), rows.end(), [&](const HelpRow& row) {
            return row.tells == terminals && row.typed.size() + 2 + kind.example.size() <= longest;
        });
        if (same == rows.end())
            rows.push_back({std::string(kind.example), terminals});
        else
            same->typed += "; " + std::string(kind.example);
    }
    write_rows(page, rows, "for example", "terminals");
    page.paragraph("one kind, its figures and what it is drawn with: voltfall help KIND", 0, 0, Tone::quiet);
}

struct Topic {
    std::string_view word;
    void (*write)(TextPage& page, const Circuit* circuit);
};

constexpr std::array<Topic, 5> topics{{
    {"parts", write_parts},
    {"readings",
     [](TextPage& page, const Circuit* circuit) {
         write_forms(page,
                     "A reading is the state (help states), then what was measured and its value:", reading_forms(),
                     circuit);
     }},
    {"states",
     [](TextPage& page, const Circuit* circuit) {
         write_forms(page, "A state is what was set, in words with commas between; nothing said is off:", state_forms(),
                     circuit);
     }},
    {"faults",
     [](TextPage& page, const Circuit* circuit) {
         write_forms(page, "A fault is PLACE MODE [SIZE] [at WHERE]; voltfall faults CIRCUIT lists all:", fault_forms(),
                     circuit);
         page.paragraph("the command that lists them: voltfall faults --help", 0, 0, Tone::quiet);
     }},
    {"files", write_files},
}};

}  // namespace

std::vector<std::string> help_topics() {
    std::vector<std::string> words;
    for (const Topic& topic : topics) words.emplace_back(topic.word);
    return words;
}

std::string topic_help(std::string_view topic, const Circuit* circuit, PageStyle style) {
    TextPage page(style);
    const auto found = std::find_if(topics.begin(), topics.end(), [&](const Topic& t) { return t.word == topic; });
    if (found != topics.end()) found->write(page, circuit);
    return page.text();
}

std::string kind_help(const Kind& kind, PageStyle style) {
    TextPage page(style);
    page.labelled("for example", "X1 = \"" + std::string(kind.example) + "\"", 0);
    page.labelled("terminals", terminals_of(kind), 0);
    if (!kind.terminal_aliases.empty()) page.labelled("also called", std::string(kind.terminal_aliases), 0);
    TextTable table({{"figure", Align::left, Fold::words}, {"from, to", Align::left, Fold::words}});
    for (const FigureBounds& row : kind.figures) table.row({std::string(row.figure), row.range()});
    if (!table.empty()) page.table(table, 0);
    if (const DrawnTogether drawn = drawn_together(kind); !drawn.lines.empty()) {
        page.paragraph(drawn.says, 0);
        for (const std::string_view line : drawn.lines) page.paragraph(line, 2, 2);
    }
    page.paragraph("figures that are not said have a default: voltfall show CIRCUIT --defaults", 0, 0, Tone::quiet);
    return page.text();
}

}  // namespace voltfall
