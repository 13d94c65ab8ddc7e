// What to say of a statement that the TOML parser refuses, and how to read on.
#pragma once

#include <string>

#include "netlists/files/toml_statements.hpp"

namespace voltfall {

/// The parser's complaint: line and column count from 0 in the repaired text.
struct TomlRefusal {
    std::size_t line{};
    std::size_t column{};
    std::string reason;
    ProblemCode code;  ///< not_toml for the parser's own complaint
};

/// Reports the refusal in a technician's words. Where it is clear what was meant (open quotes, no quotes, no '=') the
/// statement is repaired so that reading goes on with it; otherwise, and the second time, its lines are blanked and it
/// is lost.
void repair_statement(SourceText& text, TomlStatement& statement, const TomlRefusal& refusal, Problems& problems);

/// A text whose quotes open on the statement's line and close at the end of the next one, as editors wrap lines:
/// reported once, and the statement lost with both lines. Returns how many lines it takes beyond its own, 0 or 1.
std::size_t take_wrapped_line(SourceText& text, TomlStatement& statement, Problems& problems);

/// How a list (sign `[`) or a table on one line (sign `{`) is written.
std::string list_advice(std::string_view key, char32_t sign);

/// The parser's reason without its preamble, on one line, in lower case at its start.
std::string short_reason(std::string reason);

}  // namespace voltfall
