#include "netlists/files/section_names.hpp"

#include <algorithm>
#include <array>

namespace voltfall {

namespace {

enum class Keys { plain, dotted };

struct Row {
    FileSection section;
    std::string_view word;
    SectionOf file;
    Keys keys;
};

constexpr std::array rows{
    Row{FileSection::parts, "parts", SectionOf::circuit, Keys::plain},
    Row{FileSection::plugs, "plugs", SectionOf::circuit, Keys::plain},
    Row{FileSection::wires, "wires", SectionOf::circuit, Keys::plain},
    Row{FileSection::controls, "controls", SectionOf::circuit, Keys::plain},
    Row{FileSection::limits, "limits", SectionOf::circuit, Keys::dotted},
    Row{FileSection::reach, "reach", SectionOf::circuit, Keys::dotted},
    Row{FileSection::strip, "strip", SectionOf::circuit, Keys::plain},
    Row{FileSection::care, "care", SectionOf::circuit, Keys::dotted},
    Row{FileSection::together, "together", SectionOf::circuit, Keys::dotted},
    Row{FileSection::closed, "closed", SectionOf::circuit, Keys::dotted},
    Row{FileSection::heat, "heat", SectionOf::circuit, Keys::plain},
    Row{FileSection::readings, "readings", SectionOf::job, Keys::plain},
    Row{FileSection::fitted, "fitted", SectionOf::job, Keys::plain},
    Row{FileSection::history, "history", SectionOf::job, Keys::plain},
    Row{FileSection::repaired, "repaired", SectionOf::job, Keys::dotted},
    Row{FileSection::after, "after", SectionOf::job, Keys::plain},
};

const Row* row_named(std::string_view word) {
    const auto found = std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.word == word; });
    return found == rows.end() ? nullptr : &*found;
}

}  // namespace

std::string_view section_word(FileSection section) {
    return std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.section == section; })->word;
}

std::optional<FileSection> section_named(std::string_view word) {
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

std::string section_advice(std::string_view word, SectionOf file) {
    const Row* row = row_named(word);
    if (!row) return {};
    const std::string header = "[" + std::string(word) + "]";
    if (row->file == file)
        return header + " is a section: write the header on a line of its own and the lines below it";
    return header + " belongs into a " + (row->file == SectionOf::job ? "job" : "circuit") + ", a file of its own";
}

bool names_are_free(std::string_view section) {
    constexpr std::array free{FileSection::parts,    FileSection::wires, FileSection::strip,
                              FileSection::readings, FileSection::after, FileSection::history};
    const Row* row = row_named(section);
    return row && std::find(free.begin(), free.end(), row->section) != free.end();
}

bool has_dotted_keys(std::string_view section) {
    const Row* row = row_named(section);
    return row && row->keys == Keys::dotted;
}

}  // namespace voltfall
