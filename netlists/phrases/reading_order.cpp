#include "netlists/phrases/reading_order.hpp"

#include <algorithm>
#include <functional>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/plain_words.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/told_points.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A state with nothing measured is kept where it tells of a new part.
std::optional<Measurement> read_behind(WordReader& words, const StatePhrase& state, const Circuit& circuit) {
    if (words.at_end() && (!state.fitted_new.empty() || !state.new_plugs.empty())) return NoMeasurement{};
    const bool in_hand = !state.unplugged.empty() || !state.pulled.empty();
    return read_measurement(words, circuit, in_hand ? MeasuredAt::in_hand : MeasuredAt::on_vehicle);
}

/// Positions in the order of the switch: `hi, mh` is `mh, hi`.
StatePhrase in_order(StatePhrase state) {
    for (ControlSetting& setting : state.settings) std::sort(setting.positions.begin(), setting.positions.end());
    return state;
}

bool mean_the_same(const ReadingParse& one, const ReadingParse& other) {
    return in_order(one.state) == in_order(other.state) && same_measurement(*one.what, *other.what);
}

/// Does the problem say only that a word does not belong there, and not what is wrong with what was meant?
bool says_little(ProblemCode code) {
    return code == ProblemCode::unknown_place || code == ProblemCode::extra_word || code == ProblemCode::unknown_word ||
           code == ProblemCode::missing_word || code == ProblemCode::unknown_part || code == ProblemCode::unknown_wire;
}

/// Volts, amperes or ohms: a story of other words has no better order.
bool shows_a_number(const TypedText& phrase) {
    Problems unused;
    const auto words = cut_words(phrase, unused);
    return std::any_of(words.begin(), words.end(), [](const Word& word) {
        if (same_word(word.text, "OL")) return true;
        return word.measure && (word.measure->unit == Unit::volt || word.measure->unit == Unit::ampere ||
                                word.measure->unit == Unit::ohm);
    });
}

const Problem* first_error(const Problems& problems) {
    const auto& list = problems.list();
    const auto found =
        std::find_if(list.begin(), list.end(), [](const Problem& p) { return p.severity == Severity::error; });
    return found == list.end() ? nullptr : &*found;
}

/// One half of a line as a reading that stands by itself, and its state; nullopt where it is none.
struct Half {
    std::string text;
    StatePhrase state;
    bool is_number{false};
};
std::optional<Half> half_of(const TypedText& text, const Circuit& circuit) {
    const auto as_reading = [&](const std::string& typed) -> std::optional<Half> {
        Problems own;
        const auto read = parse_reading({typed, text.place}, circuit, own);
        if (!read || own.has_errors() || std::holds_alternative<NoMeasurement>(*read->what)) return std::nullopt;
        const bool number = std::holds_alternative<VoltsReading>(*read->what) ||
                            std::holds_alternative<AmpsReading>(*read->what) ||
                            std::holds_alternative<OhmsReading>(*read->what);
        return Half{typed, read->state, number};
    };
    if (auto half = as_reading(text.text)) return half;
    const auto meanings = meanings_in_other_orders(text, circuit);
    return meanings.size() == 1 ? as_reading(meanings.front()) : std::nullopt;
}

bool joins_halves(const Word& word) {
    static constexpr std::string_view joining[] = {"but", "and", "yet", "though", "then", "/", ";", "&"};
    return !word.quoted && std::any_of(std::begin(joining), std::end(joining),
                                       [&](std::string_view one) { return same_word(one, word.text); });
}

/// Does a word of it name what was measured? `works off and on` has no second half.
bool names_something(std::span<const Word> words, const Circuit& circuit) {
    return std::any_of(words.begin(), words.end(), [&](const Word& word) {
        bool exact = false;
        const auto equals = word.text.find('=');
        const bool volts = word.measure && word.measure->unit != Unit::none;
        if (!word.quoted && (volts || same_word(word.text, "clicks"))) return true;
        if (equals != std::string::npos) return !joints_named(circuit, word.text.substr(0, equals)).empty();
        return !word.quoted &&
               (find_place(circuit, word.text) || !position_meanings(circuit, word.text, exact).empty() ||
                !joints_named(circuit, word.text).empty() || is_load_word(circuit, word.text) ||
                find_kind(lower(word.text)));
    });
}

/// Does a word of it name a part, a point or a fuse by its number?
bool names_a_thing(std::span<const Word> words, const Circuit& circuit) {
    return std::any_of(words.begin(), words.end(), [&](const Word& word) {
        return !word.quoted && (find_place(circuit, word.text) || !joints_named(circuit, word.text).empty() ||
                                is_load_word(circuit, word.text) || find_kind(lower(word.text)));
    });
}

