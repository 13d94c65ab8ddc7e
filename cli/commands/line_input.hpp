// Lines that a person types into a conversation: edited with history on a terminal, one after the other from a pipe.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/commands/console.hpp"
#include "netlists/platform/signals.hpp"

namespace voltfall {

class LineInput {
public:
    /// Without `shown` neither prompts nor lines are printed: the answer is for programs.
    explicit LineInput(Console& console, bool shown = true) : console_(console), shown_(shown) {}

    /// Shows the prompt and gives the next line, without blanks around it; one from a pipe is printed behind the
    /// prompt. Returns nullopt at the end of the input. Longer lines than `longest_typed_line` characters are cut.
    std::optional<std::string> next(const std::string& prompt);

private:
    std::optional<std::string> from_terminal(const std::string& prompt);
    std::optional<std::string> from_stream(const std::string& prompt);

    Console& console_;
    bool shown_;
};

/// While it lives an interrupt (or a closed terminal) ends the input of a conversation instead of the process, so that
/// what was done so far is kept; a second one ends the process.
class InterruptEndsInput {
public:
    InterruptEndsInput();

    /// Since the last one was made.
    static bool happened();

private:
    std::optional<SignalsCaught> caught_;
};

/// A line longer than this is no phrase.
inline constexpr std::size_t longest_typed_line = 400;

}  // namespace voltfall
