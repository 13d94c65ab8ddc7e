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
};
// Names of two words stand before those of one.
constexpr std::array<TradeName, 44> trade_names{{
    {"pressure switch", "contact"},
    {"temperature switch", "contact"},
    {"ambient switch", "contact"},
    {"limit switch", "contact"},
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
    {"thermostat", "contact"},
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
    {"button", "switch"},
    {"knob", "switch"},
    {"ignition", "key"},
}};

/// Does the line begin with these words?
bool begins_with(std::span<const Word> line, std::string_view said) {
    std::size_t at = 0;
    while (!said.empty()) {
        const auto blank = said.find(' ');
        if (at >= line.size() || !same_word(line[at].text, said.substr(0, blank))) return false;
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

std::string kind_advice(std::span<const Word> line) {
    if (line.empty()) return {};
    const auto named = std::find_if(trade_names.begin(), trade_names.end(),
                                    [&](const TradeName& name) { return begins_with(line, name.said); });
    const Kind* called = named == trade_names.end() ? nullptr : find_kind(named->kind);
    const bool two_words = called && named->said.find(' ') != std::string_view::npos;
    // `blower motor 22A`, `linear module, side low`: the kind stands further back, before the first comma.
    for (std::size_t at = 1; !two_words && at < line.size() && !line[at].after_comma; ++at) {
        const Kind* kind = line[at].quoted ? nullptr : find_kind(line[at].text);
        if (!kind) continue;
        const std::string front = as_typed(line.first(at));
        const bool known = has_word(kind->example, line.front().text);
        std::string text(kind->word);
        if (known) text += " " + front;
        if (at + 1 < line.size()) text += (line[at + 1].after_comma ? ", " : " ") + as_typed(line.subspan(at + 1));
        if (!known) text += ", " + front;
        return "the kind stands first: " + text;
    }
    if (!called) return {};
    return "its kind is called " + std::string(called->word) + ", for example " + std::string(called->example);
}

}  // namespace voltfall