std::string without_comma(std::span<const Word> words) {
    std::vector<Word> plain(words.begin(), words.end());
    if (!plain.empty()) plain.front().after_comma = false;
    return words_as_typed(plain);
}

/// A half that names nothing itself tells of what the first one did: `fuse F9 blows in lo, holds in hi`.
std::optional<Half> half_behind(std::span<const Word> first, std::span<const Word> rest, SourcePlace place,
                                const Circuit& circuit) {
    const auto by_itself =
        names_something(rest, circuit) ? half_of({words_as_typed(rest), place}, circuit) : std::nullopt;
    if (by_itself) return by_itself;
    constexpr std::size_t longest_subject = 3;
    for (std::size_t count = 1; count < first.size() && count <= longest_subject; ++count) {
        if (!names_a_thing(first.first(count), circuit)) continue;
        if (auto half = half_of({words_as_typed(first.first(count)) + " " + without_comma(rest), place}, circuit))
            return half;
    }
    return std::nullopt;
}

/// Parts two halves at the words from `end` of the first on to `begin` of the second; empty where they are none.
std::vector<std::string> halves_at(const TypedText& phrase, const Circuit& circuit, std::span<const Word> words,
                                   std::size_t end, std::size_t begin) {
    const std::span<const Word> rest = words.subspan(begin);
    if (!names_something(words.first(end), circuit) || rest.empty()) return {};
    const auto first = half_of({words_as_typed(words.first(end)), phrase.place}, circuit);
    const auto second = first ? half_behind(words.first(end), rest, phrase.place, circuit) : std::nullopt;
    if (!second) return {};
    const auto with = [&](const Half& one, const Half& other) {
        const bool same_state = one.state.empty() && !other.state.empty();
        return (same_state ? write_state(circuit, other.state) + "  " : "") + one.text;
    };
    // What was set for the first was so for the second; behind two numbers it was so for both.
    return {first->is_number && second->is_number ? with(*first, *second) : first->text, with(*second, *first)};
}

/// `relay clicks but motor dead`, `M1.1 12.4V / M1.2 0.2V`: two readings in one line, parted by a word, by a stroke or
/// by the only comma. Empty where the line has no such halves.
std::vector<std::string> two_readings(const TypedText& phrase, const Circuit& circuit) {
    Problems unused;
    auto words = cut_words(phrase, unused);
    name_positions(circuit, words);
    const std::span<const Word> all = words;
    constexpr std::size_t most_words = 20;
    if (all.size() > most_words) return {};
    // `M1.1 12.4V M1.2 0.2V`, `F3 ok F16 ok`: behind a figure or a word the next point or part begins.
    const auto begins_anew = [&](std::size_t i) {
        static constexpr std::string_view leading[]{"to", "at", "of", "on", "across", "from", "clamp", "fuse", "relay"};
        return !all[i].quoted && !all[i].measure && !all[i - 1].is_among(leading) && i > 1 &&
               (!joints_named(circuit, all[i].text).empty() || circuit.find_part(all[i].text).valid());
    };
    // `lo, ml work, hi dead`: positions in a row are one setting.
    const auto sets = [&](std::size_t i) {
        bool exact = false;
        return !all[i].quoted && !position_meanings(circuit, all[i].text, exact).empty();
    };
    std::vector<std::size_t> cuts;
    for (const auto& parts :
         {std::function([&](std::size_t i) { return joins_halves(all[i]); }),
          std::function([&](std::size_t i) { return all[i].after_comma && !(sets(i - 1) && sets(i)); }),
          std::function(begins_anew)}) {
        if (!cuts.empty()) break;
        for (std::size_t i = 1; i < all.size(); ++i) {
            if (parts(i)) cuts.push_back(i);
        }
    }
    // Beyond two of them it is a story.
    constexpr std::size_t most_cuts = 2;
    if (cuts.size() > most_cuts) return {};
    for (const std::size_t i : cuts) {
        auto halves = halves_at(phrase, circuit, all, i, joins_halves(all[i]) ? i + 1 : i);
        if (!halves.empty()) return halves;
    }
    return {};
}

std::string list_between(std::span<const std::string> lines, std::string_view between) {
    std::string list;
    for (const std::string& line : lines) list += (list.empty() ? "" : std::string(between)) + line;
    return list;
}

