// What a person wrote wrong: located, explained, with one suggestion.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/text/shared_text.hpp"

namespace voltfall {

enum class Severity { error, warning, note };

/// "error", "warning" or "note".
std::string_view severity_name(Severity severity);

/// What sort of problem it is; the table stands in problem_code.hpp.
enum class ProblemCode : std::uint8_t;

/// A run of a text as it was typed: the characters from `offset` on stand on this line from this column on.
struct TypedRun {
    int offset{};
    int line{};
    int column{};
    SharedText text;  ///< the whole line
};

/// Where something stands in what a person typed. Lines and columns count from 1, in characters;
/// line 0 means the file as a whole. `text` is the whole line, for the caret.
struct SourcePlace {
    SharedText file;
    int line{0};
    int column{0};
    int length{1};
    SharedText text;
    /// Of a text that was typed over several lines, or with escapes in it: its runs, and how far into it this place is.
    /// Null for any other.
    std::shared_ptr<const std::vector<TypedRun>> runs{};
    int offset{0};

    /// `by` characters further in the same text, `new_length` characters wide.
    SourcePlace shifted(int by, int new_length) const;
};

/// One thing wrong. Messages start in lower case, name the thing as typed, say what was expected and found.
struct Problem {
    Problem(ProblemCode of, Severity how_bad, SourcePlace where, std::string what, std::string fix = {});

    ProblemCode code;
    Severity severity;
    SourcePlace place;
    std::string message;
    std::string suggestion;  ///< one fix, or empty
};

/// All problems of one run, in the order found. So many errors, and so many warnings and notes, are kept; the rest is
/// counted, for nobody reads on.
class Problems {
public:
    /// Most errors that are kept, and as many warnings and notes together.
    static constexpr std::size_t most_kept = 200;

    void error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {});
    void warning(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {});
    void note(ProblemCode code, SourcePlace place, std::string message, std::string suggestion = {});
    void add(Problem problem);
    void add_all(const Problems& others);

    bool has_errors() const { return errors_ > 0; }
    bool empty() const { return list_.empty(); }
    /// Those that are kept.
    const std::vector<Problem>& list() const { return list_; }
    /// Those that are kept, and where some were only counted a last one that says how many: "and 312 more".
    std::vector<Problem> told() const;

    /// Orders by file, line and column, keeping the order of equal places.
    void sort();

private:
    std::vector<Problem> list_;
    std::size_t errors_{0};      ///< of the kept ones
    std::size_t untold_{0};      ///< not kept, of whatever severity
    bool untold_errors_{false};  ///< is an error among those
};

}  // namespace voltfall
