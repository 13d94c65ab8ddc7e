#include "netlists/phrases/told_points.hpp"

#include <algorithm>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

constexpr std::string_view told_pins[]{"pin", "terminal", "term", "cavity", "cav"};
constexpr std::string_view leads_to_pins[]{"at", "on", "in"};
constexpr std::string_view told_owners[]{"of", "at", "on"};
constexpr std::string_view position_words[]{"speed", "position", "pos", "setting"};
constexpr std::string_view told_plugs[]{"plug", "connector"};
constexpr std::string_view pulled_off[]{"off", "apart", "unplugged", "disconnected", "unplug", "disconnect", "undone"};
constexpr std::string_view lists_of_positions[]{"speeds", "positions", "settings"};
constexpr std::string_view leads_to_points[]{"at", "across", "on", "between", "from"};

bool is_number(const Word& word) {
    return !word.quoted && word.text.find_first_not_of("0123456789") == std::string::npos;
}

bool is_point(const Circuit& circuit, const Word& word) {
    return !word.quoted && joints_named(circuit, word.text).size() == 1;
}

bool shows_value(const Word& word) {
    return word.measure || same_word(word.text, "OL") || same_word(word.text, "open");
}

void erase(Words& words, std::size_t from, std::size_t count) {
    const auto at = words.begin() + static_cast<std::ptrdiff_t>(from);
    words.erase(at, at + static_cast<std::ptrdiff_t>(count));
}

void insert(Words& words, std::size_t at, std::string_view said) {
    const Words put = cut_words(said);
    words.insert(words.begin() + static_cast<std::ptrdiff_t>(at), put.begin(), put.end());
}

/// By its name, or as the load that the word means.
PartId part_called(const Circuit& circuit, std::string_view word) {
    const PartId named = circuit.find_part(std::string(word));
    return named.valid() || !is_load_word(circuit, word) ? named : find_load(circuit, word).part;
}

/// Pin 1 of a part whose plug is off is probed in the plug.
std::optional<std::string> harness_pin(const Circuit& circuit, std::string_view owner, const std::string& pin) {
    const PartId part = part_called(circuit, owner);
    if (!part.valid() || circuit.part(part).plug.empty()) return std::nullopt;
    return circuit.part(part).plug + "." + pin;
}

/// `C303 melted at pin 4`: the pin belongs to the last thing named before it that has one.
void give_pins_to_owners(const Circuit& circuit, Words& words) {
    for (std::size_t at = 1; at + 1 < words.size(); ++at) {
        if (!words[at].is_among(told_pins) || words[at + 1].quoted) continue;
        const bool told_of_another = at + 2 < words.size() && words[at + 2].is_among(told_owners);
        if (told_of_another) continue;
        for (std::size_t owner = at; owner-- > 0;) {
            const bool is_off = (owner > 0 && words[owner - 1].is_among(pulled_off)) ||
                                (owner + 1 < at && words[owner + 1].is_among(pulled_off));
            const auto in_plug = is_off ? harness_pin(circuit, words[owner].text, words[at + 1].text) : std::nullopt;
            const std::string pin = in_plug.value_or(words[owner].text + "." + words[at + 1].text);
            if (words[owner].quoted || joints_named(circuit, pin).empty()) continue;
            const bool led = at > owner + 1 && words[at - 1].is_among(leads_to_pins);
            if (is_off) {
                words[at].text = pin;
                erase(words, at + 1, 1);
                const bool plug_again = at > owner + 1 && (words[at - 1].is_among(told_plugs) ||
                                                           find_connector(circuit, words[at - 1].text));
                if (plug_again) erase(words, at - 1, 1);
                break;
            }
            words[owner].text = pin;
            erase(words, led ? at - 1 : at, led ? 3 : 2);
            break;
        }
    }
}

/// `C801 pins spread`: all of them, which is the connector.
void drop_pins(const Circuit& circuit, Words& words) {
    static constexpr std::string_view parts_of_it[]{"pins", "terminals", "contacts", "cavities"};
    for (std::size_t at = 0; at + 2 < words.size(); ++at) {
        if (words[at].quoted || !find_connector(circuit, words[at].text) || !words[at + 1].is_among(parts_of_it))
            continue;
        if (!words[at + 2].measure) erase(words, at + 1, 1);
    }
}

/// `30 at relay K3`, which the number alone would take for the supply.
void name_contacts(const Circuit& circuit, Words& words) {
    for (std::size_t at = 0; at + 2 < words.size(); ++at) {
        if (!is_number(words[at]) || !words[at + 1].is_among(told_owners)) continue;
        const std::size_t owner = same_word(words[at + 2].text, "relay") ? at + 3 : at + 2;
        if (owner >= words.size() || words[owner].quoted) continue;
        const PartId part = circuit.find_part(words[owner].text);
        if (!part.valid() || !circuit.part(part).relay) continue;
        const std::string pin = circuit.part(part).name + "." + words[at].text;
        if (joints_named(circuit, pin).empty()) continue;
        words[at].text = pin;
        words[at].measure.reset();
        erase(words, at + 1, owner - at);
    }
}