/// The orders that are readings, each meaning once.
std::vector<std::string> meanings_of(std::span<const TypedText> orders, const Circuit& circuit) {
    std::vector<ReadingParse> meant;
    std::vector<std::string> written;
    for (const TypedText& order : orders) {
        Problems own;
        auto read = parse_reading(order, circuit, own);
        if (!read || own.has_errors() || std::holds_alternative<NoMeasurement>(*read->what)) continue;
        const auto same = [&](const ReadingParse& other) { return mean_the_same(*read, other); };
        if (std::any_of(meant.begin(), meant.end(), same)) continue;
        meant.push_back(std::move(*read));
        written.push_back(order.text);
    }
    return written;
}

/// `no power at the fuse` where there are several: the line with each of them named, where it reads so. Empty where no
/// word is a kind of which there are a few.
std::vector<std::string> with_each_of_kind(const TypedText& phrase, const Circuit& circuit, std::string& kind_word) {
    constexpr std::size_t most = 4;
    const auto reads = [&](const std::string& line) {
        Problems own;
        const TypedText typed{line, phrase.place};
        if (const auto read = parse_reading(typed, circuit, own); read && !own.has_errors()) return true;
        const LooseLine loose = read_loose(typed, circuit);
        return loose.spoken ? loose.spoken->as != SpokenAs::never : !meanings_of(loose.orders, circuit).empty();
    };
    const std::vector<Word> words = cut_words(phrase.text);
    for (std::size_t at = 0; at < words.size(); ++at) {
        const Word& word = words[at];
        const Kind* kind = word.quoted ? nullptr : find_kind(lower(word.text));
        const bool named = at + 1 < words.size() && circuit.find_part(words[at + 1].text).valid();
        if (!kind || named || find_place(circuit, word.text)) continue;
        std::vector<std::string> names;
        for (const Part& part : circuit.parts) {
            if (part.kind == kind) names.push_back(part.name);
        }
        if (names.size() < 2 || names.size() > most) continue;
        std::vector<std::string> lines;
        for (const std::string& name : names) {
            std::string line = phrase.text;
            line.replace(static_cast<std::size_t>(word.offset), static_cast<std::size_t>(word.length),
                         word.text + " " + name);
            if (reads(line)) lines.push_back(std::move(line));
        }
        if (lines.size() < 2) continue;
        kind_word = word.text;
        return lines;
    }
    return {};
}

/// A line that is several readings, or may be one of several, or takes a protection away: says so. False where it is
/// none of them.
bool add_spoken(const TypedText& phrase, const Circuit& circuit, const std::optional<SpokenLine>& spoken,
                Problems& problems) {
    if (!spoken) {
        auto lines = two_readings(phrase, circuit);
        if (const auto test = load_in_all_positions(circuit); lines.empty() && test)
            lines = readings_of_positions(circuit, *test, phrase.text);
        if (lines.size() < 2) return false;
        problems.error(ProblemCode::two_meanings, phrase.place, "that is more than one reading",
                       "write each on a line of its own: " + list_between(lines, "; "));
        return true;
    }
    if (spoken->as == SpokenAs::reading) return false;
    if (spoken->as == SpokenAs::never) {
        const std::span<const std::string> lines = spoken->lines;
        problems.error(ProblemCode::does_not_fit, phrase.place,
                       "'" + lines.front() + "' protects; it is never bypassed, for then nothing protects any more",
                       "measure on both sides of it: " + list_between(lines.subspan(1), " and "));
        return true;
    }
    const bool each = spoken->as == SpokenAs::each;
    const std::string lines = list_between(spoken->lines, each ? "; " : ", or ");
    problems.error(ProblemCode::two_meanings, phrase.place,
                   each ? "that is more than one reading" : "that may be one of several readings",
                   each ? "write each on a line of its own: " + lines : "write " + lines);
    return true;
}

}  // namespace

std::optional<ReadingParse> parse_reading(const TypedText& phrase, const Circuit& circuit, Problems& problems) {
    const WhatReader<Measurement> read = [&](WordReader& words, const StatePhrase& state) {
        return read_behind(words, state, circuit);
    };
    return only_parse(phrase, circuit, read, "reading", problems);
}

std::vector<std::string> meanings_in_other_orders(const TypedText& phrase, const Circuit& circuit) {
    return meanings_of(other_orders(phrase, circuit), circuit);
}

namespace {

/// `wire 542 chafed on the bracket`: where on the vehicle something was seen is no name of the circuit, and is kept as
/// a note. Returns nullopt where the words in front are no look.
std::optional<std::string> with_rest_as_note(const TypedText& phrase, const Circuit& circuit) {
    static constexpr std::string_view leading[]{"on",     "by",    "at",    "near", "against",
                                                "behind", "under", "above", "where"};
    const std::vector<Word> words = cut_words(phrase.text);
    for (std::size_t at = 2; at + 1 < words.size(); ++at) {
        const auto rest = std::span(words).subspan(at);
        if (!words[at].is_among(leading) || names_something(rest, circuit)) continue;
        const auto end = static_cast<std::size_t>(words[at].offset);
        const auto seen = half_of({phrase.text.substr(0, end), phrase.place}, circuit);
        Problems own;
        const auto read = seen ? parse_reading({seen->text, phrase.place}, circuit, own) : std::nullopt;
        if (read && std::holds_alternative<LookReading>(*read->what))
            return seen->text + "  # " + phrase.text.substr(end);
    }
    return std::nullopt;
}

}  // namespace

