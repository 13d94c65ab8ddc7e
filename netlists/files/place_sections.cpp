// Sections whose lines say something of a place in words: [strip], [care], [together], [closed].
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "netlists/files/circuit_sections.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr double seconds_a_minute = 60;
constexpr std::string_view strip_example = "8min: C303 C304 M1";

/// The minutes before the colon of a strip-down, as typed; the whole text where it has no colon.
std::string_view head_of(std::string_view text) {
    return trimmed(text.substr(0, text.find(':')));
}

/// `8min` of `8min: C303 C304 M1`; reported where it is no time.
std::optional<double> strip_minutes(CircuitDraft& draft, const TomlEntry& entry, const TypedText& text) {
    const std::string advice = fmt::format("for example {} = \"{}\"", entry.key, strip_example);
    const auto refuse = [&](ProblemCode code, std::string message) {
        draft.problems.error(code, text.place, std::move(message), advice);
        return std::nullopt;
    };
    const std::string_view head = head_of(text.text);
    const bool colon = text.text.find(':') != std::string::npos;
    const auto time = colon ? parse_measure(head) : std::nullopt;
    const bool number = colon && looks_like_number(head);
    if (!time && number) {
        const Misread misread = explain_misread(head, std::array{Unit::second});
        return refuse(misread.code, misread.message);
    }
    if (time && time->unit != Unit::second && time->unit != Unit::none)
        return refuse(ProblemCode::wrong_unit, fmt::format("'{}' is in the wrong unit; expected minutes", head));
    if (!time) {
        const std::string found = head.empty() || !colon ? "" : fmt::format(", not '{}'", head);
        return refuse(
            ProblemCode::missing_figure,
            fmt::format("strip-down '{}' must say its minutes and a colon before the places{}", entry.key, found));
    }
    const double minutes = time->unit == Unit::second ? time->value / seconds_a_minute : time->value;
    const FigureBounds& bounds = figure_bounds("place", "time to reach it", Unit::second);
    if (const auto wrong = outside_bounds(bounds, minutes * seconds_a_minute, head, strip_example))
        return refuse(ProblemCode::figure_out_of_range, wrong->message);
    return minutes;
}

/// `8min: C303 C304 M1`.
void read_strip(CircuitDraft& draft, const TomlEntry& entry) {
    const auto text = draft.text_of(entry, strip_example);
    const auto minutes = text ? strip_minutes(draft, entry, *text) : std::nullopt;
    if (!minutes) return;
    Strip strip{entry.key, *minutes, {}};
    const auto colon = text->text.find(':');
    const int offset = character_count(text->text.substr(0, colon + 1));
    const TypedText rest{text->text.substr(colon + 1),
                         text->place.shifted(offset, std::max(1, text->place.length - offset))};
    WordReader words(rest, draft.problems);
    if (words.at_end()) {
        draft.problems.error(ProblemCode::missing_word, text->place,
                             fmt::format("strip-down '{}' names no places", entry.key),
                             fmt::format("for example {} = \"{}\"", entry.key, strip_example));
    }
    while (!words.at_end()) {
        const Word word = words.take();
        for (std::string& place : places_of(draft, word.text, words.place(&word))) {
            if (std::find(strip.places.begin(), strip.places.end(), place) != strip.places.end()) {
                draft.problems.error(ProblemCode::written_twice, words.place(&word),
                                     fmt::format("'{}' stands twice in strip-down '{}'", word.text, entry.key),
                                     "name each place once");
            } else {
                strip.places.push_back(std::move(place));
            }
        }
    }
    draft.circuit.strips.push_back(std::move(strip));
}

}  // namespace

void read_strips(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) read_strip(draft, entry);
}

namespace {

constexpr std::array<std::string_view, 7> words_of_care{"hot",  "rubs",        "moves",          "wet",
                                                        "rust", "heat-cycled", "repaired-before"};

/// The words of [care] that a free text holds, each once.
std::vector<std::string> care_words(const std::string& text) {
    std::vector<std::string> found;
    std::string word;
    const auto end_word = [&] {
        const bool is_known = std::find(words_of_care.begin(), words_of_care.end(), word) != words_of_care.end();
        if (is_known && std::find(found.begin(), found.end(), word) == found.end()) found.push_back(word);
        word.clear();
    };
    for (const char c : lower(text)) {
        if ((c >= 'a' && c <= 'z') || c == '-') {
            word += c;
        } else {
            end_word();
        }
    }
    end_word();
    return found;
}

/// The piece of a text from `from` on, without the blanks around it, with its place.
TypedText piece_of(const TypedText& text, std::size_t from, std::size_t end) {
    const std::string_view whole = text.text;
    const std::string_view piece = trimmed(whole.substr(from, end - from));
    const auto at = piece.empty() ? from : static_cast<std::size_t>(piece.data() - whole.data());
    return {std::string(piece),
            text.place.shifted(character_count(whole.substr(0, at)), std::max(1, character_count(piece)))};
}

/// Behind the colon stand words of the set: `past the tube: hot, rubbs` has one that is none. What is not near to any
/// of them is text of the user's own.
void check_care_words(CircuitDraft& draft, const TypedText& text) {
    const auto colon = text.text.rfind(':');
    const std::vector<std::string> known(words_of_care.begin(), words_of_care.end());
    for (std::size_t from = colon == std::string::npos ? 0 : colon + 1; from <= text.text.size();) {
        const std::size_t comma = std::min(text.text.find(',', from), text.text.size());
        const TypedText piece = piece_of(text, from, comma);
        from = comma + 1;
        const bool one_word = !piece.text.empty() && piece.text.find_first_of(" \t") == std::string::npos;
        const bool is_known = std::find(known.begin(), known.end(), lower(piece.text)) != known.end();
        if (!one_word || is_known) continue;
        if (const std::string meant = word_near(piece.text, known); !meant.empty())
            draft.problems.error(ProblemCode::unknown_word, piece.place,
                                 fmt::format("'{}' is no word of [care]", piece.text), meant);
    }
}

/// True where the text says something; reported otherwise.
bool says_something(CircuitDraft& draft, const TomlEntry& entry, const TypedText& text, std::string_view what,
                    std::string_view example) {
    if (!trimmed(std::string_view(text.text)).empty()) return true;
    draft.problems.error(ProblemCode::empty_phrase, text.place, fmt::format("'{}' {}", entry.key, what),
                         fmt::format("for example {} = \"{}\"", entry.key, example));
    return false;
}

}  // namespace

