#include "netlists/platform/terminal.hpp"

#include <editline/readline.h>
#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cstdlib>
#include <memory>

namespace voltfall {

bool is_terminal(StandardStream stream) {
    switch (stream) {
        case StandardStream::in:
            return ::isatty(STDIN_FILENO) == 1;
        case StandardStream::out:
            return ::isatty(STDOUT_FILENO) == 1;
        case StandardStream::err:
            return ::isatty(STDERR_FILENO) == 1;
    }
    return false;
}

std::optional<int> terminal_columns() {
    winsize size{};
    if (!is_terminal(StandardStream::out) || ::ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0)
        return std::nullopt;
    return size.ws_col;
}

void prepare_streams(int status) {
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        if (::fcntl(stream, F_GETFD) < 0 && ::open("/dev/null", O_RDONLY) != stream) ::_exit(status);
}

std::optional<std::string> edited_line(const std::string& prompt) {
    const std::unique_ptr<char, decltype(&std::free)> typed(::readline(prompt.c_str()), &std::free);
    if (!typed) return std::nullopt;
    return std::string(typed.get());
}

void remember_line(const std::string& line) {
    ::add_history(line.c_str());
}

}  // namespace voltfall
