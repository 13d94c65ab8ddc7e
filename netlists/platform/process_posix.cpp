#include "netlists/platform/process.hpp"

#include <malloc.h>
#include <sys/random.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>

namespace voltfall {

std::vector<std::string> command_words(int count, char** words) {
    const int first = count > 0 ? 1 : 0;
    return {words + first, words + count};
}

std::optional<std::string> environment_text(const char* name) {
    const char* const text = std::getenv(name);
    return text == nullptr ? std::nullopt : std::optional<std::string>(text);
}

std::string settings_folder() {
    const char* config = std::getenv("XDG_CONFIG_HOME");
    if (config != nullptr && *config == '/') return config;
    const char* home = std::getenv("HOME");
    return home != nullptr && *home == '/' ? std::string(home) + "/.config" : std::string();
}

void keep_freed_memory() {
    constexpr int keep_bytes = 1 << 30;
    constexpr int grow_bytes = 4 << 20;
    ::mallopt(M_TRIM_THRESHOLD, keep_bytes);
    ::mallopt(M_TOP_PAD, grow_bytes);
}

void end_at_once(int status, std::string_view farewell) {
    if (::write(STDERR_FILENO, farewell.data(), farewell.size()) < 0) ::_exit(status);
    ::_exit(status);
}

bool fill_random(std::span<unsigned char> bytes) {
    return ::getrandom(bytes.data(), bytes.size(), 0) == static_cast<ssize_t>(bytes.size());
}

std::optional<unsigned long> room_for_open_files(unsigned long wanted) {
    rlimit files{};
    if (::getrlimit(RLIMIT_NOFILE, &files) != 0) return std::nullopt;
    const rlim_t most = std::min<rlim_t>(wanted, files.rlim_max);
    if (files.rlim_cur < most) {
        files.rlim_cur = most;
        if (::setrlimit(RLIMIT_NOFILE, &files) != 0 && ::getrlimit(RLIMIT_NOFILE, &files) != 0) return std::nullopt;
    }
    return files.rlim_cur;
}

}  // namespace voltfall
