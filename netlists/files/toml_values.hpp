// What stands behind '=': is it something that the parser can be given?
#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "netlists/files/source_lines.hpp"
#include "netlists/files/toml_statements.hpp"

namespace voltfall {

/// Something in a value that is neither a text in quotes nor a number, true or false: a bare word, a date, a second
/// value. Line and index count from 0, in the repaired text.
struct StrangeValue {
    std::size_t line{};
    std::size_t at{};
    std::u32string word;
};

/// The first strange thing in the value of a statement. Nullopt where there is none, and where a text is not closed:
/// the parser tells that.
std::optional<StrangeValue> strange_in(const SourceText& text, const TomlStatement& statement);

}  // namespace voltfall
