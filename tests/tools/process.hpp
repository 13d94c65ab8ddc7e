// Runs a program as a process of its own and keeps what it said.
#pragma once

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>
#include <cstdio>
#include <string>
#include <vector>

extern char** environ;

namespace voltfall {

struct ProcessResult {
    int status{};  ///< exit status; 128 + signal when it did not end by itself; 127 when it could not start
    std::string out;
    std::string err;
};

namespace detail {

/// An unnamed file for one stream of a child.
class StreamFile {
public:
    StreamFile() : file_(std::tmpfile()) {}
    ~StreamFile() {
        if (file_ != nullptr) {
            std::fclose(file_);
        }
    }
    StreamFile(const StreamFile&) = delete;
    StreamFile& operator=(const StreamFile&) = delete;

    int descriptor() const { return fileno(file_); }
    std::string text() {
        std::string all;
        std::rewind(file_);
        char block[4096];
        for (std::size_t got = 0; (got = std::fread(block, 1, sizeof block, file_)) > 0;) {
            all.append(block, got);
        }
        return all;
    }

private:
    std::FILE* file_;
};

}  // namespace detail

/// Runs `words` (the program first, looked up in PATH) with no input and waits for its end.
inline ProcessResult run_process(const std::vector<std::string>& words) {
    detail::StreamFile out;
    detail::StreamFile err;
    std::vector<char*> argv;
    for (const std::string& word : words) {
        argv.push_back(const_cast<char*>(word.c_str()));
    }
    argv.push_back(nullptr);
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDIN_FILENO, "/dev/null", O_RDONLY, 0);
    posix_spawn_file_actions_adddup2(&actions, out.descriptor(), STDOUT_FILENO);
    posix_spawn_file_actions_adddup2(&actions, err.descriptor(), STDERR_FILENO);
    pid_t child = 0;
    const int failed = posix_spawnp(&child, argv[0], &actions, nullptr, argv.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (failed != 0) {
        return {127, {}, "cannot start " + words.front()};
    }
    int status = 0;
    waitpid(child, &status, 0);
    return {WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status), out.text(), err.text()};
}

}  // namespace voltfall
