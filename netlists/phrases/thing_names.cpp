#include "netlists/phrases/thing_names.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <string>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/kind_names.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/owned_names.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

constexpr std::array<std::string_view, 4> owner_words{"plug", "connector", "conn", "socket"};
constexpr std::array<std::string_view, 8> pin_words{"pin", "terminal", "term", "cavity", "cav", "way", "pos", "pins"};
constexpr std::array<std::string_view, 6> before_a_place{"at", "across", "to", "from", "over", "between"};
constexpr std::array<std::string_view, 4> of_words{"of", "at", "on", "in"};

template <std::size_t count>
bool among(const std::array<std::string_view, count>& list, const Words& words, std::size_t at) {
    return at < words.size() && !words[at].quoted &&
           std::any_of(list.begin(), list.end(), [&](std::string_view w) { return same_word(w, words[at].text); });
}

Word named(const Word& like, std::string name) {
    Word word = like;
    word.text = std::move(name);
    word.measure.reset();
    return word;
}

/// One word in the place of several, from `at` on.
void put(Words& words, std::size_t at, std::size_t count, std::string name) {
    words[at] = named(words[at], std::move(name));
    words.erase(words.begin() + static_cast<std::ptrdiff_t>(at) + 1,
                words.begin() + static_cast<std::ptrdiff_t>(at + count));
}

bool is_number(std::string_view text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string_view::npos;
}

bool may_be_position(const Circuit& circuit, const Word& word) {
    bool exact = false;
    return !word.quoted && !position_meanings(circuit, word.text, exact).empty();
}

std::string_view number_of(std::string_view name) {
    const auto end = name.find_last_not_of("0123456789");
    return end == std::string_view::npos ? std::string_view{} : name.substr(end + 1);
}

/// The only part of that kind whose name ends in the number, any number where it is empty; null where there is not
/// just one.
const Part* only_part(const Circuit& circuit, const Kind& kind, std::string_view number) {
    const Part* only = nullptr;
    for (const Part& part : circuit.parts) {
        if (part.kind != &kind || (!number.empty() && number_of(part.name) != number)) continue;
        if (only) return nullptr;
        only = &part;
    }
    return only;
}

/// `fuse 20`: the only one of that rating, where none is numbered so.
const Part* only_rated(const Circuit& circuit, const Kind& kind, double amperes) {
    const Part* only = nullptr;
    for (const Part& part : circuit.parts) {
        if (part.kind != &kind || !part.fuse || part.fuse->rating_amps != amperes) continue;
        if (only) return nullptr;
        only = &part;
    }
    return only;
}

/// `C304 pin 1`, `pin 1 of C304`.
bool name_pin(const Circuit& circuit, Words& words, std::size_t at) {
    const auto joined = [&](const Word& owner, const Word& pin) -> std::optional<std::string> {
        std::string name = owner.text + "." + pin.text;
        const Kind* kind = owner.quoted ? nullptr : find_kind(lower(owner.text));
        const Part* part = kind ? only_part(circuit, *kind, "") : nullptr;
        if (part && joints_named(circuit, name).empty()) name = part->name + "." + pin.text;
        return joints_named(circuit, name).empty() ? std::nullopt : std::optional(name);
    };
    if (among(pin_words, words, at + 1) && at + 2 < words.size()) {
        if (const auto name = joined(words[at], words[at + 2])) return put(words, at, 3, *name), true;
    }
    // `30 of K3`
    if (at + 2 < words.size() && is_number(words[at].text) && same_word(words[at + 1].text, "of")) {
        if (const auto name = joined(words[at + 2], words[at])) return put(words, at, 3, *name), true;
    }
    if (!among(pin_words, words, at) || at + 2 >= words.size()) return false;
    std::size_t owner = among(of_words, words, at + 2) ? at + 3 : at + 2;
    if (among(owner_words, words, owner)) ++owner;
    if (owner >= words.size()) return false;
    const auto name = joined(words[owner], words[at + 1]);
    const std::size_t plug = among(owner_words, words, owner + 1) ? 1 : 0;  // `pin 1 of the motor connector`
    if (name) put(words, at, owner - at + 1 + plug, *name);
    return name.has_value();
}

