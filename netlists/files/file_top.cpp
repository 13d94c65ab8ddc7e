#include "netlists/files/file_top.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::string_view circuit_example = "cab-blower.toml";

/// A file of the same folder with a name like the one typed, or what the path counts from.
std::string near_file(const std::filesystem::path& path, std::string_view kind) {
    std::vector<std::string> names;
    std::error_code failed;
    const auto folder = path.parent_path().empty() ? std::filesystem::path(".") : path.parent_path();
    for (auto it = std::filesystem::directory_iterator(folder, failed);
         !failed && it != std::filesystem::directory_iterator(); it.increment(failed)) {
        if (it->path().extension() == ".toml") names.push_back(it->path().filename().string());
    }
    std::sort(names.begin(), names.end());
    const std::string advice = did_you_mean(path.filename().string(), names);
    return advice.empty() ? fmt::format("the path counts from the {}'s folder", kind) : advice;
}

/// Where a named path counts from: the file's folder; the working one for what comes through a pipe.
std::filesystem::path folder_of(const std::string& file) {
    std::error_code failed;
    const bool is_pipe = std::filesystem::exists(file, failed) && !std::filesystem::is_regular_file(file, failed);
    return is_pipe ? std::filesystem::path() : std::filesystem::path(file).parent_path();
}

bool is_lost(const TomlSection& section, std::string_view key) {
    return std::find(section.lost.begin(), section.lost.end(), key) != section.lost.end();
}

}  // namespace

void check_format(const TomlFile& file, Problems& problems) {
    const TomlSection* top = file.find("");
    const TomlEntry* format = top ? top->find("format") : nullptr;
    if (!format) {
        if (top && is_lost(*top, "format")) return;
        problems.error(top ? top->place : SourcePlace{file.path, 0, 0, 1, {}}, "the file does not say its format",
                       "write format = 1 as the first line");
        return;
    }
    const auto* number = std::get_if<long long>(&format->value.value);
    if (!number || *number != 1)
        problems.error(format->value.place,
                       fmt::format("format is {}; this version reads format 1", value_words(*format)),
                       "write format = 1");
}

const TomlEntry* FileTop::entry(std::string_view key) const {
    const TomlSection* top = file_.find("");
    return top ? top->find(key) : nullptr;
}

bool FileTop::lost(std::string_view key) const {
    const TomlSection* top = file_.find("");
    return top && is_lost(*top, key);
}

SourcePlace FileTop::whole_file() const {
    SourcePlace place;
    place.file = file_.path;
    return place;
}

void FileTop::error(SourcePlace place, std::string message, std::string suggestion) const {
    problems_.error(std::move(place), std::move(message), std::move(suggestion));
}

void FileTop::check_keys(std::span<const std::string_view> known, std::span<const std::string_view> told,
                         std::string_view more) const {
    const TomlSection* top = file_.find("");
    if (!top) return;
    const std::vector<std::string> words(known.begin(), known.end());
    for (const TomlEntry& entry : top->entries) {
        if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
        const std::string advice = did_you_mean(entry.key, words);
        error(entry.key_place, fmt::format("'{}' is no key of a {}", entry.key, kind_),
              advice.empty() ? fmt::format("a {} has {}{}", kind_, joined(told), more) : advice);
    }
}

std::string FileTop::named_path() const {
    const TomlEntry* key = entry("circuit");
    if (lost("circuit")) return {};
    if (!key || !key->is_text()) {
        error(key ? key->value.place : whole_file(), fmt::format("the {} does not name its circuit", kind_),
              fmt::format("write circuit = \"{}\", a path from this file's folder", circuit_example));
        return {};
    }
    namespace fs = std::filesystem;
    const std::string typed = key->text().text;
    const fs::path path = folder_of(file_.path) / fs::path(typed);
    std::error_code failed;
    if (!typed.empty() && fs::is_regular_file(path, failed)) return path.string();
    error(key->value.place, "there is no circuit file '" + typed + "'", near_file(path, kind_));
    return {};
}

FileTop::NamedCircuit FileTop::read_circuit() const {
    NamedCircuit named{named_path(), nullptr};
    if (named.path.empty()) return named;
    CircuitReading circuit = read_circuit_file(named.path);
    problems_.add_all(circuit.problems);
    named.circuit = circuit.circuit;
    return named;
}

}  // namespace voltfall