std::string in_reading_order(const std::string& line, const Circuit& circuit) {
    Problems problems;
    if (read_reading_phrase(TypedText::argument("reading", line), "", circuit, problems)) return line;
    const TrimmedPhrase trimmed = trim_phrase(TypedText::argument("reading", without_meter_words(line).phrase));
    const auto meanings = meanings_in_other_orders(trimmed.phrase, circuit);
    if (meanings.empty() && trimmed.note.empty() && !trimmed.doubted)
        return with_rest_as_note(trimmed.phrase, circuit).value_or(line);
    if (meanings.size() != 1) return line;
    return meanings.front() + (trimmed.doubted ? " ?" : "") + (trimmed.note.empty() ? "" : "  # " + trimmed.note);
}

std::vector<std::string> readings_in_line(const std::string& line, const Circuit& circuit) {
    const std::string one = in_reading_order(line, circuit);
    Problems problems;
    if (read_reading_phrase(TypedText::argument("reading", one), "", circuit, problems)) return {one};
    const TrimmedPhrase trimmed = trim_phrase(TypedText::argument("reading", line));
    const auto spoken = spoken_in(trimmed.phrase, circuit);
    std::vector<std::string> lines;
    if (spoken && spoken->as == SpokenAs::each) {
        lines = spoken->lines;
    } else if (const auto test = load_in_all_positions(circuit); test && !spoken) {
        auto words = cut_words(trimmed.phrase.text);
        replace_other_names(circuit, words);
        lines = readings_of_positions(circuit, *test, words_as_typed(words));
    }
    if (lines.empty() && !spoken) lines = two_readings(trimmed.phrase, circuit);
    if (lines.empty()) return {one};
    for (std::string& each : lines) each += trimmed.doubted ? " ?" : "";
    return lines;
}

namespace {

/// What may stand behind a state: how the circuit's first load goes.
std::string example_behind(const Circuit& circuit) {
    for (const Part& part : circuit.parts) {
        if (part.load_branch.valid()) return part.name + " dead, or " + part.name + " normal";
    }
    return "with what was measured";
}

}  // namespace

void add_clearest(const TypedText& phrase, const Circuit& circuit, const Problems& as_it_stands, Problems& problems) {
    const Problem* first = first_error(as_it_stands);
    const LooseLine loose = first ? read_loose(phrase, circuit) : LooseLine{};
    const auto meanings = meanings_of(loose.orders, circuit);
    const bool is_clear = first && first->code == ProblemCode::wrong_unit;
    if (first && !is_clear && meanings.empty() && add_spoken(phrase, circuit, loose.spoken, problems)) return;
    if (!meanings.empty()) {
        std::string advice = "write " + meanings.front();
        if (meanings.size() > 1) advice += ", or " + meanings[1];
        return problems.error(first->code, first->place, first->message, std::move(advice));
    }
    if (first && says_little(first->code)) {
        for (const TypedText& order : loose.orders) {
            if (!shows_a_number(order)) continue;
            Problems own;
            parse_reading(order, circuit, own);
            const Problem* clearer = first_error(own);
            // A value by itself wants its place, whatever was said around it.
            const bool alone = order.text.find(' ') == std::string::npos;
            if (!clearer || (says_little(clearer->code) && !alone)) continue;
            return problems.error(clearer->code, phrase.place, clearer->message, clearer->suggestion);
        }
    }
    if (const auto noted = first ? with_rest_as_note(phrase, circuit) : std::nullopt)
        return problems.error(first->code, first->place, first->message, "write " + *noted);
    if (first && says_little(first->code) && !loose.only_state.empty())
        return problems.error(ProblemCode::missing_word, phrase.place, "no measurement stands behind the state",
                              "write what it did then: " + loose.only_state + " " + example_behind(circuit));
    std::string kind;
    if (const auto lines = first ? with_each_of_kind(phrase, circuit, kind) : std::vector<std::string>{};
        !lines.empty())
        return problems.error(ProblemCode::two_meanings, phrase.place, "which " + kind + " is not said",
                              "write " + list_between(lines, ", or "));
    problems.add_all(as_it_stands);
}

}  // namespace voltfall