/// `B+`, `battery positive`: a post of the battery, where the circuit calls it otherwise.
void name_post(const Circuit& circuit, Words& words, std::size_t at) {
    if (words[at].quoted || !joints_named(circuit, words[at].text).empty()) return;
    const std::string& name = circuit.part(circuit.battery).name;
    const bool battery = same_word(words[at].text, "battery") && at + 1 < words.size();
    if (same_word(words[at].text, "B+") || same_word(words[at].text, "B-"))
        put(words, at, 1, name + words[at].text.substr(1));
    else if (battery && (same_word(words[at + 1].text, "positive") || same_word(words[at + 1].text, "negative")))
        put(words, at, 2, name + (same_word(words[at + 1].text, "positive") ? "+" : "-"));
}

/// `relay K2.30`: the word in front says of what kind the owner of the pin is.
bool says_kind_of(const Circuit& circuit, const Word& front, const Word& pin) {
    const PartId part = circuit.part_at(pin.text);
    const Kind* kind = front.quoted ? nullptr : find_kind(lower(front.text));
    return kind && part.valid() && circuit.part(part).kind == kind;
}

/// `plug C304`, `wire 542`: the word in front says what the name says already.
bool drop_kind(const Circuit& circuit, Words& words, std::size_t at) {
    if (at + 1 >= words.size() || words[at].quoted) return false;
    const std::string& name = words[at + 1].text;
    const bool wire = same_word(words[at].text, "wire") && circuit.find_wire(name).valid();
    const bool plug = among(owner_words, words, at) && find_place(circuit, name);
    const PartId part = circuit.find_part(name);
    const bool kind = part.valid() && !circuit.part(part).fuse && !circuit.part(part).relay &&
                      same_word(circuit.part(part).kind->word, words[at].text);
    const bool drag = at + 2 < words.size() && same_word(words[at + 2].text, "drag");
    const bool pin = among(pin_words, words, at) && !drag && !joints_named(circuit, name).empty();
    if (!wire && !plug && !kind && !pin) return false;
    put(words, at, 2, name);
    return true;
}

/// `fuse 7` is F7, `relay` the only one; a fuse and a relay keep the word that begins their reading.
bool name_by_kind(const Circuit& circuit, Words& words, std::size_t at) {
    const Kind* kind = words[at].quoted ? nullptr : find_kind(lower(words[at].text));
    if (!kind) return false;
    const bool number = at + 1 < words.size() && is_number(words[at + 1].text);
    if (!number && at + 1 < words.size() && find_place(circuit, words[at + 1].text)) return false;
    const Part* part = only_part(circuit, *kind, number ? std::string_view(words[at + 1].text) : std::string_view{});
    if (!part && number && words[at + 1].measure) part = only_rated(circuit, *kind, words[at + 1].measure->value);
    // A relay that the circuit calls `RELAY` is named already.
    if (!part || same_word(part->name, words[at].text)) return false;
    const bool keeps = part->fuse || part->relay;
    if (number) {
        words[at + 1] = named(words[at + 1], part->name);
        if (!keeps) put(words, at, 2, part->name);
        return true;
    }
    if (!keeps) {
        return false;
    }
    words.insert(words.begin() + static_cast<std::ptrdiff_t>(at) + 1, named(words[at], part->name));
    words[at + 1].after_comma = false;
    return true;
}

/// `roof fan`, where the circuit's name has the word: it says no more than the load's own.
void drop_word_of_circuit(const Circuit& circuit, Words& words, std::size_t at) {
    if (at + 1 >= words.size() || words[at].quoted || !is_load_word(circuit, words[at + 1].text)) return;
    const std::string& word = words[at].text;
    if (is_load_word(circuit, word) || may_be_position(circuit, words[at]) || find_place(circuit, word)) return;
    const auto called = cut_words(circuit.name);
    const bool said =
        std::any_of(called.begin(), called.end(), [&](const Word& one) { return same_word(one.text, word); });
    if (said) words.erase(words.begin() + static_cast<std::ptrdiff_t>(at));
}

