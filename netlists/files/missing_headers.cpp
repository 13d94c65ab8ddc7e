#include "netlists/files/missing_headers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>

#include "netlists/files/section_names.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

using IsLine = std::function<bool(const TomlEntry&)>;

/// `F7.2 > M1.1 …`; a limit such as `>9V` has no blank behind its sign.
bool is_wire(const TomlEntry& entry) {
    const std::string text = entry.text().text;
    return text.find(" > ") != std::string::npos || text.find("->") != std::string::npos;
}

/// A text that begins with a kind of part.
bool is_part(const TomlEntry& entry) {
    const std::string text = entry.text().text;
    return find_kind(text.substr(0, text.find_first_of(" :,"))) != nullptr;
}

bool is_numbered(const TomlEntry& entry) {
    return entry.is_text() &&
           std::all_of(entry.key.begin(), entry.key.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Is the section there, be it misspelt?
bool is_there(const TomlFile& file, std::string_view word) {
    const std::vector<std::string> known{std::string(word)};
    return std::any_of(file.sections.begin(), file.sections.end(), [&](const TomlSection& section) {
        return section.name == word || (!section_named(section.name) && !nearest(section.name, known).empty());
    });
}

/// Moves the lines of the sort from sections where they cannot be meant.
void put_in(TomlFile& file, FileSection missing, std::vector<std::string> from, const IsLine& is_line,
            Problems& problems) {
    const std::string word(section_word(missing));
    if (is_there(file, word)) return;
    TomlSection found{word, {}, {}, {}};
    for (TomlSection& section : file.sections) {
        if (std::find(from.begin(), from.end(), section.name) == from.end()) continue;
        const auto moved = std::stable_partition(section.entries.begin(), section.entries.end(),
                                                 [&](const TomlEntry& entry) { return !is_line(entry); });
        std::move(moved, section.entries.end(), std::back_inserter(found.entries));
        section.entries.erase(moved, section.entries.end());
    }
    if (found.entries.empty()) return;
    const TomlEntry& first = found.entries.front();
    found.place = first.key_place;
    problems.error(ProblemCode::missing_section, first.key_place,
                   fmt::format("the section header [{}] is missing above '{}'", word, first.key),
                   fmt::format("write [{}] on a line of its own", word));
    file.sections.push_back(std::move(found));
}

}  // namespace

void put_in_circuit_headers(TomlFile& file, Problems& problems) {
    const std::string parts(section_word(FileSection::parts));
    put_in(file, FileSection::wires, {"", parts, std::string(section_word(FileSection::plugs))}, is_wire, problems);
    put_in(file, FileSection::parts, {""}, is_part, problems);
}

void put_in_job_headers(TomlFile& file, Problems& problems) {
    put_in(file, FileSection::readings, {""}, is_numbered, problems);
}

}  // namespace voltfall
