#include "netlists/phrases/owned_names.hpp"

#include <algorithm>
#include <array>
#include <span>
#include <string>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/kind_names.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/only_part.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

constexpr std::array<std::string_view, 3> plug_words{"plug", "connector", "conn"};
constexpr std::array<std::string_view, 5> relay_pins{"30", "85", "86", "87", "87a"};
constexpr std::array<std::string_view, 4> of_words{"of", "at", "on", "for"};
constexpr std::array<std::string_view, 14> before_a_pin{"at",       "on",      "to",      "from",  "pin",
                                                        "terminal", "term",    "in",      "and",   "jumped",
                                                        "jumpered", "bridged", "jumping", "linked"};
constexpr std::array<std::string_view, 7> behind_a_pin{"has", "live", "dead", "hot", "gets", "no", "is"};

template <std::size_t count>
bool among(const std::array<std::string_view, count>& list, const Words& words, std::size_t at) {
    return at < words.size() && words[at].is_among(list);
}

void put(Words& words, std::size_t at, std::size_t count, std::string name) {
    words[at].text = std::move(name);
    words[at].measure.reset();
    words.erase(words.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                words.begin() + static_cast<std::ptrdiff_t>(at + count));
}

/// The part that the words at `at` name, by its name or as the only one of its kind, and how many words say it.
struct Said {
    PartId part;
    std::size_t words{1};
};
Said part_at(const Circuit& circuit, const Words& words, std::size_t at) {
    if (at >= words.size() || words[at].quoted) return {};
    if (const PartId part = circuit.find_part(words[at].text); part.valid()) return {part};
    const KindInTrade trade = kind_in_trade(std::span<const Word>(words).subspan(at));
    constexpr std::size_t two = 2;
    if (trade.words == two) return {only_of_kind(circuit, *trade.kind), two};
    if (is_load_word(circuit, words[at].text)) {
        const bool again = at + 1 < words.size() && is_load_word(circuit, words[at + 1].text);
        return {find_load(circuit, words[at].text).part, again ? two : 1};
    }
    if (const Kind* kind = find_kind(lower(words[at].text))) {
        if (const PartId part = only_of_kind(circuit, *kind); part.valid()) return {part};
    }
    return trade.kind ? Said{only_of_kind(circuit, *trade.kind)} : Said{};
}

/// `blower plug`, `resistor connector`, `plug at the motor`.
void name_plug(const Circuit& circuit, Words& words, std::size_t at) {
    const bool leads = among(plug_words, words, at) && among(of_words, words, at + 1);
    const std::size_t start = leads ? at + 2 : at;
    const Said said = part_at(circuit, words, start);
    if (!said.part.valid() || circuit.part(said.part).plug.empty()) return;
    const std::size_t behind = start + said.words;
    if (!leads && !among(plug_words, words, behind)) return;
    // `resistor plug C303` says its name itself.
    if (!leads && behind + 1 < words.size() && find_connector(circuit, words[behind + 1].text)) return;
    put(words, at, behind + (leads ? 0 : 1) - at, circuit.part(said.part).plug);
}

/// `K9 85`, `C210 A`: a pin stands behind its part; as the last word a number would be a value.
bool name_pin_behind(const Circuit& circuit, Words& words, std::size_t at) {
    if (at + 1 >= words.size() || words[at].quoted || words[at + 1].quoted || words[at + 1].after_comma) return false;
    PartId part = circuit.find_part(words[at].text);
    const Word& pin = words[at + 1];
    // `relay 87`, where no relay is numbered so.
    if (same_word(words[at].text, "relay") && pin.is_among(relay_pins)) part = only_relay(circuit);
    const bool relay = part.valid() && circuit.part(part).relay.has_value();
    if (!relay && !find_connector(circuit, words[at].text)) return false;
    const bool last = at + 2 >= words.size();
    if (last && !(relay && pin.is_among(relay_pins))) return false;
    const bool leads_on = !last && (same_word(words[at + 2].text, "to") || same_word(words[at + 2].text, "and"));
    const std::string name = (relay ? circuit.part(part).name : words[at].text) + "." + pin.text;
    if (leads_on || (pin.measure && pin.measure->unit != Unit::none) || joints_named(circuit, name).empty())
        return false;
    put(words, at, 2, name);
    return true;
}

/// `no 12V on 87`, `86 has 12V`: a pin of the only relay, where nothing else is called so.
void name_relay_pin(const Circuit& circuit, Words& words, std::size_t at) {
    if (!words[at].is_among(relay_pins) || find_place(circuit, words[at].text)) return;
    bool exact = false;
    if (!position_meanings(circuit, words[at].text, exact).empty()) return;
    const bool led = at > 0 && among(before_a_pin, words, at - 1);
    const bool begins = (at == 0 || words[at].after_comma) &&
                        (among(behind_a_pin, words, at + 1) ||
                         (at + 1 < words.size() && words[at + 1].measure && words[at + 1].measure->unit == Unit::volt));
    if (!led && !begins) return;
    const PartId relay = only_relay(circuit);
    if (!relay.valid() || circuit.part(relay).pins.find(words[at].text) == circuit.part(relay).pins.end()) return;
    put(words, at, 1, circuit.part(relay).name + "." + words[at].text);
}

}  // namespace

void name_plugs(const Circuit& circuit, std::vector<Word>& words) {
    for (std::size_t at = 0; at < words.size(); ++at) {
        if (!words[at].quoted) name_plug(circuit, words, at);
    }
}

void name_pins(const Circuit& circuit, std::vector<Word>& words, std::size_t at) {
    if (!words[at].quoted && !name_pin_behind(circuit, words, at)) name_relay_pin(circuit, words, at);
}

}  // namespace voltfall
