#include "netlists/parts/kind_names.hpp"

#include <algorithm>
#include <array>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Words people use (common practice) and the word of the kind.
struct TradeName {
    std::string_view said;
    std::string_view kind;
    std::string_view example{};  ///< where the kind's own does not fit
};
constexpr std::string_view moved_by_heat = "contact closes 92C, opens 87C";
constexpr std::string_view at_rest_open = "contact normally open";
// Names of two words stand before those of one.
constexpr TradeName trade_names[]{
    {"pressure switch", "contact"},
    {"temperature switch", "contact", moved_by_heat},
    {"ambient switch", "contact", moved_by_heat},
    {"temp switch", "contact", moved_by_heat},
    {"thermo switch", "contact", moved_by_heat},
    {"thermal switch", "contact", moved_by_heat},
    {"thermostatic switch", "contact", moved_by_heat},
    {"thermo contact", "contact", moved_by_heat},
    {"limit switch", "contact", at_rest_open},
    {"float switch", "contact", at_rest_open},
    {"level switch", "contact", at_rest_open},
    {"door switch", "contact", at_rest_open},
    {"foot switch", "contact", at_rest_open},
    {"foot button", "contact", at_rest_open},
    {"push button", "contact", at_rest_open},
    {"push switch", "contact", at_rest_open},
    {"momentary switch", "contact", at_rest_open},
    {"resistor pack", "pack"},
    {"blower resistor", "pack"},
    {"fusible link", "link"},
    {"fuse link", "link"},
    {"circuit breaker", "breaker"},
    {"control panel", "head"},
    {"control unit", "head"},
    {"control head", "head"},
    {"ignition switch", "key"},
    {"key switch", "key"},
    {"power module", "module"},
    {"speed controller", "module"},
    {"solid state", "solid-relay"},
    {"blower", "motor"},
    {"fan", "motor"},
    {"panel", "head"},
    {"ecu", "head"},
    {"ballast", "resistor"},
    {"resistor", "pack"},
    {"thermostat", "contact", moved_by_heat},
    {"thermoswitch", "contact", moved_by_heat},
    {"thermo-switch", "contact", moved_by_heat},
    {"pressostat", "contact"},
    {"thermistor", "sensor"},
    {"ntc", "sensor"},
    {"sender", "sensor"},
    {"bulb", "lamp"},
    {"light", "lamp"},
    {"compressor", "clutch"},
    {"solenoid", "clutch"},
    {"coil", "clutch"},
    {"plug", "connector"},
    {"joint", "splice"},
    {"earth", "ground"},
    {"chassis", "ground"},
    {"stud", "ground"},
    {"potentiometer", "pot"},
    {"controller", "module"},
    {"regulator", "module"},
    {"ssr", "solid-relay"},
    {"heater", "resistor"},
    {"element", "resistor"},
    {"pump", "motor"},
    {"button", "contact", at_rest_open},
    {"pushbutton", "contact", at_rest_open},
    {"knob", "switch"},
    {"ignition", "key"},
};

/// Words of a kind's line that its example does not show.
constexpr std::array<TradeName, 6> own_words{{{"pwm", "module"},
                                              {"mini", "fuse"},
                                              {"regular", "fuse"},
                                              {"cartridge", "fuse"},
                                              {"glass", "fuse"},
                                              {"manual", "breaker"}}};

bool is_own_word(const Kind& kind, std::string_view word) {
    return std::any_of(own_words.begin(), own_words.end(),
                       [&](const TradeName& row) { return same_word(row.said, word) && find_kind(row.kind) == &kind; });
}

/// Does the line begin with these words?
bool begins_with(std::span<const Word> line, std::string_view said) {
    std::size_t at = 0;
    while (!said.empty()) {
        const auto blank = said.find(' ');
        if (at >= line.size()) return false;
        std::string_view word = line[at].text;
        if (word.size() > 1 && word.back() == ':') word.remove_suffix(1);
        if (!same_word(word, said.substr(0, blank))) return false;
        ++at;
        said = blank == std::string_view::npos ? std::string_view{} : said.substr(blank + 1);
    }
    return true;
}