/// `fan 2`, `left fan`: a load by its word with its number, or with the file's own words for it.
void name_load(const Circuit& circuit, Words& words, std::size_t at) {
    if (at + 1 >= words.size() || words[at].quoted || words[at + 1].quoted) return;
    const bool by_number = is_load_word(circuit, words[at].text) && is_number(words[at + 1].text);
    const bool by_print = is_load_word(circuit, words[at + 1].text) && !find_place(circuit, words[at].text);
    const Part* only = nullptr;
    for (const PartId id : loads_of(circuit)) {
        const Part& load = circuit.part(id);
        const bool numbered = by_number && number_of(load.name) == words[at + 1].text;
        const bool printed = by_print && !load.print.empty() && same_word(load.print, words[at].text);
        if (!numbered && !printed) continue;
        if (only) return;
        only = &load;
    }
    if (only) put(words, at, 2, only->name);
}

/// How many words from `at` on the file prints for the part; 0 where they are others. A switch that the file calls by
/// what it watches may be called a switch behind that.
std::size_t words_of_print(const Circuit& circuit, const Part& part, const Words& words, std::size_t at) {
    // Most things print other words than the one that stands here: told by the first letter, without cutting them.
    const std::string_view print = trimmed(std::string_view(part.print));
    if (print.empty() || at >= words.size() || words[at].text.empty()) return 0;
    const bool plain = static_cast<unsigned char>(print.front()) < 0x80 && print.front() != '"';
    if (plain && !same_word(print.substr(0, 1), std::string_view(words[at].text).substr(0, 1))) return 0;
    std::size_t count = 0;
    Problems unused;
    for (const Word& printed : cut_words(TypedText::argument("", part.print), unused)) {
        if (at + count >= words.size()) return 0;
        const Word& word = words[at + count];
        // `fan on` may be a load and where its switch stands.
        if (word.quoted || !same_word(word.text, printed.text)) return 0;
        if (is_load_word(circuit, word.text) || may_be_position(circuit, word)) return 0;
        ++count;
    }
    const bool of_its_kind = count == 1 && at + 1 < words.size() && same_word(part.kind->word, words[at + 1].text) &&
                             !find_kind(lower(words[at].text));
    if (of_its_kind) return count + 1;
    const bool called_switch =
        count > 0 && !part.contacts.empty() && at + count < words.size() && same_word(words[at + count].text, "switch");
    return called_switch ? count + 1 : count;
}

/// `freeze switch`, `left cowl stud`: the only thing for which the file prints these words, of two or more; `pressure
/// switch`: the only contact that pressure moves.
void name_by_print(const Circuit& circuit, Words& words, std::size_t at) {
    constexpr std::size_t telling = 2;
    const bool by_pressure =
        at + 1 < words.size() && same_word(words[at].text, "pressure") && same_word(words[at + 1].text, "switch");
    const Part* only = nullptr;
    std::size_t longest = 0;
    for (const Part& part : circuit.parts) {
        const Parameter* opens = part.parameter("opens at");
        const bool watches = by_pressure && opens && opens->unit == Unit::pascal;
        const std::size_t count = std::max(words_of_print(circuit, part, words, at), watches ? telling : 0);
        if (count < telling || count < longest) continue;
        only = count > longest ? &part : nullptr;
        longest = count;
    }
    if (only) put(words, at, longest, only->name);
}

