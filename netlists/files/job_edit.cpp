#include "netlists/files/job_edit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <vector>

#include "netlists/files/toml_file.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

/// Lines with their ends.
std::vector<std::string_view> lines_of(std::string_view text) {
    std::vector<std::string_view> lines;
    while (!text.empty()) {
        const auto end = text.find('\n');
        const std::size_t length = end == std::string_view::npos ? text.size() : end + 1;
        lines.push_back(text.substr(0, length));
        text.remove_prefix(length);
    }
    return lines;
}

/// A line of nothing but blanks or a note.
bool says_nothing(std::string_view line) {
    const auto first = line.find_first_not_of(" \t\r\n");
    return first == std::string_view::npos || line[first] == '#';
}

std::string with_line_ends(const std::vector<std::string_view>& lines) {
    std::string text;
    for (const std::string_view line : lines) text += line;
    return text;
}

std::string next_key(const TomlSection* readings) {
    unsigned highest = 0;
    for (const TomlEntry& entry : readings ? readings->entries : std::vector<TomlEntry>()) {
        unsigned number = 0;
        const char* const end = entry.key.data() + entry.key.size();
        const auto read = std::from_chars(entry.key.data(), end, number);
        if (read.ec == std::errc() && read.ptr == end) highest = std::max(highest, number);
    }
    return std::to_string(highest + 1);
}

/// Lines before the one at which the next section begins.
std::size_t end_of_section(const TomlFile& file, const TomlSection& section, std::size_t lines) {
    std::size_t end = lines;
    for (const TomlSection& other : file.sections) {
        if (other.place.line > section.place.line) end = std::min(end, static_cast<std::size_t>(other.place.line) - 1);
    }
    return end;
}

/// One more line at the end of a section; a file without that section gets one at its end.
std::string with_line(std::string_view text, const TomlFile& file, std::string_view name, const std::string& line) {
    const TomlSection* section = file.find(name);
    std::vector<std::string_view> lines = lines_of(text);
    const bool windows = !lines.empty() && lines.front().ends_with("\r\n");
    const std::string end = windows ? "\r\n" : "\n";
    std::string added = line + end;
    if (section == nullptr) {
        const bool whole = text.empty() || text.ends_with('\n');
        return fmt::format("{}{}{}[{}]{}{}", text, whole ? "" : end, end, name, end, added);
    }
    std::size_t at = end_of_section(file, *section, lines.size());
    while (at > static_cast<std::size_t>(section->place.line) && says_nothing(lines[at - 1])) --at;
    // The last line of a file may lack its end.
    if (at > 0 && !lines[at - 1].ends_with('\n')) added = end + line;
    lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(at), added);
    return with_line_ends(lines);
}

}  // namespace

// Line breaks and other controls part words as blanks do, and would end the string.
std::string quoted_for_toml(std::string_view phrase) {
    std::string text = "\"";
    for (const Character& c : characters_of(phrase)) {
        if (c.bytes == "\"" || c.bytes == "\\") text += '\\';
        text += is_control(c.code) ? std::string_view(" ") : c.bytes;
    }
    return text + '"';
}

EditedJob with_reading(std::string_view text, std::string_view phrase, std::string_view section) {
    Problems ignored;
    const TomlFile file = read_toml_text(text, "", ignored);
    const std::string key = next_key(file.find(section));
    return {with_line(text, file, section, key + " = " + quoted_for_toml(phrase)), key};
}

EditedJob with_repair(std::string_view text, std::string_view place, std::string_view words) {
    Problems ignored;
    const TomlFile file = read_toml_text(text, "", ignored);
    return {with_line(text, file, "repaired", fmt::format("{} = {}", place, quoted_for_toml(words))),
            std::string(place)};
}

std::string without_reading(std::string_view text, std::string_view key, std::string_view section) {
    Problems ignored;
    const TomlFile file = read_toml_text(text, "", ignored);
    const TomlSection* readings = file.find(section);
    const TomlEntry* entry = readings ? readings->find(key) : nullptr;
    std::vector<std::string_view> lines = lines_of(text);
    if (entry == nullptr || entry->key_place.line < 1) return std::string(text);
    lines.erase(lines.begin() + entry->key_place.line - 1);
    return with_line_ends(lines);
}

}  // namespace voltfall