std::string as_typed(std::span<const Word> line) {
    std::string text;
    for (const Word& word : line) {
        if (!text.empty()) text += word.after_comma ? ", " : " ";
        text += word.quoted ? "\"" + word.text + "\"" : word.text;
    }
    return text;
}

bool has_word(std::string_view text, std::string_view word) {
    Problems unused;
    const auto words = cut_words(TypedText::argument("", text), unused);
    return std::any_of(words.begin(), words.end(), [&](const Word& w) { return same_word(w.text, word); });
}

}  // namespace

DrawnTogether drawn_together(const Kind& kind) {
    // A panel measures a sensor behind a resistor of its own at a regulated supply.
    static constexpr std::array<std::string_view, 6> sensor{"V5 = \"source 5V, limit 50mA, in the panel\"",
                                                            "R5 = \"resistor 2.2kohm, in the panel\"",
                                                            "T1 = \"sensor 2.2kohm at 25C\"",
                                                            "51 = \"V5.OUT > R5.1 0.5mm2 0.1m\"",
                                                            "52 = \"R5.2 > T1.1 0.5mm2 2m\"",
                                                            "53 = \"T1.2 > V5.- 0.5mm2 2m\""};
    static constexpr std::array<std::string_view, 3> command{
        "A1 = \"head OUT: off=0V lo=2.1V hi=6.9V\"",
        "Z1 = \"module linear, side low, command 0.5V-7V, open command off\"", "31 = \"A1.OUT > Z1.CMD 0.5mm2 1m\""};
    if (&kind == find_kind("sensor") || &kind == find_kind("source"))
        return {"at a control panel, which reads the volts at T1.1; what it has inside is drawn as parts", sensor};
    if (&kind == find_kind("head") || &kind == find_kind("module"))
        return {"a panel commands a module in the unit that the module reads; a sensor of it: voltfall help sensor",
                command};
    return {};
}

KindInTrade kind_in_trade(std::span<const Word> line) {
    const auto row = std::find_if(std::begin(trade_names), std::end(trade_names),
                                  [&](const TradeName& name) { return begins_with(line, name.said); });
    if (row == std::end(trade_names)) return {};
    return {find_kind(row->kind), row->said.find(' ') == std::string_view::npos ? std::size_t{1} : std::size_t{2}};
}

std::string kind_advice(std::span<const Word> line) {
    if (line.empty()) return {};
    const auto name_at = [&](std::size_t at) {
        const auto row = std::find_if(std::begin(trade_names), std::end(trade_names),
                                      [&](const TradeName& name) { return begins_with(line.subspan(at), name.said); });
        return row == std::end(trade_names) ? nullptr : row;
    };
    const TradeName* named = name_at(0);
    const Kind* called = named ? find_kind(named->kind) : nullptr;
    const bool two_words = called && named->said.find(' ') != std::string_view::npos;
    // `blower motor 22A`, `linear module, side low`: the kind stands further back, before the first comma.
    for (std::size_t at = 1; !two_words && at < line.size() && !line[at].after_comma; ++at) {
        const Kind* kind = line[at].quoted ? nullptr : find_kind(line[at].text);
        if (!kind) continue;
        const std::string front = as_typed(line.first(at));
        const bool known = has_word(kind->example, line.front().text) || is_own_word(*kind, line.front().text);
        std::string text(kind->word);
        if (known) text += " " + front;
        if (at + 1 < line.size()) text += (line[at + 1].after_comma ? ", " : " ") + as_typed(line.subspan(at + 1));
        if (!known) text += ", " + front;
        return "the kind stands first: " + text;
    }
    // `seat heater 4ohm`: what the thing is stands behind what it is for.
    for (std::size_t at = 1; !named && at < line.size() && !line[at].after_comma && !line[at].measure; ++at)
        named = name_at(at);
    if (!named) return {};
    const Kind* kind = find_kind(named->kind);
    return "its kind is called " + std::string(kind->word) + ", for example " +
           std::string(named->example.empty() ? kind->example : named->example);
}

}  // namespace voltfall
