// The statements of a TOML text, found before it is parsed: which lines belong together, under which header, and the
// bare keys and typographic characters that a technician types and TOML does not take.
#pragma once

#include <string>
#include <vector>

#include "netlists/files/source_lines.hpp"

namespace voltfall {

/// `[name]` in the file. In the repaired text it stands as a name of ours, so that a section written twice, or one that
/// is called as a key, stays readable.
struct TomlHeader {
    std::string name;    ///< "limits", also of `[limits.hi]`
    std::string prefix;  ///< "hi." of `[limits.hi]`, else empty
    SourcePlace place;
    std::string written_name;
};

/// One `key = value`, over one or several lines. Lines count from 0.
struct TomlStatement {
    std::size_t first_line{};
    std::size_t last_line{};
    std::string section;
    std::string key;        ///< empty where the line has no '='
    std::size_t equals{0};  ///< index of '=' in the repaired first line; 0 where there is none
    bool repaired{false};   ///< reported and repaired once already
    bool lost{false};       ///< blanked: its key is known, its value is not
    std::string swallowed;  ///< key of a second statement on the line, which is lost
};

struct TomlStatements {
    std::vector<TomlHeader> headers;
    std::vector<TomlStatement> statements;
};

/// Most sections that a file may have.
inline constexpr std::size_t most_sections = 100;
/// Deepest nesting of lists, inline tables and dotted keys that is parsed.
inline constexpr int deepest_nesting = 8;

/// Finds the statements and repairs what can be repaired without a parser: quotes bare keys that TOML would not take as
/// one key, puts plain characters for typographic ones outside texts, closes headers. Reports each, and duplicate keys
/// and sections, and nesting that is too deep. What then stands in the text is no more than the parser can be given:
/// ASCII outside texts and notes.
TomlStatements find_statements(SourceText& text, Problems& problems);

}  // namespace voltfall
