#include "cli/commands/settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "netlists/files/file_top.hpp"
#include "netlists/files/section_names.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr std::array<std::string_view, 4> known_keys{"format", "tools", "columns", "color"};
constexpr std::array<std::string_view, 3> own_keys{"tools", "columns", "color"};
constexpr std::array<std::pair<std::string_view, ColourChoice>, 3> colours{
    {{"auto", ColourChoice::automatic}, {"always", ColourChoice::always}, {"never", ColourChoice::never}}};

void read_tools(const TomlEntry& entry, Settings& settings, Problems& problems) {
    const auto* list = std::get_if<TextList>(&entry.value.value);
    if (list == nullptr)
        return problems.error(ProblemCode::wrong_type, entry.value.place, "tools are a list of texts",
                              "tools = [\"meter 0.5%+2digits\", \"clamp 1%+0.3A\"]");
    for (const TypedText& text : *list)
        if (const auto tool = read_tool(text, problems)) settings.tools.push_back(*tool);
}

void read_columns(const TomlEntry& entry, Settings& settings, Problems& problems) {
    const auto* number = std::get_if<long long>(&entry.value.value);
    if (number == nullptr || *number < least_columns || *number > most_columns)
        return problems.error(ProblemCode::figure_out_of_range, entry.value.place,
                              fmt::format("columns are a whole number from {} to {}", least_columns, most_columns),
                              "columns = 80");
    settings.columns = static_cast<int>(*number);
}

void read_colour(const TomlEntry& entry, Settings& settings, Problems& problems) {
    const auto* word = std::get_if<std::string>(&entry.value.value);
    const auto found = std::find_if(colours.begin(), colours.end(),
                                    [&](const auto& row) { return word != nullptr && row.first == *word; });
    if (found == colours.end())
        return problems.error(ProblemCode::unknown_word, entry.value.place, "color is auto, always or never",
                              "color = \"auto\"");
    settings.colour = found->second;
}

}  // namespace

std::string settings_path() {
    const std::string folder = settings_folder();
    return folder.empty() ? folder : folder + "/voltfall.toml";
}

bool is_settings(const TomlFile& file) {
    const TomlSection* top = file.find("");
    // A key or a section that only another file has says that it is one, whose own line is missing.
    static constexpr std::array<std::string_view, 6> of_others{"circuit", "concern", "job", "title", "fault", "budget"};
    const auto has = [&](std::string_view key) { return top->find(key) != nullptr; };
    if (top == nullptr || file.find("parts") || std::any_of(of_others.begin(), of_others.end(), has)) return false;
    const auto of_job = words_of_sections(SectionOf::job);
    if (std::any_of(of_job.begin(), of_job.end(), [&](const auto& word) { return file.find(word) != nullptr; }))
        return false;
    return std::any_of(own_keys.begin(), own_keys.end(),
                       [&](std::string_view key) { return top->find(key) != nullptr; });
}

Settings read_settings(const TomlFile& file, Problems& problems) {
    Settings settings;
    if (file.sections.empty()) return settings;  // unreadable, which is reported
    check_format(file, problems);
    FileTop top(file, "settings file", problems);
    top.check_keys(known_keys, known_keys);
    for (const TomlSection& section : file.sections)
        if (!section.name.empty())
            problems.error(ProblemCode::unknown_section, section.place,
                           "settings have no section [" + section.name + "]", "write the keys at the top");
    if (const TomlEntry* entry = top.entry("tools")) read_tools(*entry, settings, problems);
    if (const TomlEntry* entry = top.entry("columns")) read_columns(*entry, settings, problems);
    if (const TomlEntry* entry = top.entry("color")) read_colour(*entry, settings, problems);
    return settings;
}

}  // namespace voltfall
