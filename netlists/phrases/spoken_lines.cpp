#include "netlists/phrases/spoken_lines.hpp"

#include <algorithm>
#include <array>

#include "netlists/phrases/spoken_pattern.hpp"
#include "netlists/phrases/spoken_rows.hpp"
#include "netlists/phrases/told_points.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

/// A row of the tables with its patterns cut.
template <class Row>
struct CutRow {
    const Row* row;
    std::vector<SpokenPattern> said;
};
using CutRows = std::vector<CutRow<SpokenRow>>;

template <class Row>
std::vector<CutRow<Row>> cut_rows(std::span<const Row> rows) {
    std::vector<CutRow<Row>> all;
    for (const Row& row : rows) all.push_back({&row, cut_patterns(row.said)});
    return all;
}

const std::vector<CutRow<SpokenState>>& cut_states() {
    static const auto rows = cut_rows(spoken_states());
    return rows;
}
const CutRows& cut_readings() {
    static const auto rows = [] {
        CutRows all = cut_rows(spoken_readings());
        for (auto& row : cut_rows(spoken_sights())) all.push_back(std::move(row));
        return all;
    }();
    return rows;
}
const CutRows& cut_tests() {
    static const auto rows = cut_rows(spoken_tests());
    return rows;
}

/// The readings that a phrase is, parted by `;`.
std::vector<std::string> parted(std::string_view meant) {
    std::vector<std::string> lines;
    while (!meant.empty()) {
        const auto end = meant.find(';');
        std::string_view one = meant.substr(0, end);
        while (one.starts_with(' ')) one.remove_prefix(1);
        lines.emplace_back(one);
        meant = end == std::string_view::npos ? std::string_view{} : meant.substr(end + 1);
    }
    return lines;
}

/// The first part that a word names, itself or by one of its points.
PartId named_in(const Circuit& circuit, std::span<const Word> words) {
    for (const Word& word : words) {
        const PartId part = word.quoted ? PartId{} : circuit.part_at(word.text);
        if (part.valid()) return part;
    }
    return {};
}

bool says_nothing(const Word& word) {
    return same_word(word.text, "is") || same_word(word.text, "just") || same_word(word.text, "a");
}

/// Is there nothing behind but words that say nothing?
bool ends_there(std::span<const Word> words, std::size_t at) {
    static constexpr std::array<std::string_view, 7> idle{"now", "again", "only", "any", "more", "either", "is"};
    return std::all_of(words.begin() + static_cast<std::ptrdiff_t>(at), words.end(), [](const Word& word) {
        return std::any_of(idle.begin(), idle.end(), [&](std::string_view i) { return same_word(i, word.text); });
    });
}

std::optional<SpokenLine> find_row(const Circuit& circuit, const CutRows& rows, std::span<const Word> words, Unit unit,
                                   PartId load) {
    while (words.size() > 1 && says_nothing(words.front())) words = words.subspan(1);
    const WordBits there(words);
    for (const CutRow<SpokenRow>& cut_row : rows) {
        const SpokenRow* row = cut_row.row;
        if (row->unit != unit) continue;
        SpokenLine line{row->as, {}, row->unit};
        const bool found = std::any_of(cut_row.said.begin(), cut_row.said.end(), [&](const SpokenPattern& said) {
            auto names = said.may_stand_among(there) ? match_spoken(circuit, words, 0, said) : std::nullopt;
            if (!names || !ends_there(words, names->words)) return false;
            names->load = load;
            const auto meant = fill_spoken(circuit, row->meant, *names);
            if (!meant) return false;
            line.lines = parted(*meant);
            return true;
        });
        if (!found) continue;
        // Of one thing alone nothing is to be asked.
        if (line.lines.size() == 1) line.as = SpokenAs::reading;
        return line;
    }
    return std::nullopt;
}

/// The unit of a row for this number; ohms too where the meter shows that nothing flows.
Unit unit_of(const Word* value) {
    if (!value) return Unit::none;
    return value->measure ? value->measure->unit : Unit::ohm;
}

/// What the words around a bare number measure; volts, where they name nothing else.
Unit unit_named(std::span<const Word> words) {
    static constexpr std::string_view amperes[]{"amp",     "amps", "amperes", "clamp",   "inrush", "draw",  "draws",
                                                "drawing", "pull", "pulls",   "pulling", "takes",  "taking"};
    static constexpr std::string_view ohms[]{"ohm", "ohms", "resistance"};
    const auto names = [&](const auto& list) {
        return std::any_of(words.begin(), words.end(), [&](const Word& word) {
            return std::any_of(std::begin(list), std::end(list),
                               [&](std::string_view one) { return same_word(one, word.text); });
        });
    };
    return names(amperes) ? Unit::ampere : names(ohms) ? Unit::ohm : Unit::volt;
}

}  // namespace

std::vector<Word> with_spoken_states(const Circuit& circuit, std::vector<Word> words) {
    const PartId load = load_told(circuit, words, {});
    const PartId named = named_in(circuit, words);
    WordBits there(words);
    for (std::size_t at = 0; at < words.size(); ++at) {
        for (const CutRow<SpokenState>& cut_row : cut_states()) {
            const SpokenState& row = *cut_row.row;
            const bool replaced = std::any_of(cut_row.said.begin(), cut_row.said.end(), [&](const SpokenPattern& said) {
                auto names = said.may_stand_among(there) ? match_spoken(circuit, words, at, said) : std::nullopt;
                if (!names) return false;
                names->load = load;
                names->named = named;
                const auto meant = fill_spoken(circuit, row.meant, *names);
                if (!meant) return false;
                const Words put = cut_words(*meant);
                const auto from = words.begin() + static_cast<std::ptrdiff_t>(at);
                words.insert(words.erase(from, from + static_cast<std::ptrdiff_t>(names->words)), put.begin(),
                             put.end());
                there = WordBits(words);
                at += put.size() - 1;
                // `hit the motor, runs now`: what came of it begins behind the comma.
                if (at + 1 < words.size()) words[at + 1].after_comma = false;
                return true;
            });
            if (replaced) break;
        }
    }
    return words;
}

std::optional<SpokenLine> spoken_line(const Circuit& circuit, std::span<const Word> words, const Word* value,
                                      PartId load) {
    const Unit unit = unit_of(value);
    if (words.empty()) {
        // Amperes that nothing is said of are those of the load.
        if (unit != Unit::ampere) return std::nullopt;
        return find_row(circuit, cut_readings(), cut_words("draws"), unit, load);
    }
    if (!value || unit != Unit::none) return find_row(circuit, cut_readings(), words, unit, load);
    return find_row(circuit, cut_readings(), words, unit_named(words), load);
}

std::optional<SpokenLine> spoken_test(const Circuit& circuit, std::span<const Word> words) {
    return words.empty() ? std::nullopt
                         : find_row(circuit, cut_tests(), words, Unit::none, load_told(circuit, words, {}));
}

}  // namespace voltfall
