#include "netlists/files/file_top.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/files/section_names.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/problem_code.hpp"
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
        if (it->path().extension() == ".toml") names.push_back(path_text(it->path().filename()));
    }
    std::sort(names.begin(), names.end());
    const std::string advice = did_you_mean(path_text(path.filename()), names);
    return advice.empty() ? fmt::format("the path counts from the {}'s folder", kind) : advice;
}

/// Where a named path counts from: the file's folder; the working one for what comes through a pipe.
std::filesystem::path folder_of(const std::string& file) {
    std::error_code failed;
    const std::filesystem::path path = path_of(file);
    const bool is_pipe = std::filesystem::exists(path, failed) && !std::filesystem::is_regular_file(path, failed);
    return is_pipe ? std::filesystem::path() : path.parent_path();
}

/// The circuit that a file names, and is therefore no circuit itself; empty where it names none.
std::string circuit_named_in(const TomlFile& file) {
    const TomlSection* top = file.find("");
    const TomlEntry* circuit = top ? top->find("circuit") : nullptr;
    return circuit && circuit->is_text() && !file.find(section_word(FileSection::parts)) ? circuit->text().text
                                                                                         : std::string();
}

bool is_lost(const TomlSection& section, std::string_view key) {
    return std::find(section.lost.begin(), section.lost.end(), key) != section.lost.end();
}

}  // namespace

bool holds_circuit(const TomlFile& file) {
    const TomlSection* top = file.find("");
    if (top && top->find("circuit")) return false;
    // A stray section of a job does not make one of a circuit: its parts and wires say what it is.
    if (file.find(section_word(FileSection::parts)) && file.find(section_word(FileSection::wires))) return true;
    const auto of_job = words_of_sections(SectionOf::job);
    const auto of_circuit = words_of_sections(SectionOf::circuit);
    bool circuit = false;
    for (const TomlSection& section : file.sections) {
        if (std::find(of_job.begin(), of_job.end(), section.name) != of_job.end()) return false;
        circuit = circuit || !nearest(section.name, of_circuit).empty();
    }
    return circuit;
}

bool holds_lesson(const TomlFile& file) {
    const TomlSection* top = file.find("");
    if (!top) return false;
    // A stray section of a job does not make one of a lesson that hides a fault in its budget.
    if (top->find("fault") && top->find("budget") && top->find("title")) return true;
    if (file.find(section_word(FileSection::readings))) return false;
    if (top->find("fault") || top->find("root") || top->find("budget")) return true;
    return top->find("title") && !file.find(section_word(FileSection::parts));
}

bool report_empty(const TomlFile& file, Problems& problems) {
    const bool empty = std::all_of(file.sections.begin(), file.sections.end(), [](const TomlSection& section) {
        return section.name.empty() && section.entries.empty() && section.lost.empty();
    });
    if (empty && !problems.has_errors()) {
        problems.error(ProblemCode::empty_phrase, SourcePlace{file.path, 0, 0, 1, {}}, "the file is empty",
                       "voltfall new lists circuits to start from");
    }
    return empty;
}

bool report_strange_file(const TomlFile& file, Problems& problems) {
    const TomlSection* top = file.find("");
    const std::vector<std::string> known = words_of_sections();
    const std::vector<std::string> keys{"circuit", "concern", "job", "tools"};
    const bool job = top && (std::any_of(top->entries.begin(), top->entries.end(),
                                         [&](const TomlEntry& entry) { return !nearest(entry.key, keys).empty(); }) ||
                             std::any_of(top->lost.begin(), top->lost.end(),
                                         [&](const std::string& key) { return !nearest(key, keys).empty(); }));
    const bool section = std::any_of(file.sections.begin(), file.sections.end(), [&](const TomlSection& one) {
        return !one.name.empty() && !nearest(one.name, known).empty();
    });
    if (job || section) return false;
    problems.error(ProblemCode::wrong_file_kind, SourcePlace{file.path, 0, 0, 1, {}},
                   "the file is no circuit, no job and no lesson",
                   "a circuit has [parts] and [wires], a job or lesson names one: circuit = \"cab-blower.toml\"");
    return true;
}