/// `resistor pack`, `blower resistor`: the trade's name of a kind, where there is one part of it; of one word only
/// where the circuit has no part of the kind that is so called.
void name_by_trade(const Circuit& circuit, Words& words, std::size_t at) {
    const auto called = kind_in_trade(std::span(words).subspan(at));
    if (!called.kind || words[at].quoted) return;
    const Kind* own = find_kind(lower(words[at].text));
    const bool other = called.words == 1 && std::any_of(circuit.parts.begin(), circuit.parts.end(),
                                                        [&](const Part& part) { return part.kind == own; });
    if (other || (called.words == 1 && !own)) return;
    const std::size_t behind = at + called.words;
    const bool named_behind = behind < words.size() && find_place(circuit, words[behind].text).has_value();
    const Part* part = only_part(circuit, *called.kind, "");
    if (part && !part->moved_by && !named_behind) put(words, at, called.words, part->name);
}

/// Two pins that stand one behind the other: `1 to 4`, `pin 1 and pin 4`, `1-4`; `next` is moved behind them. Nullopt
/// where none of the part stand there.
std::optional<std::pair<std::string, std::string>> take_two_pins(const Circuit& circuit, const Part& part,
                                                                 const Words& words, std::size_t& next) {
    const auto joint = [&](const std::string& pin) -> std::optional<std::string> {
        const auto found = part.pins.find(pin);
        return found == part.pins.end() ? std::nullopt : std::optional(circuit.joint(found->second).name);
    };
    const auto take_pin = [&]() -> std::optional<std::string> {
        if (among(pin_words, words, next)) ++next;
        return next < words.size() ? joint(words[next++].text) : std::nullopt;
    };
    if (next < words.size()) {
        const std::string& text = words[next].text;
        const auto dash = text.find('-');
        const auto one = dash == std::string::npos ? std::nullopt : joint(text.substr(0, dash));
        const auto other = one ? joint(text.substr(dash + 1)) : std::nullopt;
        if (other) return ++next, std::pair(*one, *other);
    }
    const auto one = take_pin();
    if (!one || next >= words.size() || !(same_word(words[next].text, "to") || same_word(words[next].text, "and")))
        return std::nullopt;
    ++next;
    const auto other = take_pin();
    return other ? std::optional(std::pair(*one, *other)) : std::nullopt;
}

/// `R1 1 to 4`, `R1 pin 1 to pin 4`, `R1 open between 1 and 4`, `between 1 and 4 of R1`: two points of one part.
void name_two_pins(const Circuit& circuit, Words& words, std::size_t at) {
    constexpr std::size_t farthest = 3;  // words between the part and its pins
    const auto leads = [&](std::size_t i) {
        return same_word(words[i].text, "from") || same_word(words[i].text, "between");
    };
    const auto put_points = [&](std::size_t from, std::size_t end, const std::pair<std::string, std::string>& points) {
        const Word like = words[from];
        words.erase(words.begin() + static_cast<std::ptrdiff_t>(from),
                    words.begin() + static_cast<std::ptrdiff_t>(end));
        words.insert(words.begin() + static_cast<std::ptrdiff_t>(from),
                     {named(like, points.first), named(like, "to"), named(like, points.second)});
    };
    const PartId id = words[at].quoted ? PartId{} : circuit.find_part(words[at].text);
    for (std::size_t start = at + 1; id.valid() && start < words.size() && start <= at + 1 + farthest; ++start) {
        if (start > at + 1 && !leads(start)) continue;
        std::size_t next = start + (leads(start) ? 1 : 0);
        const auto points = take_two_pins(circuit, circuit.part(id), words, next);
        if (!points) continue;
        words.erase(words.begin() + static_cast<std::ptrdiff_t>(start),
                    words.begin() + static_cast<std::ptrdiff_t>(next));
        return put_points(at, at + 1, *points);
    }
    for (std::size_t of = at + 1; of + 1 < words.size() && of <= at + 2 * farthest; ++of) {
        const PartId behind = among(of_words, words, of) ? circuit.find_part(words[of + 1].text) : PartId{};
        if (!behind.valid()) continue;
        std::size_t next = at + (leads(at) ? 1 : 0);
        const auto points = take_two_pins(circuit, circuit.part(behind), words, next);
        if (points && next == of) return put_points(at, of + 2, *points);
    }
}

