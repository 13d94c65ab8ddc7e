// A TOML file as flat sections of located entries. The only place that includes toml++.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "netlists/text/problem.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// A list of texts. A type of its own: a variant of nothing but standard strings and vectors breaks in libstdc++ 12
/// where memory runs out while it is copied (its destructor then looks at an alternative that was never made).
struct TextList : std::vector<TypedText> {
    using std::vector<TypedText>::vector;
    TextList(std::vector<TypedText> texts) : std::vector<TypedText>(std::move(texts)) {}
};

struct TomlValue {
    /// string, integer, real, boolean or list of strings
    std::variant<std::string, long long, double, bool, TextList> value;
    SourcePlace place;    ///< of the value's first character (inside the quotes for a string)
    std::string typed{};  ///< a number as it stands in the file; empty for other values
    bool misread{false};  ///< something in a list is no text; reported already
};

struct TomlEntry {
    std::string key;  ///< as typed; `C101.4` stays one key
    SourcePlace key_place;
    TomlValue value;

    bool is_text() const { return std::holds_alternative<std::string>(value.value); }
    /// The text with its place; empty text when it is not a string.
    TypedText text() const;
};

struct TomlSection {
    std::string name;  ///< empty for the keys before the first table
    SourcePlace place;
    std::vector<TomlEntry> entries;  ///< in the order written
    std::vector<std::string> lost;   ///< keys whose lines could not be read; reported already

    const TomlEntry* find(std::string_view key) const;
};

struct TomlFile {
    std::string path;
    std::vector<TomlSection> sections;  ///< in the order written; the nameless one first. Empty: unreadable, reported

    const TomlSection* find(std::string_view name) const;
};

/// Largest file read, bytes; a larger one is a problem.
inline constexpr std::size_t largest_file_bytes = 4u << 20;

/// Reads a file. Missing, too large, not UTF-8, control characters: located problems and what could be read.
TomlFile read_toml_file(const std::string& path, Problems& problems);
TomlFile read_toml_text(std::string_view text, const std::string& path, Problems& problems);

}  // namespace voltfall