/// `S1 C to ground`: a terminal that has a letter for its name.
void name_lettered_terminals(const Circuit& circuit, Words& words) {
    for (std::size_t at = 0; at + 1 < words.size(); ++at) {
        const Word& letter = words[at + 1];
        const bool is_letter = !letter.quoted && !letter.after_comma && letter.text.size() == 1 &&
                               letter.text.front() >= 'A' && letter.text.front() <= 'Z';
        if (!is_letter || words[at].quoted || !circuit.find_part(words[at].text).valid()) continue;
        const std::string pin = words[at].text + "." + letter.text;
        if (joints_named(circuit, pin).empty()) continue;
        words[at].text = pin;
        erase(words, at + 1, 1);
    }
}

/// `R1 ohms 1 to 4`, `R1 from 1 to 4`: two terminals of the part in front, told by their numbers.
void name_pairs(const Circuit& circuit, Words& words) {
    static constexpr std::string_view between[]{"ohms", "resistance", "from", "between", "pins", "pin", "terminals"};
    for (std::size_t at = 0; at + 3 < words.size(); ++at) {
        const PartId owner = words[at].quoted ? PartId{} : circuit.find_part(words[at].text);
        if (!owner.valid()) continue;
        std::size_t first = at + 1;
        while (first + 2 < words.size() && words[first].is_among(between)) ++first;
        const bool joined = first + 2 < words.size() && is_number(words[first]) && is_number(words[first + 2]) &&
                            (same_word(words[first + 1].text, "to") || same_word(words[first + 1].text, "and"));
        if (!joined) continue;
        const std::string name = circuit.part(owner).name;
        const std::string one = name + "." + words[first].text;
        const std::string other = name + "." + words[first + 2].text;
        if (joints_named(circuit, one).empty() || joints_named(circuit, other).empty()) continue;
        const bool ohms = words[at + 1].is_among(std::span(between).first(2));
        if (Word& last = words.back(); ohms && last.measure && last.measure->unit == Unit::none)
            last = cut_words(last.text + "ohm").front();
        erase(words, at, first + 3 - at);
        insert(words, at, one + " to " + other);
        return;
    }
}

/// `M1.1 B1- 12.3V`
void part_two_points(const Circuit& circuit, Words& words) {
    for (std::size_t at = 0; at + 2 < words.size(); ++at) {
        const bool two = is_point(circuit, words[at]) && is_point(circuit, words[at + 1]) &&
                         !words[at + 1].after_comma && !is_number(words[at]) && !is_number(words[at + 1]);
        const bool second = at > 0 && (same_word(words[at - 1].text, "to") || same_word(words[at - 1].text, "and"));
        if (two && !second && shows_value(words[at + 2])) insert(words, at + 1, "to");
    }
}

/// `no continuity between M1.2 and SP1`, `M1.2 to SP1 no continuity`
void say_continuity(const Circuit& circuit, Words& words) {
    static constexpr std::string_view checks[]{"continuity", "beep", "beeps"};
    const auto said = std::find_if(words.begin(), words.end(), [](const Word& word) { return word.is_among(checks); });
    if (said == words.end()) return;
    const auto at = static_cast<std::size_t>(said - words.begin());
    const bool denied = at > 0 && same_word(words[at - 1].text, "no");
    constexpr std::string_view granted[]{"good", "has", "have"};
    const std::size_t from = denied || (at > 0 && words[at - 1].is_among(granted)) ? at - 1 : at;
    const auto is_end = [&](const Word& word) {
        return !word.quoted && (!joints_named(circuit, word.text).empty() || find_place(circuit, word.text));
    };
    const auto two_points = [&](std::size_t first) {
        const bool joined = first + 2 < words.size() &&
                            (same_word(words[first + 1].text, "to") || same_word(words[first + 1].text, "and"));
        return joined && is_end(words[first]) && is_end(words[first + 2]);
    };
    std::size_t behind = at + 1;
    const bool led = behind < words.size() && words[behind].is_among(leads_to_points);
    if (led) ++behind;
    constexpr std::size_t pair = 3;
    // `beep M1.2 to SP1 yes` is a reading as it stands, and without its word it is none.
    const bool granted_here = from < at && !denied;
    if (!denied && !granted_here && !led) return;
    static constexpr std::string_view answers[]{"yes", "no"};
    const bool answered = behind + pair < words.size() && words[behind + pair].is_among(answers);
    const bool in_front = from >= pair && two_points(from - pair);
    if (!in_front && (answered || !two_points(behind))) return;
    const std::size_t first = in_front ? from - pair : behind;
    const std::string line = "beep " + words[first].text + " to " + words[first + 2].text + (denied ? " no" : " yes");
    const std::size_t begin = in_front ? first : from;
    erase(words, begin, (in_front ? at + 1 : behind + pair) - begin);
    insert(words, begin, line);
}