void read_care(CircuitDraft& draft, const TomlSection& section) {
    constexpr std::string_view example = "past the hot exhaust-gas tube: hot, rubs";
    for (const TomlEntry& entry : section.entries) {
        const auto text = draft.text_of(entry, example);
        if (text && says_something(draft, entry, *text, "says nothing of its place", example))
            check_care_words(draft, *text);
        for (std::string& place : places_of(draft, entry.key, entry.key_place)) {
            if (text) draft.circuit.care.push_back({std::move(place), text->text, care_words(text->text)});
        }
    }
}

namespace {

/// Letters in front of the digits, where both are there: "C" of "C303"; empty otherwise.
std::string_view stem_of(std::string_view name) {
    const auto digit = name.find_first_of("0123456789");
    return digit == std::string_view::npos || digit == name.size() ? std::string_view{} : name.substr(0, digit);
}

/// `C99 plug and pins`: a word that is made like the names of the circuit and that nothing declares is told.
void check_names_in(CircuitDraft& draft, const TypedText& text) {
    Problems unused;
    WordReader words(text, unused);
    const std::vector<std::string> known = place_names(draft.circuit);
    while (!words.at_end()) {
        const Word word = words.take();
        const std::string_view stem = stem_of(word.text);
        const bool alike = !word.quoted && !stem.empty() && is_name(word.text) &&
                           std::any_of(known.begin(), known.end(),
                                       [&](const std::string& name) { return same_word(stem_of(name), stem); });
        if (!alike || draft.is_lost(word.text) || find_place(draft.circuit, word.text)) continue;
        draft.problems.warning(ProblemCode::unknown_place, words.place(&word),
                               fmt::format("no part, plug or wire is called '{}'", word.text),
                               did_you_mean_or_known(word.text, known));
    }
}

}  // namespace

void read_together(CircuitDraft& draft, const TomlSection& section) {
    for (const TomlEntry& entry : section.entries) {
        std::vector<TypedText> texts;
        bool typed = true;
        if (const auto* list = std::get_if<TextList>(&entry.value.value)) {
            texts = *list;
        } else if (const auto text = draft.text_of(entry, "C303 plug and pins")) {
            texts = {*text};
        } else {
            typed = false;
        }
        std::vector<std::string> words;
        for (const TypedText& text : texts) words.push_back(text.text);
        const auto blank = std::find_if(texts.begin(), texts.end(), [](const TypedText& text) {
            return trimmed(std::string_view(text.text)).empty();
        });
        if (typed && (texts.empty() || blank != texts.end()) && !entry.value.misread) {
            draft.problems.error(ProblemCode::empty_phrase, texts.empty() ? entry.value.place : blank->place,
                                 fmt::format("'{}' names nothing that is replaced or checked with it", entry.key),
                                 fmt::format("for example {} = [\"C303 plug and pins\"]", entry.key));
        }
        for (const TypedText& text : texts) check_names_in(draft, text);
        if (const auto place = draft.place_named(entry.key, entry.key_place)) draft.circuit.together[*place] = words;
    }
}

void read_closed(CircuitDraft& draft, const TomlSection& section) {
    // The one word that does not keep a meter away; any other says why a probe may not go there.
    static const std::vector<std::string> known{"electronic", "sealed", "airbag"};
    for (const TomlEntry& entry : section.entries) {
        auto text = draft.text_of(entry, "sealed");
        if (text && says_something(draft, entry, *text, "does not say why it is closed", "sealed")) {
            const TypedText word = piece_of(*text, 0, text->text.size());
            const auto same = std::find_if(known.begin(), known.end(),
                                           [&](const std::string& one) { return same_word(one, word.text); });
            std::string meant = same == known.end() ? word_near(word.text, known) : "";
            // Half the word: `seal`.
            constexpr std::size_t half = 4;
            for (const std::string& one : known) {
                const bool begun = word.text.size() >= half && one.starts_with(lower(word.text));
                if (same == known.end() && begun) meant = "did you mean '" + one + "'?";
            }
            if (!meant.empty())
                draft.problems.error(ProblemCode::unknown_word, word.place,
                                     fmt::format("'{}' is no word of [closed]", word.text), meant);
            text->text = same == known.end() ? word.text : *same;
        }
        for (const std::string& place : places_of(draft, entry.key, entry.key_place)) {
            if (text) draft.circuit.closed[place] = text->text;
        }
    }
}

}  // namespace voltfall
