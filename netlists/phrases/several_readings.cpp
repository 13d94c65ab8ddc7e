#include "netlists/phrases/several_readings.hpp"

#include <algorithm>
#include <functional>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/loose_order.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/plain_words.hpp"
#include "netlists/phrases/position_answers.hpp"
#include "netlists/phrases/position_words.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/told_points.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

bool joins_halves(const Word& word) {
    static constexpr std::string_view joining[] = {"but", "and", "yet", "though", "then", "/", ";", "&"};
    return !word.quoted && std::any_of(std::begin(joining), std::end(joining),
                                       [&](std::string_view one) { return same_word(one, word.text); });
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
std::optional<ReadingPiece> half_behind(std::span<const Word> first, std::span<const Word> rest, SourcePlace place,
                                        const Circuit& circuit) {
    const auto by_itself =
        names_something(rest, circuit) ? reading_piece({words_as_typed(rest), place}, circuit) : std::nullopt;
    if (by_itself) return by_itself;
    constexpr std::size_t longest_subject = 3;
    for (std::size_t count = 1; count < first.size() && count <= longest_subject; ++count) {
        if (!names_a_thing(first.first(count), circuit)) continue;
        if (auto half = reading_piece({words_as_typed(first.first(count)) + " " + without_comma(rest), place}, circuit))
            return half;
    }
    return std::nullopt;
}

/// Parts two halves at the words from `end` of the first on to `begin` of the second; empty where they are none.
std::vector<std::string> halves_at(const TypedText& phrase, const Circuit& circuit, std::span<const Word> words,
                                   std::size_t end, std::size_t begin) {
    const std::span<const Word> rest = words.subspan(begin);
    if (!names_something(words.first(end), circuit) || rest.empty()) return {};
    const auto first = reading_piece({words_as_typed(words.first(end)), phrase.place}, circuit);
    const auto second = first ? half_behind(words.first(end), rest, phrase.place, circuit) : std::nullopt;
    if (!second) return {};
    const auto with = [&](const ReadingPiece& one, const ReadingPiece& other) {
        const bool same_state = one.state.empty() && !other.state.empty();
        return (same_state ? write_state(circuit, other.state) + "  " : "") + one.text;
    };
    // What was set for the first was so for the second; behind two numbers it was so for both, but not where the second
    // tells what became of the first: `battery 12.1V, drops to 9.8 on hi`.
    static constexpr std::string_view becomes[]{"drops", "drop", "falls", "sags", "dips", "dropped", "rises", "goes"};
    const bool both = first->is_number && second->is_number && !rest.front().is_among(becomes);
    return {both ? with(*first, *second) : first->text, with(*second, *first)};
}

}  // namespace

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
         {std::function([&](std::size_t i) {
              return joins_halves(all[i]) && !(i + 1 < all.size() && sets(i - 1) && sets(i + 1));
          }),
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

}  // namespace voltfall
