// What a person wrote wrong: located, explained, with one suggestion.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

enum class Severity { error, warning, note };

/// "error", "warning" or "note".
std::string_view severity_name(Severity severity);

/// Where something stands in what a person typed. Lines and columns count from 1, in characters;
/// line 0 means the file as a whole. `text` is the whole line, for the caret.
struct SourcePlace {
    std::string file;
    int line{0};
    int column{0};
    int length{1};
    std::string text;

    /// The same line, `offset` characters further, `length` characters wide.
    SourcePlace shifted(int offset, int new_length) const;
};

/// One thing wrong. Messages start in lower case, name the thing as typed, say what was expected and found.
struct Problem {
    Severity severity{Severity::error};
    SourcePlace place;
    std::string message;
    std::string suggestion;  ///< one fix, or empty
};

/// All problems of one run, in the order found.
class Problems {
public:
    void error(SourcePlace place, std::string message, std::string suggestion = {});
    void warning(SourcePlace place, std::string message, std::string suggestion = {});
    void note(SourcePlace place, std::string message, std::string suggestion = {});
    void add(Problem problem) { list_.push_back(std::move(problem)); }
    void add_all(const Problems& others);

    bool has_errors() const;
    bool empty() const { return list_.empty(); }
    const std::vector<Problem>& list() const { return list_; }

    /// Orders by file, line and column, keeping the order of equal places.
    void sort();

private:
    std::vector<Problem> list_;
};

}  // namespace voltfall
