#include "netlists/files/tools_line.hpp"

#include <algorithm>
#include <array>

#include "netlists/tables/defaults.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A kind of instrument and where its figures stand when nothing is typed.
struct ToolKind {
    std::string_view name;
    std::string_view accuracy_row;  ///< `0.8%+3digits`, or empty
    std::string_view watts_row;     ///< or empty
    std::string_view example;
};

constexpr std::array<ToolKind, 4> tool_kinds{{{"meter", "meter_volts", "", "meter 0.5%+2digits"},
                                              {"clamp", "clamp_amps", "", "clamp 1%+0.3A"},
                                              {"lamp", "", "test_lamp_watts", "lamp 21W"},
                                              {"load", "", "", "load 55W"}}};

const ToolKind* kind_named(std::string_view name) {
    for (const ToolKind& kind : tool_kinds) {
        if (same_word(kind.name, name)) return &kind;
    }
    return nullptr;
}

/// What is wrong with a piece of a tool's figures; empty messages say that it is none of its figures.
using PieceFault = std::optional<OutOfBounds>;
const OutOfBounds no_figure{};

PieceFault held(std::string_view figure, const Measure& measure, std::string_view typed, std::string_view example) {
    return outside_bounds(figure_bounds("tool", figure, measure.unit), measure.value, typed, example);
}

PieceFault read_digits(std::string_view piece, std::string_view number, Tool& tool, std::string_view example) {
    const auto count = parse_measure(number);
    if (!count || count->unit != Unit::none) return no_figure;
    tool.digits = count->value;
    return held("digits", *count, piece, example);
}

/// A lamp and a load have watts, a meter and a clamp an accuracy.
PieceFault read_piece(std::string_view piece, Tool& tool, std::string_view example) {
    const bool burns = tool.name == "lamp" || tool.name == "load";
    for (const std::string_view ending : {"digits", "digit", "dgt"}) {
        if (burns || !piece.ends_with(ending)) continue;
        return read_digits(piece, piece.substr(0, piece.size() - ending.size()), tool, example);
    }
    const auto measure = parse_measure(piece);
    if (!measure) return no_figure;
    if (burns && measure->unit == Unit::watt) {
        tool.watts = measure->value;
        return held("watts", *measure, piece, example);
    }
    if (!burns && measure->unit == Unit::percent) {
        tool.relative = measure->value;
        return held("accuracy", *measure, piece, example);
    }
    const Unit own = tool.name == "clamp" ? Unit::ampere : Unit::volt;
    if (burns || measure->unit != own) return no_figure;
    tool.absolute = measure->value;
    return held("offset", *measure, piece, example);
}

/// `0.5%+2digits`: pieces joined by `+`, none of them empty.
PieceFault read_figures(std::string_view text, Tool& tool, std::string_view example) {
    while (true) {
        const auto plus = text.find('+');
        if (auto fault = read_piece(text.substr(0, plus), tool, example)) return fault;
        if (plus == std::string_view::npos) return std::nullopt;
        text.remove_prefix(plus + 1);
    }
}

/// Did a word give anew what was given already? A tool with figures begins without any.
bool says_again(const Tool& before, const Tool& now) {
    const auto again = [](double then, double value) { return then > 0 && value != then; };
    return again(before.watts, now.watts) || again(before.relative, now.relative) ||
           again(before.absolute, now.absolute) || again(before.digits, now.digits);
}

Tool usual_tool(const ToolKind& kind) {
    Tool tool{std::string(kind.name)};
    if (!kind.accuracy_row.empty()) read_figures(default_row(kind.accuracy_row).text, tool, kind.example);
    if (!kind.watts_row.empty()) tool.watts = default_value(kind.watts_row);
    return tool;
}

std::vector<std::string> tool_names() {
    std::vector<std::string> names;
    for (const ToolKind& kind : tool_kinds) names.emplace_back(kind.name);
    return names;
}

}  // namespace

std::vector<Tool> usual_tools() {
    return {usual_tool(tool_kinds[0]), usual_tool(tool_kinds[1]), usual_tool(tool_kinds[2])};
}

std::vector<TypedText> tools_between_commas(const TypedText& text) {
    std::vector<TypedText> tools;
    for (std::size_t from = 0; from <= text.text.size();) {
        const std::size_t comma = std::min(text.text.find(',', from), text.text.size());
        const std::string piece = text.text.substr(from, comma - from);
        tools.push_back({piece, text.place.shifted(character_count(text.text.substr(0, from)),
                                                   std::max(1, character_count(piece)))});
        from = comma + 1;
    }
    return tools;
}

std::optional<Tool> read_tool(const TypedText& text, Problems& problems) {
    WordReader words(text, problems);
    if (words.at_end()) {
        problems.error(ProblemCode::empty_phrase, text.place, "the tool is empty",
                       "for example meter, clamp 1%+0.3A, lamp 21W or load 55W");
        return std::nullopt;
    }
    const Word& name = words.take();
    const ToolKind* kind = kind_named(name.text);
    if (!kind) {
        const auto advice = did_you_mean(name.text, tool_names());
        problems.error(ProblemCode::unknown_tool, words.place(&name), "no tool is called '" + name.text + "'",
                       advice.empty() ? "tools are meter, clamp, lamp and load" : advice);
        return std::nullopt;
    }
    Tool tool = usual_tool(*kind);
    if (!words.at_end()) tool.relative = tool.absolute = tool.digits = tool.watts = 0;
    while (!words.at_end()) {
        const Word& figure = words.take();
        const Tool before = tool;
        auto fault = read_figures(figure.text, tool, kind->example);
        if (!fault && says_again(before, tool))
            fault = {"'" + figure.text + "' is a second figure of the " + tool.name,
                     "name each " + tool.name + " by itself: \"" + std::string(kind->example) + "\""};
        if (!fault) continue;
        if (fault->message.empty())
            fault = {"'" + figure.text + "' is no figure of a " + tool.name,
                     "for example " + std::string(kind->example)};
        problems.error(ProblemCode::figure_out_of_range, words.place(&figure), fault->message, fault->suggestion);
        return std::nullopt;
    }
    if (same_word(kind->name, "load") && tool.watts <= 0) {
        problems.error(ProblemCode::missing_figure, text.place, "the watts of the load are missing",
                       "for example load 55W");
        return std::nullopt;
    }
    return tool;
}

void add_tool(std::vector<Tool>& tools, const TypedText& text, Problems& problems) {
    auto tool = read_tool(text, problems);
    if (!tool) return;
    const bool twice = std::any_of(tools.begin(), tools.end(), [&](const Tool& other) {
        return same_word(other.name, tool->name) && other.watts == tool->watts && other.relative == tool->relative &&
               other.absolute == tool->absolute && other.digits == tool->digits;
    });
    if (twice)
        return problems.error(ProblemCode::written_twice, text.place, "the tool '" + text.text + "' stands twice",
                              "name each tool once");
    tools.push_back(*std::move(tool));
}

}  // namespace voltfall
