#include "netlists/phrases/spoken_lines.hpp"

#include <algorithm>
#include <array>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/spoken_pattern.hpp"
#include "netlists/phrases/spoken_rows.hpp"
#include "netlists/phrases/thing_names.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using Words = std::vector<Word>;

/// Calls `use` with each piece between the marks, until one says yes.
template <class Use>
bool any_piece(std::string_view text, char mark, const Use& use) {
    while (!text.empty()) {
        const auto end = text.find(mark);
        std::string_view piece = text.substr(0, end);
        while (piece.starts_with(' ')) piece.remove_prefix(1);
        if (use(piece)) return true;
        text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
    }
    return false;
}

/// The load that the words name, else the only one.
PartId load_in(const Circuit& circuit, std::span<const Word> words) {
    for (const Word& word : words) {
        const PartId part = circuit.find_part(word.text);
        if (part.valid() && circuit.part(part).load_branch.valid()) return part;
        if (word.quoted || !is_load_word(circuit, word.text)) continue;
        if (const PartId load = find_load(circuit, word.text).part; load.valid()) return load;
    }
    return load_unsaid(circuit, {});
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

std::optional<SpokenLine> find_row(const Circuit& circuit, std::span<const SpokenRow> rows, std::span<const Word> words,
                                   Unit unit, PartId load) {
    while (words.size() > 1 && says_nothing(words.front())) words = words.subspan(1);
    for (const SpokenRow& row : rows) {
        if (row.unit != unit) continue;
        SpokenLine line{row.as, {}, row.unit};
        const bool found = any_piece(row.said, '|', [&](std::string_view said) {
            auto names = match_spoken(circuit, words, 0, said);
            if (!names || !ends_there(words, names->words)) return false;
            names->load = load;
            const auto meant = fill_spoken(circuit, row.meant, *names);
            if (!meant) return false;
            any_piece(*meant, ';', [&](std::string_view one) { return line.lines.emplace_back(one), false; });
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
    const PartId load = load_in(circuit, words);
    for (std::size_t at = 0; at < words.size(); ++at) {
        for (const SpokenState& state : spoken_states()) {
            const bool replaced = any_piece(state.said, '|', [&](std::string_view said) {
                auto names = match_spoken(circuit, words, at, said);
                if (!names) return false;
                names->load = load;
                const auto meant = fill_spoken(circuit, state.meant, *names);
                if (!meant) return false;
                const Words put = cut_words(*meant);
                const auto from = words.begin() + static_cast<std::ptrdiff_t>(at);
                words.insert(words.erase(from, from + static_cast<std::ptrdiff_t>(names->words)), put.begin(),
                             put.end());
                at += put.size() - 1;
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
        return find_row(circuit, spoken_readings(), cut_words("draws"), unit, load);
    }
    if (!value || unit != Unit::none) return find_row(circuit, spoken_readings(), words, unit, load);
    return find_row(circuit, spoken_readings(), words, unit_named(words), load);
}

std::optional<SpokenLine> spoken_test(const Circuit& circuit, std::span<const Word> words) {
    return words.empty() ? std::nullopt : find_row(circuit, spoken_tests(), words, Unit::none, load_in(circuit, words));
}

}  // namespace voltfall
