#include "netlists/phrases/reading_advice.hpp"

#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/measurement.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/plain_words.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

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

/// The first error of a phrase that does not read; null where its reader has not said why.
const Problem* first_error(const Problems& problems) {
    const auto& list = problems.list();
    const auto found =
        std::find_if(list.begin(), list.end(), [](const Problem& p) { return p.severity == Severity::error; });
    return found == list.end() ? nullptr : &*found;
}

std::string list_between(std::span<const std::string> lines, std::string_view between) {
    std::string list;
    for (const std::string& line : lines) list += (list.empty() ? "" : std::string(between)) + line;
    return list;
}

/// `no power at the fuse` where there are several: the line with each of them named, where it reads so. Empty where no
/// word is a kind of which there are a few.
std::vector<std::string> with_each_of_kind(const TypedText& phrase, const Circuit& circuit, std::string& kind_word) {
    constexpr std::size_t most = 4;
    const auto reads = [&](const std::string& line) {
        Problems own;
        const TypedText typed{line, phrase.place};
        if (parse_reading(typed, circuit, own)) return true;
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

/// `cab tilted M1 dead`: words of the person's own in front of a reading that reads may be a condition, which stands in
/// quotes. Returns nullopt where they are not, or one of them is a name, a figure or a word of readings.
std::optional<std::string> with_own_condition(const TypedText& phrase, const Circuit& circuit) {
    constexpr std::size_t most_words = 4;
    const std::vector<Word> words = cut_words(phrase.text);
    for (std::size_t count = 1; count <= most_words && count + 1 < words.size(); ++count) {
        const std::span<const Word> own = std::span(words).first(count);
        const Word& last = own.back();
        if (last.quoted || last.measure || is_measurement_word(lower(last.text)) || names_something(own, circuit) ||
            !nearest(last.text, state_word_list(circuit)).empty())
            return std::nullopt;
        const auto behind = static_cast<std::size_t>(words[count].offset);
        // `thermal fuse blown`: in front of a kind or a word for a load it says which one.
        if (find_kind(lower(words[count].text)) || is_load_word(circuit, words[count].text)) return std::nullopt;
        const auto rest = reading_piece({phrase.text.substr(behind), phrase.place}, circuit);
        if (!rest) continue;
        std::string said = phrase.text.substr(0, behind);
        while (!said.empty() && (said.back() == ' ' || said.back() == ',' || said.back() == ':')) said.pop_back();
        return '"' + said + "\" " + rest->text;
    }
    return std::nullopt;
}

/// `resistor replaced last year`: what was fitted before the job is no reading.
std::optional<std::string> as_fitted(const TypedText& phrase, const Circuit& circuit) {
    static constexpr std::string_view done[]{"replaced", "changed", "renewed", "fitted", "installed", "new"};
    static constexpr std::string_view when[]{"ago",      "last",  "already", "before",
                                             "recently", "weeks", "months",  "years"};
    const std::vector<Word> words = plain_words(circuit, cut_words(phrase.text));
    const auto has = [&](const auto& list) {
        return std::any_of(words.begin(), words.end(), [&](const Word& word) { return word.is_among(list); });
    };
    // What has quotes of its own does not stand between quotes.
    if (!has(done) || !has(when) || phrase.text.find('"') != std::string::npos) return std::nullopt;
    for (const Word& word : words) {
        const PartId part = word.quoted ? PartId{} : circuit.find_part(word.text);
        if (part.valid()) return circuit.part(part).name + " = \"" + phrase.text + "\"";
    }
    return std::nullopt;
}

/// What may stand behind a state: how the circuit's first load goes.
std::string example_behind(const Circuit& circuit) {
    for (const Part& part : circuit.parts) {
        if (part.load_branch.valid()) return part.name + " dead, or " + part.name + " normal";
    }
    return "with what was measured";
}

}  // namespace

void add_clearest(const TypedText& phrase, const Circuit& circuit, const Problems& as_it_stands, Problems& problems) {
    const Problem* const told = first_error(as_it_stands);
    if (!told)
        return problems.error(ProblemCode::extra_word, phrase.place, "'" + phrase.text + "' is not read as a reading",
                              "voltfall help readings");
    const Problem& first = *told;
    const LooseLine loose = read_loose(phrase, circuit);
    const auto meanings = meanings_of(loose.orders, circuit);
    const bool is_clear = first.code == ProblemCode::wrong_unit;
    if (!is_clear && meanings.empty() && add_spoken(phrase, circuit, loose.spoken, problems)) return;
    if (!meanings.empty()) {
        std::string advice = "write " + meanings.front();
        if (meanings.size() > 1) advice += ", or " + meanings[1];
        return problems.error(first.code, first.place, first.message, std::move(advice));
    }
    if (says_little(first.code)) {
        for (const TypedText& order : loose.orders) {
            if (!shows_a_number(order)) continue;
            Problems own;
            if (parse_reading(order, circuit, own)) continue;
            const Problem* const clearer = first_error(own);
            // A value by itself wants its place, whatever was said around it.
            const bool alone = order.text.find(' ') == std::string::npos;
            if (!clearer || (says_little(clearer->code) && !alone)) continue;
            return problems.error(clearer->code, phrase.place, clearer->message, clearer->suggestion);
        }
    }
    if (const auto named = says_little(first.code) ? with_only_part_named(phrase, circuit) : std::nullopt)
        return problems.error(first.code, first.place, first.message, "write " + *named);
    if (const auto noted = with_rest_as_note(phrase, circuit))
        return problems.error(first.code, first.place, first.message, "write " + *noted);
    if (says_little(first.code) && !loose.only_state.empty())
        return problems.error(ProblemCode::missing_word, phrase.place, "no measurement stands behind the state",
                              "write what it did then: " + loose.only_state + " " + example_behind(circuit));
    std::string kind;
    if (const auto lines = with_each_of_kind(phrase, circuit, kind); !lines.empty())
        return problems.error(ProblemCode::two_meanings, phrase.place, "which " + kind + " is not said",
                              "write " + list_between(lines, ", or "));
    if (const auto fitted = as_fitted(phrase, circuit))
        return problems.error(first.code, first.place, first.message,
                              "what was fitted before stands in the job's section [fitted]: " + *fitted);
    if (const auto own = says_little(first.code) ? with_own_condition(phrase, circuit) : std::nullopt)
        return problems.error(first.code, first.place, first.message,
                              "a condition in words of your own stands in quotes: " + *own);
    problems.add_all(as_it_stands);
}

}  // namespace voltfall