void check_format(const TomlFile& file, Problems& problems) {
    const TomlSection* top = file.find("");
    const TomlEntry* format = top ? top->find("format") : nullptr;
    if (!format) {
        if (top && is_lost(*top, "format")) return;
        problems.error(ProblemCode::unknown_format, top ? top->place : SourcePlace{file.path, 0, 0, 1, {}},
                       "the file does not say its format", "write format = 1 as the first line");
        return;
    }
    const auto* number = std::get_if<long long>(&format->value.value);
    if (!number || *number != 1)
        problems.error(ProblemCode::unknown_format, format->value.place,
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

bool FileTop::is_misspelt(std::string_view key) const {
    return !entry(key) && std::find(meant_.begin(), meant_.end(), key) != meant_.end();
}

SourcePlace FileTop::whole_file() const {
    SourcePlace place;
    place.file = file_.path;
    return place;
}

void FileTop::error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion) const {
    problems_.error(code, std::move(place), std::move(message), std::move(suggestion));
}

void FileTop::check_keys(std::span<const std::string_view> known, std::span<const std::string_view> told,
                         std::string_view more) {
    const TomlSection* top = file_.find("");
    if (!top) return;
    const std::vector<std::string> words(known.begin(), known.end());
    for (const TomlEntry& entry : top->entries) {
        if (std::find(known.begin(), known.end(), entry.key) != known.end()) continue;
        std::string advice = section_advice(entry.key, SectionOf::job);
        if (advice.empty()) advice = did_you_mean(entry.key, words);
        if (!nearest(entry.key, words).empty()) meant_.push_back(nearest(entry.key, words));
        error(ProblemCode::unknown_key, entry.key_place, fmt::format("'{}' is no key of a {}", entry.key, kind_),
              advice.empty() ? fmt::format("a {} has {}{}", kind_, joined(told), more) : advice);
    }
}

std::string FileTop::named_path() const {
    const TomlEntry* key = entry("circuit");
    if (lost("circuit") || is_misspelt("circuit")) return {};
    if (!key || !key->is_text()) {
        error(ProblemCode::missing_key, key ? key->value.place : whole_file(),
              fmt::format("the {} does not name its circuit", kind_),
              fmt::format("write circuit = \"{}\", a path from this file's folder", circuit_example));
        return {};
    }
    namespace fs = std::filesystem;
    const std::string typed = key->text().text;
    const fs::path path = folder_of(file_.path) / path_of(typed);
    std::error_code failed;
    if (!typed.empty() && fs::is_regular_file(path, failed)) return path_text(path);
    error(ProblemCode::missing_file, key->value.place, "there is no circuit file '" + typed + "'",
          near_file(path, kind_));
    return {};
}

/// A job or a lesson where a circuit should be: reported with the circuit that it names; true then.
bool FileTop::report_named_job(const TomlFile& named) const {
    const std::string meant = circuit_named_in(named);
    if (meant.empty()) return false;
    namespace fs = std::filesystem;
    const TomlEntry* key = entry("circuit");
    const std::string typed = key->text().text;
    error(ProblemCode::wrong_file_kind, key->value.place, fmt::format("'{}' is no circuit; it names one itself", typed),
          fmt::format("write circuit = \"{}\"", (fs::path(typed).parent_path() / meant).string()));
    return true;
}

FileTop::NamedCircuit FileTop::read_circuit(const CircuitSource& source) const {
    NamedCircuit named{named_path(), nullptr};
    if (named.path.empty()) return named;
    CircuitReading circuit;
    if (source) {
        circuit = source(named.path);
    } else {
        Problems of_syntax;
        const TomlFile file = read_toml_file(named.path, of_syntax);
        if (report_named_job(file)) return {};
        circuit = voltfall::read_circuit(file, std::move(of_syntax));
    }
    problems_.add_all(circuit.problems);
    named.circuit = circuit.circuit;
    return named;
}

}  // namespace voltfall
