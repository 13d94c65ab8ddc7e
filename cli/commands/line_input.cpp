#include "cli/commands/line_input.hpp"

#include <csignal>
#include <istream>
#include <ostream>

#include "netlists/platform/terminal.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

std::string as_phrase(std::string_view line) {
    return std::string(trimmed(line).substr(0, longest_typed_line));
}

volatile std::sig_atomic_t interrupted = 0;

}  // namespace

InterruptEndsInput::InterruptEndsInput() {
    interrupted = 0;
    caught_.emplace({Sent::interrupt, Sent::end, Sent::closed}, [](int) { interrupted = 1; });
}

bool InterruptEndsInput::happened() {
    return interrupted != 0;
}

std::optional<std::string> LineInput::from_terminal(const std::string& prompt) {
    // The editor draws its line anew while it is typed: only the last line of the prompt belongs to it.
    const std::size_t last = prompt.find_last_of('\n') + 1;
    console_.out << prompt.substr(0, last) << std::flush;
    const auto typed = edited_line(prompt.substr(last));
    if (!typed) return std::nullopt;
    const std::string line = as_phrase(*typed);
    if (!line.empty()) remember_line(line);
    return line;
}

std::optional<std::string> LineInput::from_stream(const std::string& prompt) {
    if (shown_) console_.out << prompt;
    std::string line;
    if (!std::getline(console_.in, line)) return std::nullopt;
    line = as_phrase(line);
    if (shown_) console_.out << line << '\n';
    return line;
}

std::optional<std::string> LineInput::next(const std::string& prompt) {
    console_.out.flush();
    if (interrupted) return std::nullopt;
    const bool person = shown_ && console_.terminal.in_is_terminal && console_.terminal.out_is_terminal;
    auto line = person ? from_terminal(prompt) : from_stream(prompt);
    if (!line && shown_) console_.out << '\n';
    return interrupted ? std::nullopt : line;
}

}  // namespace voltfall
