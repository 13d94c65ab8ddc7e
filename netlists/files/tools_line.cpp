#include "netlists/files/tools_line.hpp"

#include <array>

#include "netlists/tables/defaults.hpp"
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

bool read_digits(std::string_view piece, Tool& tool) {
    for (const std::string_view ending : {"digits", "digit", "dgt"}) {
        if (!piece.ends_with(ending)) continue;
        const auto count = parse_measure(piece.substr(0, piece.size() - ending.size()));
        if (!count || count->unit != Unit::none || count->value < 0) return false;
        tool.digits = count->value;
        return true;
    }
    return false;
}

/// A lamp and a load have watts, a meter and a clamp an accuracy.
bool read_piece(std::string_view piece, Tool& tool) {
    const bool burns = tool.name == "lamp" || tool.name == "load";
    const auto measure = parse_measure(piece);
    if (burns) {
        if (!measure || measure->unit != Unit::watt || measure->value <= 0) return false;
        tool.watts = measure->value;
        return true;
    }
    if (read_digits(piece, tool)) return true;
    if (!measure || measure->value < 0) return false;
    if (measure->unit == Unit::percent) {
        tool.relative = measure->value;
        return true;
    }
    const Unit own = tool.name == "clamp" ? Unit::ampere : Unit::volt;
    if (measure->unit != own) return false;
    tool.absolute = measure->value;
    return true;
}

/// `0.5%+2digits`: pieces joined by `+`.
bool read_figures(std::string_view text, Tool& tool) {
    while (!text.empty()) {
        const auto plus = text.find('+');
        if (!read_piece(text.substr(0, plus), tool)) return false;
        text = plus == std::string_view::npos ? std::string_view{} : text.substr(plus + 1);
    }
    return true;
}

Tool usual_tool(const ToolKind& kind) {
    Tool tool{std::string(kind.name)};
    if (!kind.accuracy_row.empty()) read_figures(default_row(kind.accuracy_row).text, tool);
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

std::optional<Tool> read_tool(const TypedText& text, Problems& problems) {
    WordReader words(text, problems);
    if (words.at_end()) {
        problems.error(text.place, "the tool is empty", "for example meter, clamp 1%+0.3A, lamp 21W or load 55W");
        return std::nullopt;
    }
    const Word& name = words.take();
    const ToolKind* kind = kind_named(name.text);
    if (!kind) {
        const auto advice = did_you_mean(name.text, tool_names());
        problems.error(words.place(&name), "no tool is called '" + name.text + "'",
                       advice.empty() ? "tools are meter, clamp, lamp and load" : advice);
        return std::nullopt;
    }
    Tool tool = usual_tool(*kind);
    if (!words.at_end()) tool.relative = tool.absolute = tool.digits = 0;
    while (!words.at_end()) {
        const Word& figure = words.take();
        if (read_figures(figure.text, tool)) continue;
        problems.error(words.place(&figure), "'" + figure.text + "' is no figure of a " + tool.name,
                       "for example " + std::string(kind->example));
        return std::nullopt;
    }
    if (same_word(kind->name, "load") && tool.watts <= 0) {
        problems.error(text.place, "the watts of the load are missing", "for example load 55W");
        return std::nullopt;
    }
    return tool;
}

}  // namespace voltfall