/// `the 40 amp fuse`: the only one of that rating; not the number on the fuse in a seat.
void name_by_rating(const Circuit& circuit, Words& words, std::size_t at) {
    if (at + 1 >= words.size() || !words[at].measure || words[at].measure->unit != Unit::ampere) return;
    const bool in_a_seat =
        at + 2 < words.size() && (same_word(words[at + 2].text, "in") || among(of_words, words, at + 2) ||
                                  circuit.find_part(words[at + 2].text).valid());
    if (!same_word(words[at + 1].text, "fuse") || in_a_seat) return;
    const Part* only = nullptr;
    for (const Part& part : circuit.parts) {
        if (!part.fuse || part.fuse->rating_amps != words[at].measure->value) continue;
        if (only) return;
        only = &part;
    }
    if (!only) return;
    words[at] = named(words[at], "fuse");
    words[at + 1] = named(words[at + 1], only->name);
}

/// Do both words name one load: `blower motor`?
bool say_one_load(const Circuit& circuit, const Words& words, std::size_t at) {
    const auto says = [&](std::size_t i) {
        return i < words.size() && !words[i].quoted && is_load_word(circuit, words[i].text);
    };
    return says(at) && says(at + 1);
}

/// `at the motor`, `blower 12V`, `blower motor 12V`: the only part of that kind, or the load that is meant, where
/// something was measured.
void name_measured(const Circuit& circuit, Words& words, std::size_t at) {
    const std::size_t behind = at + (say_one_load(circuit, words, at) ? 2 : 1);
    const bool measured = (at > 0 && among(before_a_place, words, at - 1)) ||
                          (behind < words.size() && words[behind].measure && words[behind].measure->unit != Unit::none);
    if (!measured || words[at].quoted || find_place(circuit, words[at].text)) return;
    // `at relay K2` is named already.
    if (at + 1 < words.size() && circuit.find_part(words[at + 1].text).valid()) return;
    const Kind* kind = find_kind(lower(words[at].text));
    const Part* part = kind ? only_part(circuit, *kind, "") : nullptr;
    if (!part && is_load_word(circuit, words[at].text)) {
        const PartId load = find_load(circuit, words[at].text).part;
        if (load.valid()) part = &circuit.part(load);
    }
    if (part) put(words, at, behind - at, part->name);
}

}  // namespace

std::vector<Word> with_names_of(const Circuit& circuit, std::vector<Word> words) {
    name_plugs(circuit, words);
    for (std::size_t at = 0; at < words.size(); ++at) {
        // `second speed`: the position says it.
        if (at > 0 && same_word(words[at].text, "speed") && may_be_position(circuit, words[at - 1])) {
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(at--));
            continue;
        }
        name_post(circuit, words, at);
        drop_word_of_circuit(circuit, words, at);
        name_pins(circuit, words, at);
        name_by_print(circuit, words, at);
        name_by_trade(circuit, words, at);
        name_by_rating(circuit, words, at);
        name_two_pins(circuit, words, at);
        drop_kind(circuit, words, at);
        if (name_pin(circuit, words, at) && at > 0 && says_kind_of(circuit, words[at - 1], words[at]))
            words.erase(words.begin() + static_cast<std::ptrdiff_t>(--at));
        name_by_kind(circuit, words, at);
        name_load(circuit, words, at);
        name_measured(circuit, words, at);
    }
    return words;
}

PartId load_unsaid(const Circuit& circuit, PartId control) {
    const auto only = [&](const std::vector<PartId>& loads) {
        std::vector<PartId> running;
        std::copy_if(loads.begin(), loads.end(), std::back_inserter(running),
                     [&](PartId load) { return load_kind_of(circuit.part(load)) != LoadKind::lamp; });
        return running.size() == 1 ? running.front() : PartId{};
    };
    if (const PartId load = only(loads_of(circuit)); load.valid()) return load;
    return control.valid() ? only(loads_switched_by(circuit, control)) : PartId{};
}

}  // namespace voltfall
