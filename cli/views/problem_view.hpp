// Problems of what a person typed: place, message, the line, a caret under the place, one suggestion.
#pragma once

#include <string>
#include <vector>

#include "cli/views/text_page.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// Writes the problems, errors before warnings and notes; mistakes of one kind are one message with its lines.
void write_problems(TextPage& page, const std::vector<Problem>& problems);

/// "2 errors, 1 warning", or "no problems".
std::string problem_counts(const std::vector<Problem>& problems);

/// How many of them are of that severity.
std::size_t count_of(const std::vector<Problem>& problems, Severity severity);

/// The first error with its advice, for a page that has room for one: "'542x' is no wire; did you mean '542'?".
std::string first_problem(const Problems& problems);

}  // namespace voltfall
