// The scenarios' files with one number typed wrong.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace voltfall::testing {

inline std::string file_text(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

/// A number of a text, [begin, end), and the unit that touches it, up to `unit_end`.
struct TypedNumber {
    std::size_t begin{};
    std::size_t end{};
    std::size_t unit_end{};
};

inline bool is_digit(char c) {
    return c >= '0' && c <= '9';
}
inline bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '%';
}

/// Numbers that stand by themselves: not the digits of a name such as `F7.2`, and not in a note behind `#`.
inline std::vector<TypedNumber> numbers_of(const std::string& text) {
    std::vector<TypedNumber> numbers;
    bool note = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] == '\n') note = false;
        if (text[i] == '#') note = true;
        const bool in_word =
            i > 0 && (is_digit(text[i - 1]) || is_letter(text[i - 1]) || text[i - 1] == '.' || text[i - 1] == '_');
        if (note || in_word || !is_digit(text[i])) continue;
        TypedNumber number{i, i, 0};
        while (number.end < text.size() && (is_digit(text[number.end]) || text[number.end] == '.')) ++number.end;
        number.unit_end = number.end;
        while (number.unit_end < text.size() && is_letter(text[number.unit_end])) ++number.unit_end;
        numbers.push_back(number);
    }
    return numbers;
}

/// The text with that number typed wrong, in each way that hands and keyboards have.
inline std::vector<std::string> mutations(const std::string& text, const TypedNumber& number) {
    const std::string typed = text.substr(number.begin, number.end - number.begin);
    const std::string unit = text.substr(number.end, number.unit_end - number.end);
    std::vector<std::string> wrong{"0" + unit,           "-" + typed + unit, typed + "e-20" + unit,
                                   typed + "e20" + unit, "1e154" + unit,     "1e400" + unit};
    if (!unit.empty()) {
        wrong.push_back(typed);
        std::string other = unit;
        other.back() = other.back() == 'x' ? 'q' : 'x';
        wrong.push_back(typed + other);
    }
    for (std::string& one : wrong) one = text.substr(0, number.begin) + one + text.substr(number.unit_end);
    return wrong;
}

inline std::vector<std::filesystem::path> scenario_files(bool jobs) {
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(PROJECT_DIR "/scenarios")) {
        const std::string name = entry.path().filename().string();
        const bool job = name.ends_with(".job.toml");
        const bool lesson = entry.path().parent_path().filename() == "lessons";
        if (name.ends_with(".toml") && !lesson && job == jobs) files.push_back(entry.path());
    }
    std::sort(files.begin(), files.end());
    return files;
}

/// A job's text whose circuit is named by its whole path, so that the job may lie elsewhere.
inline std::string with_circuit_beside(const std::string& text, const std::filesystem::path& file) {
    const std::size_t key = text.find("circuit");
    const std::size_t open = text.find('"', key);
    const std::size_t close = text.find('"', open + 1);
    const std::string named = text.substr(open + 1, close - open - 1);
    return text.substr(0, open + 1) + (file.parent_path() / named).lexically_normal().string() + text.substr(close);
}

}  // namespace voltfall::testing
