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

constexpr std::array ending_signals{SIGINT, SIGTERM, SIGHUP};
volatile std::sig_atomic_t interrupted = 0;

}  // namespace

InterruptEndsInput::InterruptEndsInput() {
    interrupted = 0;
    struct sigaction on_interrupt {};
    on_interrupt.sa_handler = [](int) { interrupted = 1; };
    // No SA_RESTART: a read that waits for a line ends.
    on_interrupt.sa_flags = static_cast<int>(SA_RESETHAND);
    for (std::size_t i = 0; i < ending_signals.size(); ++i) sigaction(ending_signals[i], &on_interrupt, &before_[i]);
}

InterruptEndsInput::~InterruptEndsInput() {
    for (std::size_t i = 0; i < ending_signals.size(); ++i) sigaction(ending_signals[i], &before_[i], nullptr);
}

bool InterruptEndsInput::happened() {
    return interrupted != 0;
}

std::optional<std::string> LineInput::from_terminal(const std::string& prompt) {
    // The editor draws its line anew while it is typed: only the last line of the prompt belongs to it.
    const std::size_t last = prompt.find_last_of('\n') + 1;
    console_.out << prompt.substr(0, last) << std::flush;
    const std::unique_ptr<char, decltype(&std::free)> typed(::readline(prompt.c_str() + last), &std::free);
    if (!typed) return std::nullopt;
    const std::string line = as_phrase(typed.get());
    if (!line.empty()) ::add_history(line.c_str());
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
