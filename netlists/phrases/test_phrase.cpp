#include "netlists/phrases/test_phrase.hpp"

#include <array>
#include <utility>

#include "netlists/phrases/places.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// What the word of an instrument takes as a value, so that the rest of the phrase is read as any reading.
constexpr std::array<std::pair<std::string_view, std::string_view>, 12> values_of_words{{{"look", "clean"},
                                                                                         {"fuse", "good"},
                                                                                         {"breaker", "good"},
                                                                                         {"link", "good"},
                                                                                         {"lamp", "dark"},
                                                                                         {"beep", "yes"},
                                                                                         {"relay", "silent"},
                                                                                         {"clamp", "1.0A"},
                                                                                         {"amps", "1.0A"},
                                                                                         {"ohms", "1.0ohm"},
                                                                                         {"drop", "1.0V"},
                                                                                         {"volts", "1.0V"}}};

/// Where a word stands in the phrase, whole and in small letters.
std::size_t find_word(std::string_view text, std::string_view word) {
    const auto is_edge = [](char c) { return c == ' ' || c == ',' || c == '\t'; };
    for (std::size_t at = text.find(word); at != std::string_view::npos; at = text.find(word, at + 1)) {
        const bool starts = at == 0 || is_edge(text[at - 1]);
        const std::size_t end = at + word.size();
        if (starts && (end == text.size() || is_edge(text[end]))) return at;
    }
    return std::string_view::npos;
}

std::string first_word(std::string_view text) {
    const auto begin = text.find_first_not_of(" \t,");
    if (begin == std::string_view::npos) return {};
    return std::string(text.substr(begin, text.find_first_of(" \t,", begin) - begin));
}

/// The bench's word replaced by what readings write, and the value to put behind.
struct Asked {
    std::string text;
    std::string value;  ///< empty: not told by a word
};

Asked with_reading_words(const std::string& text, const Circuit& circuit) {
    for (const auto& [word, value] : values_of_words) {
        const std::size_t at = find_word(text, word);
        if (at == std::string_view::npos) continue;
        Asked asked{text, std::string(value)};
        const std::string behind = text.substr(at + word.size());
        // `lamp in F7` is a state.
        if (word == "lamp" && same_word(first_word(behind), "in") &&
            find_word(std::string_view(behind), "lamp") == std::string_view::npos)
            continue;
        const bool two_points = find_word(behind, "to") != std::string_view::npos;
        const bool one_point = two_points || !joints_named(circuit, first_word(behind)).empty();
        if (word == "amps") asked.text.replace(at, word.size(), "clamp");
        if (word == "volts" || word == "ohms" || word == "drop") {
            const bool across = find_word(behind, "across") == std::string_view::npos && !one_point;
            const bool drop_of_cavity = word == "drop" && !two_points;
            asked.text.replace(at, word.size(), across || drop_of_cavity ? "across" : "");
        }
        return asked;
    }
    return {text, {}};
}

TypedText with_value(const TypedText& phrase, const std::string& text, std::string_view value) {
    return {text + "  " + std::string(value), phrase.place};
}

/// A fuse or relay named alone, or behind a state, is looked at or listened to.
std::string of_part_alone(const std::string& text, const Circuit& circuit) {
    const auto end = text.find_last_not_of(" \t");
    if (end == std::string::npos || find_word(text, "to") != std::string::npos) return {};
    const auto before = text.find_last_of(" \t,", end);
    const std::size_t begin = before == std::string::npos ? 0 : before + 1;
    const PartId id = circuit.find_part(text.substr(begin, end + 1 - begin));
    if (!id.valid()) return {};
    const Part& part = circuit.part(id);
    const std::string state = text.substr(0, begin);
    if (part.fuse) return state + "fuse " + part.name + "  good";
    if (part.relay) return state + "relay " + part.name + "  silent";
    return {};
}

const std::string& joint_name(const Circuit& circuit, const Point& point) {
    return point.joints.empty() ? point.text : circuit.joint(point.joints.front()).name;
}

std::string two_points(const Circuit& circuit, const Point& red, const Point& black) {
    return joint_name(circuit, red) + " to " + joint_name(circuit, black);
}

}  // namespace

std::optional<Reading> read_test_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const Asked asked = with_reading_words(phrase.text, circuit);
    const auto read = [&](std::string_view value, Problems& into) {
        return read_reading_phrase(with_value(phrase, asked.text, value), "test", circuit, into);
    };
    if (!asked.value.empty()) return read(asked.value, problems);
    Problems unused;
    if (const std::string alone = of_part_alone(asked.text, circuit); !alone.empty()) {
        if (auto found = read_reading_phrase({alone, phrase.place}, "test", circuit, unused)) return found;
    }
    for (const std::string_view value : {"1.0V", "normal"}) {
        Problems own;
        if (auto found = read(value, own)) return found;
    }
    return read("1.0V", problems);
}

bool is_bench_test(const Measurement& m) {
    return std::holds_alternative<VoltsReading>(m) || std::holds_alternative<OhmsReading>(m) ||
           std::holds_alternative<AmpsReading>(m) || std::holds_alternative<LampReading>(m) ||
           std::holds_alternative<BeepReading>(m) || std::holds_alternative<LoadReading>(m) ||
           std::holds_alternative<RelayReading>(m) || std::holds_alternative<FuseReading>(m) ||
           std::holds_alternative<LookReading>(m);
}

std::string write_test(const Circuit& circuit, const Measurement& m) {
    if (const auto* volts = std::get_if<VoltsReading>(&m)) return two_points(circuit, volts->red, volts->black);
    if (const auto* ohms = std::get_if<OhmsReading>(&m)) return two_points(circuit, ohms->red, ohms->black);
    if (const auto* lamp = std::get_if<LampReading>(&m)) return "lamp " + two_points(circuit, lamp->red, lamp->black);
    if (const auto* beep = std::get_if<BeepReading>(&m)) return "beep " + two_points(circuit, beep->red, beep->black);
    if (const auto* amps = std::get_if<AmpsReading>(&m)) return "clamp " + circuit.wire(amps->wire).name;
    if (const auto* load = std::get_if<LoadReading>(&m)) return circuit.part(load->part).name;
    if (const auto* relay = std::get_if<RelayReading>(&m)) return "relay " + circuit.part(relay->part).name;
    if (const auto* fuse = std::get_if<FuseReading>(&m)) return "fuse " + circuit.part(fuse->part).name;
    if (const auto* look = std::get_if<LookReading>(&m)) return "look " + look->place;
    return {};
}

}  // namespace voltfall
