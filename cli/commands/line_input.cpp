#include "cli/commands/line_input.hpp"

#include <editline/readline.h>

#include <cstdlib>
#include <istream>
#include <memory>
#include <ostream>

#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

std::string as_phrase(std::string_view line) {
    return std::string(trimmed(line).substr(0, longest_line));
}

}  // namespace

std::optional<std::string> LineInput::from_terminal(const std::string& prompt) {
    const std::unique_ptr<char, decltype(&std::free)> typed(::readline(prompt.c_str()), &std::free);
    if (!typed) return std::nullopt;
    const std::string line = as_phrase(typed.get());
    if (!line.empty()) ::add_history(line.c_str());
    return line;
}

std::optional<std::string> LineInput::from_stream(const std::string& prompt) {
    write_out(console_, prompt);
    std::string line;
    if (!std::getline(console_.in, line)) {
        write_out(console_, "\n");
        return std::nullopt;
    }
    line = as_phrase(line);
    write_out(console_, line + "\n");
    return line;
}

std::optional<std::string> LineInput::next(const std::string& prompt) {
    console_.out.flush();
    const bool person = console_.terminal.in_is_terminal && console_.terminal.out_is_terminal;
    return person ? from_terminal(prompt) : from_stream(prompt);
}

}  // namespace voltfall
