// The lines of a text file, as typed and as handed to a parser. Every character handed on knows its column as typed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/text/problem.hpp"

namespace voltfall {

/// One line. Indices count characters from 0; those of `text` move when it is repaired, those of `typed` never.
class SourceLine {
public:
    explicit SourceLine(std::u32string typed);

    const std::u32string& typed() const { return typed_; }
    const std::u32string& text() const { return text_; }
    /// The typed line as UTF-8, made when it is first asked for and then shared by all places on the line.
    const SharedText& shown() const;

    /// Index in the typed line of a character of the text; the end of the text gives the end of the line.
    std::size_t typed_index(std::size_t at) const;

    /// Puts other characters where `count` characters stand; the new ones point at the first they replace.
    void replace(std::size_t at, std::size_t count, std::u32string_view with);
    void blank() { replace(0, text_.size(), U""); }

private:
    std::u32string typed_;
    mutable SharedText shown_;
    std::u32string text_;
    std::vector<std::size_t> index_;  ///< one longer than the text
};

struct SourceText {
    SharedText path;
    std::vector<SourceLine> lines;

    /// A place as typed: `line` and `at` count from 0, `at` in the repaired text.
    SourcePlace place(std::size_t line, std::size_t at, std::size_t length = 1) const;
    /// The repaired text as UTF-8.
    std::string repaired() const;
};

/// UTF-8 of some characters.
std::string write_utf8(std::u32string_view characters);

/// Longest line that is read, in characters.
inline constexpr std::size_t longest_line = 200'000;
/// Most lines of a file: several times what the largest circuit has.
inline constexpr std::size_t most_lines = 50'000;

/// Cuts bytes into lines. Bytes that are no UTF-8 and control characters are reported once a line and replaced; a text
/// that is none (NUL bytes, mostly bad bytes, a line beyond `longest_line`) is one problem and gives nothing. A byte
/// order mark is skipped.
std::optional<SourceText> cut_lines(std::string_view bytes, const std::string& path, Problems& problems);

}  // namespace voltfall
