// An open file by its number, for the POSIX halves of this room.
#pragma once

#include <unistd.h>

#include <cerrno>
#include <string_view>
#include <utility>

namespace voltfall {

/// Closed at the end of its life.
class OpenFile {
public:
    explicit OpenFile(int file) : file_(file) {}
    ~OpenFile() {
        if (file_ >= 0) ::close(file_);
    }
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;

    int number() const { return file_; }
    void reset(int file) {
        if (file_ >= 0) ::close(file_);
        file_ = file;
    }
    /// False where the system says that what was written is lost.
    bool close() { return ::close(std::exchange(file_, -1)) == 0; }

private:
    int file_;
};

/// Writes in as many pieces as the system takes; false with errno where it takes no more.
inline bool write_all(int file, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(file, text.data(), text.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

}  // namespace voltfall
