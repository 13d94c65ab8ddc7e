#include "netlists/files/section_names.hpp"

#include <algorithm>
#include <array>

namespace voltfall {

namespace {

enum class Keys { plain, dotted };

struct Row {
    Section section;
    std::string_view word;
    SectionOf file;
    Keys keys;
};

constexpr std::array rows{
    Row{Section::parts, "parts", SectionOf::circuit, Keys::plain},
    Row{Section::plugs, "plugs", SectionOf::circuit, Keys::plain},
    Row{Section::wires, "wires", SectionOf::circuit, Keys::plain},
    Row{Section::controls, "controls", SectionOf::circuit, Keys::plain},
    Row{Section::limits, "limits", SectionOf::circuit, Keys::dotted},
    Row{Section::reach, "reach", SectionOf::circuit, Keys::dotted},
    Row{Section::strip, "strip", SectionOf::circuit, Keys::plain},
    Row{Section::care, "care", SectionOf::circuit, Keys::dotted},
    Row{Section::together, "together", SectionOf::circuit, Keys::dotted},
    Row{Section::closed, "closed", SectionOf::circuit, Keys::dotted},
    Row{Section::heat, "heat", SectionOf::circuit, Keys::plain},
    Row{Section::readings, "readings", SectionOf::job, Keys::plain},
    Row{Section::fitted, "fitted", SectionOf::job, Keys::plain},
    Row{Section::history, "history", SectionOf::job, Keys::plain},
    Row{Section::repaired, "repaired", SectionOf::job, Keys::dotted},
    Row{Section::after, "after", SectionOf::job, Keys::plain},
};

const Row* row_named(std::string_view word) {
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.word == word; });
    return found == rows.end() ? nullptr : &*found;
}

}  // namespace

std::string_view section_word(Section section) {
    return std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.section == section; })->word;
}

std::optional<Section> section_named(std::string_view word) {
    const Row* row = row_named(word);
    return row ? std::optional(row->section) : std::nullopt;
}

std::vector<std::string> words_of_sections(SectionOf file) {
    std::vector<std::string> words;
    for (const Row& row : rows) {
        if (row.file == file) words.emplace_back(row.word);
    }
    return words;
}

std::vector<std::string> words_of_sections() {
    std::vector<std::string> words;
    for (const Row& row : rows) words.emplace_back(row.word);
    return words;
}

bool has_dotted_keys(std::string_view section) {
    const Row* row = row_named(section);
    return row && row->keys == Keys::dotted;
}

}  // namespace voltfall
