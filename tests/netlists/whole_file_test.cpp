// Files written whole or not at all.
#include <fcntl.h>
#include <sched.h>
#include <signal.h>
#include <sys/file.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include "netlists/files/whole_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/kills.hpp"

namespace fs = std::filesystem;
using namespace voltfall;

namespace {

class Folder {
public:
    Folder() {
        std::string pattern = (fs::temp_directory_path() / "voltfall-whole-XXXXXX").string();
        path_ = mkdtemp(pattern.data());
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string file(const std::string& name) const { return (path_ / name).string(); }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
    }

private:
    fs::path path_;
};

std::string text_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// Runs the work in a process of its own; its exit status.
template <class Work>
int in_child(const Work& work) {
    const pid_t child = fork();
    if (child == 0) _exit(work());
    int status = 0;
    waitpid(child, &status, 0);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

}  // namespace

TEST_CASE("a new file is refused where one stands, a link that leads nowhere too where it then does") {
    const Folder folder;
    REQUIRE(write_new_file(folder.file("a"), "one"));
    const auto again = write_new_file(folder.file("a"), "two");
    REQUIRE_FALSE(again);
    CHECK(again.error().exists);
    CHECK(text_of(folder.file("a")) == "one");
    fs::create_symlink("b", folder.file("link"));
    REQUIRE(write_new_file(folder.file("link"), "three"));
    CHECK(fs::is_symlink(folder.file("link")));
    CHECK(text_of(folder.file("b")) == "three");
    CHECK(folder.files() == 3);
    CHECK_FALSE(write_new_file(folder.file("none/c"), ""));
    CHECK_FALSE(replace_whole_file(folder.file(""), "x"));
}

TEST_CASE("of many programs that begin one file at once one does") {
    const Folder folder;
    std::vector<pid_t> children;
    for (char name = 'a'; name < 'i'; ++name) {
        const pid_t child = fork();
        if (child == 0) _exit(write_new_file(folder.file("new"), std::string(100000, name)) ? 1 : 0);
        children.push_back(child);
    }
    int wrote = 0;
    for (const pid_t child : children) {
        int status = 0;
        waitpid(child, &status, 0);
        wrote += WEXITSTATUS(status);
    }
    CHECK(wrote == 1);
    const std::string text = text_of(folder.file("new"));
    CHECK(text == std::string(100000, text.front()));
    CHECK(folder.files() == 1);
}

TEST_CASE("a kill at any moment leaves the old file or the new one, and at most one name beside it") {
    const Folder folder;
    const std::string path = folder.file("kept");
    REQUIRE(replace_whole_file(path, std::string(200000, 'a')));
    std::mt19937 random(5);
    for (int number = 0; number < kills(100); ++number) {
        const pid_t child = fork();
        if (child == 0)
            for (char letter = 'b';; letter = letter == 'z' ? 'a' : static_cast<char>(letter + 1))
                (void)replace_whole_file(path, std::string(200000, letter));
        std::this_thread::sleep_for(std::chrono::microseconds(500 + random() % 8000));
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const std::string text = text_of(path);
        REQUIRE(text.size() == 200000);
        REQUIRE(text == std::string(200000, text.front()));
    }
    // Only between two calls of the system has the new file a name of its own.
    CHECK(folder.files() <= 1 + static_cast<std::size_t>(std::max(3, kills(100) / 30)));
}

TEST_CASE("an interrupt leaves nothing beside the file") {
    const Folder folder;
    const std::string path = folder.file("kept");
    std::mt19937 random(7);
    const auto handled = signal(SIGINT, SIG_DFL);  // the children's from their first moment on
    for (int number = 0; number < kills(100); ++number) {
        const pid_t child = fork();
        if (child == 0)
            for (;;) (void)replace_whole_file(path, std::string(50000, 'x'));
        std::this_thread::sleep_for(std::chrono::microseconds(300 + random() % 4000));
        kill(child, SIGINT);
        waitpid(child, nullptr, 0);
        REQUIRE(folder.files() <= 1);
    }
    signal(SIGINT, handled);
}

TEST_CASE("a full disk changes nothing and leaves nothing") {
    const Folder folder;
    const std::string disk = folder.file("disk");
    fs::create_directory(disk);
    const int status = in_child([&] {
        // A small disk of this process's own, where that is allowed; else a limit of a file's size.
        const bool mounted = unshare(CLONE_NEWNS) == 0 &&
                             mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
                             mount("voltfall", disk.c_str(), "tmpfs", 0, "size=64k") == 0;
        if (!mounted) {
            signal(SIGXFSZ, SIG_IGN);
            const rlimit limit{50000, 50000};
            if (setrlimit(RLIMIT_FSIZE, &limit) != 0) return 9;
        }
        const std::string path = disk + "/kept";
        if (!replace_whole_file(path, std::string(30000, 'a'))) return 1;
        const auto large = replace_whole_file(path, std::string(90000, 'b'));
        if (large) return 2;
        if (mounted && large.error().suggestion.find("disk is full") == std::string::npos) return 3;
        if (write_new_file(disk + "/other", std::string(90000, 'c'))) return 4;
        if (text_of(path) != std::string(30000, 'a')) return 5;
        return std::distance(fs::directory_iterator(disk), fs::directory_iterator()) == 1 ? 0 : 6;
    });
    CHECK(status == 0);
}

TEST_CASE("a disk that is mounted read-only is told, and its files stay") {
    const Folder folder;
    const std::string disk = folder.file("disk");
    fs::create_directory(disk);
    std::ofstream(disk + "/kept") << "as it was";
    const int status = in_child([&] {
        // A mount of this process's own; where that is not allowed there is nothing to try.
        const bool mounted = unshare(CLONE_NEWNS) == 0 &&
                             mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0 &&
                             mount(disk.c_str(), disk.c_str(), nullptr, MS_BIND, nullptr) == 0 &&
                             mount("none", disk.c_str(), nullptr, MS_REMOUNT | MS_BIND | MS_RDONLY, nullptr) == 0;
        if (!mounted) return 0;
        if (std::ofstream(disk + "/probe").is_open()) return 9;
        const auto replaced = replace_whole_file(disk + "/kept", "something else");
        if (replaced) return 1;
        if (replaced.error().suggestion.empty()) return 2;
        if (write_new_file(disk + "/other", "x")) return 3;
        if (FileLock::take(disk + "/new", 0, FileLock::Missing::begin)) return 4;
        if (text_of(disk + "/kept") != "as it was") return 5;
        return std::distance(fs::directory_iterator(disk), fs::directory_iterator()) == 1 ? 0 : 6;
    });
    CHECK(status == 0);
}

TEST_CASE("a lock is waited for so long and then said, and a file begun for it goes away again") {
    const Folder folder;
    const std::string path = folder.file("results");
    {
        const auto lock = FileLock::take(path, 0, FileLock::Missing::begin);
        REQUIRE(lock);
        CHECK(fs::exists(path));
        const int status = in_child([&] {
            const auto other = FileLock::take(path, 0.1);
            return !other && other.error().message.find("by another program") != std::string::npos ? 0 : 1;
        });
        CHECK(status == 0);
    }
    CHECK_FALSE(fs::exists(path));
    CHECK_FALSE(FileLock::take(path, 0));
    {
        const auto lock = FileLock::take(path, 0, FileLock::Missing::begin);
        REQUIRE(replace_whole_file(path, "row\n"));
    }
    CHECK(text_of(path) == "row\n");
}

TEST_CASE("into a pipe or a device text goes as it is") {
    CHECK(is_stream("/dev/null"));
    CHECK_FALSE(is_stream("/tmp"));
    CHECK_FALSE(is_stream("/no/such"));
    CHECK(write_to_stream("/dev/null", "x"));
    const auto full = write_to_stream("/dev/full", "x");
    REQUIRE_FALSE(full);
    CHECK(full.error().suggestion.find("disk is full") != std::string::npos);
}
