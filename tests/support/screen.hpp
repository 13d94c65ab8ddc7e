// A program at a terminal of its own: what a person sees there, and what is typed.
#pragma once

#include <poll.h>
#include <pty.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <regex>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace voltfall::testing {

class Screen {
public:
    /// The program and its words, the width of the terminal, and variables of the environment.
    Screen(std::vector<std::string> words, int columns,
           const std::vector<std::pair<std::string, std::string>>& variables = {{"TERM", "xterm"}}) {
        winsize size{};
        size.ws_col = static_cast<unsigned short>(columns);
        size.ws_row = 200;
        child_ = forkpty(&terminal_, nullptr, nullptr, &size);
        if (child_ < 0) throw std::runtime_error("no terminal can be made on this machine");
        if (child_ > 0) return;
        ::unsetenv("NO_COLOR");
        ::unsetenv("COLUMNS");
        for (const auto& [name, text] : variables) ::setenv(name.c_str(), text.c_str(), 1);
        std::vector<char*> argv;
        for (std::string& word : words) argv.push_back(word.data());
        argv.push_back(nullptr);
        ::execv(argv.front(), argv.data());
        ::_exit(127);
    }
    ~Screen() {
        if (child_ > 0) {
            ::kill(child_, SIGKILL);
            ::waitpid(child_, nullptr, 0);
        }
        ::close(terminal_);
    }
    Screen(const Screen&) = delete;
    Screen& operator=(const Screen&) = delete;

    void type(const std::string& keys) { (void)!::write(terminal_, keys.data(), keys.size()); }

    /// What is shown from the last wait on until this is; throws what was shown where it does not come in a minute.
    std::string wait_for(const std::string& text) {
        std::size_t found = 0;
        while ((found = shown_.find(text, at_)) == std::string::npos)
            if (!read_some()) throw std::runtime_error("no '" + text + "' in: " + shown_.substr(at_));
        const std::string piece = shown_.substr(at_, found + text.size() - at_);
        at_ = found + text.size();
        return piece;
    }
    /// Waits for the end, and types these keys now and then until it comes: a key that ends the input says nothing to
    /// a program that is not yet reading. 128 and the signal where one ended it.
    int end(const std::string& keys = {}) {
        constexpr int most_waits = 200;
        constexpr int milliseconds = 300;
        bool open = true;
        for (int waited = 0; open && waited < most_waits;) {
            if (is_ready(milliseconds)) {
                open = read_block();
                continue;
            }
            ++waited;
            type(keys);
        }
        if (open) ::kill(child_, SIGKILL);
        int status = 0;
        ::waitpid(std::exchange(child_, 0), &status, 0);
        return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }
    const std::string& shown() const { return shown_; }
    /// Without colours, moves of the cursor and what was written over.
    std::string plain() const {
        static const std::regex escape("\x1b\\[[0-9;?]*[A-Za-z]|\r(?=\n)");
        static const std::regex written_over("[^\n]*\r");
        return std::regex_replace(std::regex_replace(shown_, escape, ""), written_over, "");
    }

private:
    bool is_ready(int milliseconds) const {
        pollfd from{terminal_, POLLIN, 0};
        return ::poll(&from, 1, milliseconds) == 1;
    }
    bool read_block() {
        char block[4096];
        const ssize_t got = ::read(terminal_, block, sizeof block);
        if (got <= 0) return false;
        shown_.append(block, static_cast<std::size_t>(got));
        return true;
    }
    bool read_some() {
        constexpr int milliseconds = 60'000;
        return is_ready(milliseconds) && read_block();
    }

    int terminal_{-1};
    pid_t child_{0};
    std::string shown_;
    std::size_t at_{0};
};

}  // namespace voltfall::testing