/// `speeds 1-3`: each of them.
void write_ranges_out(Words& words) {
    constexpr std::size_t length = 3;
    for (std::size_t at = 0; at + 1 < words.size(); ++at) {
        const std::string range = words[at + 1].text;
        const bool is_range = range.size() == length && range[1] == '-' && range[0] >= '1' && range[2] <= '9' &&
                              range[0] < range[2] && range[2] >= '1';
        if (!words[at].is_among(lists_of_positions) || words[at + 1].quoted || !is_range) continue;
        erase(words, at + 1, 1);
        for (char number = range[2]; number >= range[0]; --number) {
            insert(words, at + 1, std::string_view(&number, 1));
            words[at + 1].after_comma = number > range[0];
        }
        return;
    }
}

/// A position that is told by a number which is nothing else in this circuit, as a state has it.
std::optional<std::string> position_by_number(const Circuit& circuit, const Word& word) {
    if (!is_number(word) || !joints_named(circuit, word.text).empty() || find_place(circuit, word.text))
        return std::nullopt;
    bool exact = false;
    auto meanings = position_meanings(circuit, word.text, exact);
    for (const Control& control : circuit.controls) {
        if (exact || control.part == circuit.key) continue;
        if (const auto position = position_numbered(circuit.part(control.part), word.text))
            meanings.push_back({control.part, *position});
    }
    if (meanings.size() != 1) return std::nullopt;
    StatePhrase state;
    state.settings = {{meanings.front().part, {meanings.front().position}}};
    return write_state(circuit, state);
}

}  // namespace

void name_positions(const Circuit& circuit, Words& words) {
    write_ranges_out(words);
    const auto list =
        std::find_if(words.begin(), words.end(), [](const Word& word) { return word.is_among(lists_of_positions); });
    const bool of_list =
        list != words.end() && std::next(list) != words.end() && position_by_number(circuit, *std::next(list));
    std::size_t at = 0;
    if (of_list) at = static_cast<std::size_t>(words.erase(list) - words.begin());
    const auto name = [&](std::size_t i) {
        const auto position = position_by_number(circuit, words[i]);
        if (position) words[i].text = *position, words[i].measure.reset();
        return position.has_value();
    };
    bool listed = false;
    for (; at < words.size(); ++at) {
        if (of_list) {
            const bool before = listed;
            listed = name(at);
            if (listed && before) words[at].after_comma = true;
            // `1, 2 and 3`
            const bool joins = before && same_word(words[at].text, "and") && at + 1 < words.size() &&
                               position_by_number(circuit, words[at + 1]);
            if (joins) {
                erase(words, at, 1);
                name(at);
                words[at].after_comma = listed = true;
            }
        } else if (at > 0 && words[at - 1].is_among(position_words)) {
            if (name(at)) erase(words, --at, 1);
        } else if (at > 0 && same_word(words[at - 1].text, "on")) {
            name(at);
        }
    }
}

void join_decimals(const Circuit& circuit, Words& words) {
    for (std::size_t at = 0; at + 1 < words.size(); ++at) {
        const Word& whole = words[at];
        const Word& rest = words[at + 1];
        if (!is_number(whole) || !is_number(rest) || !rest.after_comma ||
            rest.offset != whole.offset + whole.length + 1)
            continue;
        const bool behind_point = at > 0 && is_point(circuit, words[at - 1]);
        const bool before_point = at + 3 < words.size() && words[at + 2].is_among(leads_to_points) &&
                                  find_place(circuit, words[at + 3].text).has_value();
        if (!behind_point && !before_point) continue;
        const bool after_comma = whole.after_comma;
        words[at] = cut_words(whole.text + "." + rest.text).front();
        words[at].after_comma = after_comma;
        erase(words, at + 1, 1);
    }
}

PartId load_told(const Circuit& circuit, std::span<const Word> words, PartId control) {
    for (const Word& word : words) {
        const PartId part = circuit.find_part(word.text);
        if (part.valid() && circuit.part(part).load_branch.valid()) return part;
        if (word.quoted || !is_load_word(circuit, word.text)) continue;
        if (const PartId load = find_load(circuit, word.text).part; load.valid()) return load;
    }
    return load_unsaid(circuit, control);
}

std::vector<Word> with_told_points(const Circuit& circuit, std::vector<Word> words) {
    give_pins_to_owners(circuit, words);
    drop_pins(circuit, words);
    name_contacts(circuit, words);
    name_lettered_terminals(circuit, words);
    name_pairs(circuit, words);
    part_two_points(circuit, words);
    say_continuity(circuit, words);
    name_positions(circuit, words);
    return words;
}

}  // namespace voltfall
