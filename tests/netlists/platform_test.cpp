// What either system must do alike. Built for Windows too and run there by tests/install/windows: nothing but the
// standard library and the platform's own headers is used.
#include <algorithm>
#include <array>
#include <atomic>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <memory>
#include <random>
#include <stdexcept>
#include <thread>

#include "netlists/files/whole_file.hpp"
#include "netlists/platform/file_beside.hpp"
#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/lan.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/platform/private_directory.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/platform/shared_library.hpp"
#include "netlists/platform/socket_address.hpp"
#include "netlists/platform/thread_kept.hpp"
#include "tests/support/catch.hpp"

namespace fs = std::filesystem;
using namespace voltfall;

namespace {

/// A folder with a blank and letters beyond ASCII in its name.
class Folder {
public:
    Folder() : path_(fs::temp_directory_path() / path_of("voltfall Kühler " + std::to_string(std::random_device()()))) {
        fs::create_directory(path_);
    }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::string file(const std::string& name) const { return path_text(path_ / path_of(name)); }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator()));
    }

private:
    fs::path path_;
};

}  // namespace

TEST_CASE("a text becomes a path and the path the text again") {
    CHECK(path_text(path_of("Kühler/größe.toml")) == "Kühler/größe.toml");
    CHECK(path_text(path_of("Kühler/größe.toml").parent_path() / path_of("ö")) == "Kühler/ö");
    CHECK(path_text(path_of("Kühler/größe.job.toml").stem()) == "größe.job");
    CHECK(path_of("").empty());
}

TEST_CASE("bytes are written and read as they are, under any name") {
    const Folder folder;
    const std::string name = folder.file("Lüfter größe.toml");
    const std::string bytes("a\r\nb\n\x1a\0ü", 9);
    REQUIRE(write_new_file(name, bytes));
    CHECK(read_whole_file(name) == bytes);
    CHECK(kind_of_path(name) == PathKind::file);
    const auto again = write_new_file(name, "other");
    REQUIRE_FALSE(again);
    CHECK(again.error().exists);
    REQUIRE(replace_whole_file(name, "new"));
    CHECK(read_whole_file(name) == "new");
    CHECK(folder.files() == 1);
    CHECK(read_whole_file(name, 2).error().message.find("larger than 2 bytes") != std::string::npos);
}

TEST_CASE("of two that begin one file at once the second is told") {
    const Folder folder;
    const std::string name = folder.file("new.toml");
    FileBeside first(name);
    FileBeside second(name);
    REQUIRE(first.fill("first") == 0);
    REQUIRE(second.fill("second") == 0);
    CHECK(first.take_free_place() == 0);
    CHECK(second.take_free_place() == EEXIST);
    CHECK(read_whole_file(name) == "first");
    CHECK(second.take_place() == 0);
    CHECK(read_whole_file(name) == "second");
    CHECK(folder.files() == 1);
}

TEST_CASE("what cannot be read or written is said in the same words") {
    const Folder folder;
    CHECK(read_whole_file(folder.file("none")).error().message ==
          "cannot read '" + folder.file("none") + "': No such file or directory");
    CHECK(read_whole_file(folder.file("")).error().message == "cannot read '" + folder.file("") + "': Is a directory");
    CHECK(replace_whole_file(folder.file(""), "x").error().message ==
          "cannot write " + folder.file("") + ": Is a directory");
    CHECK_FALSE(write_new_file(folder.file("none/a"), "x"));
    CHECK(kind_of_path(folder.file("none")) == PathKind::nothing);
    CHECK(kind_of_path(folder.file("")) == PathKind::folder);
    CHECK(why_no_files_in(folder.file("")) == 0);
    CHECK(why_no_files_in(folder.file("none")) != 0);
    CHECK(folder.files() == 0);
}

TEST_CASE("a file that another has open is replaced or stays, and which is said") {
    const Folder folder;
    const std::string name = folder.file("shown.csv");
    REQUIRE(write_new_file(name, "old"));
    std::ifstream open(path_of(name), std::ios::binary);
    REQUIRE(open.is_open());
    const auto written = replace_whole_file(name, "new");
    CHECK(read_whole_file(name) == (written ? "new" : "old"));
    if (!written) CHECK(written.error().message == "cannot write " + name + ": Permission denied");
    open.close();
    CHECK(folder.files() == 1);
    REQUIRE(replace_whole_file(name, "newer"));
    CHECK(read_whole_file(name) == "newer");
}

TEST_CASE("a lock is held by one at a time and leaves nothing") {
    const Folder folder;
    const std::string name = folder.file("ergebnisse ü.csv");
    CHECK_FALSE(FileLock::take(name, 0));  // not there, and not to be begun
    {
        const auto held = FileLock::take(name, 0, FileLock::Missing::begin);
        REQUIRE(held);
        CHECK(kind_of_path(name) == PathKind::file);
        CHECK(read_whole_file(name) == "");
        const auto second = FileLock::take(name, 0.1);
        REQUIRE_FALSE(second);
        CHECK(second.error().message == name + " is being changed by another program");
    }
    CHECK(folder.files() == 0);
    {
        const auto held = FileLock::take(name, 0, FileLock::Missing::begin);
        REQUIRE(held);
        REQUIRE(replace_whole_file(name, "kept"));
    }
    CHECK(read_whole_file(name) == "kept");
    CHECK(folder.files() == 1);
}

TEST_CASE("two never hold the lock of one name, whatever happens between opening and locking") {
    const Folder folder;
    const std::string name = folder.file("results.csv");
    REQUIRE(write_new_file(name, "old"));
    LockedFile first(name, false);
    REQUIRE(replace_whole_file(name, "new"));
    LockedFile second(name, false);
    const bool first_holds = first.try_lock() == LockedFile::Tried::locked;
    const bool second_holds = second.try_lock() == LockedFile::Tried::locked;
    CHECK(first_holds != second_holds);
}

TEST_CASE("of many that add to one file none is lost") {
    const Folder folder;
    const std::string name = folder.file("results.csv");
    constexpr int writers = 4;
    constexpr int lines = 10;
    std::atomic<int> failed{0};
    std::vector<std::thread> threads;
    for (int writer = 0; writer < writers; ++writer)
        threads.emplace_back([&] {
            for (int line = 0; line < lines; ++line) {
                const auto lock = FileLock::take(name, 30, FileLock::Missing::begin);
                auto text = lock ? read_whole_file(name) : tl::unexpected(lock.error());
                if (!text || !replace_whole_file(name, *text + "line\n")) ++failed;
            }
        });
    for (std::thread& thread : threads) thread.join();
    CHECK(failed == 0);
    CHECK(read_whole_file(name).value_or("").size() == 5u * writers * lines);
    CHECK(folder.files() == 1);
}

TEST_CASE("a private directory is entered, its files open, and all is as before afterwards") {
    const fs::path before = fs::current_path();
    constexpr std::array files{".start", "start"};
    fs::path inside;
    {
        const PrivateDirectory held({files, "VOLTFALL_TEST_FOLDER", "not started"});
        inside = fs::current_path();
        CHECK(inside != before);
        for (const char* file : files) {
            // As a library of C opens it.
            std::FILE* const opened = std::fopen(file, "r");
            CHECK(opened != nullptr);
            if (opened != nullptr) std::fclose(opened);
        }
        const auto named = environment_text("VOLTFALL_TEST_FOLDER");
        REQUIRE(named);
        CHECK(fs::equivalent(path_of(*named), inside));
    }
    CHECK(fs::current_path() == before);
    CHECK_FALSE(fs::exists(inside));
    CHECK_FALSE(environment_text("VOLTFALL_TEST_FOLDER"));
}

TEST_CASE("a temporary file has its text and its ending") {
    const auto path = write_temporary_file("voltfall-test-", ".txt", "text");
    REQUIRE(path);
    CHECK(path->ends_with(".txt"));
    CHECK(read_whole_file(*path) == "text");
    std::error_code ignored;
    fs::remove(path_of(*path), ignored);
}

/// Says when it goes whether its own memory was still its own: what is freed is soon another's.
struct Kept {
    static constexpr std::uint64_t mark = 0x1122334455667788;
    static inline std::atomic<int> gone{0};
    static inline std::atomic<int> whole{0};

    ~Kept() {
        std::vector<std::unique_ptr<std::array<unsigned char, sizeof(Kept)>>> others;
        constexpr int enough_to_take_it = 200;
        for (int i = 0; i < enough_to_take_it; ++i) {
            others.push_back(std::make_unique<std::array<unsigned char, sizeof(Kept)>>());
            others.back()->fill(0xEE);
        }
        ++gone;
        if (std::all_of(std::begin(marks), std::end(marks), [](std::uint64_t one) { return one == mark; })) ++whole;
    }
    std::uint64_t marks[8]{mark, mark, mark, mark, mark, mark, mark, mark};
    int calls{0};
};
struct OtherUse;

TEST_CASE("what a thread keeps is its own from call to call and goes whole when the thread ends") {
    constexpr int threads = 8;
    Kept::gone = 0;
    Kept::whole = 0;
    std::atomic<int> counted{0};
    for (int i = 0; i < threads; ++i) {
        std::thread([&] {
            for (int call = 0; call < 3; ++call) ++kept_by_thread<Kept>().calls;
            ++kept_by_thread<Kept, OtherUse>().calls;
            if (kept_by_thread<Kept>().calls == 3 && kept_by_thread<Kept, OtherUse>().calls == 1) ++counted;
        }).join();
    }
    CHECK(counted == threads);
    CHECK(Kept::gone == 2 * threads);
    CHECK(Kept::whole == 2 * threads);
}

TEST_CASE("secrets differ, a port goes most significant byte first, what is no library is said") {
    std::array<unsigned char, 16> one{};
    std::array<unsigned char, 16> other{};
    REQUIRE(fill_random(one));
    REQUIRE(fill_random(other));
    CHECK(one != other);
    auto address = SocketAddress::of("192.0.2.7", 0x1234);  // an address for documentation, RFC 5737
    REQUIRE(address);
    const auto* bytes = reinterpret_cast<const unsigned char*>(address->system());
    // sockaddr_in: family, port, address.
    CHECK(std::vector<int>(bytes + 2, bytes + 8) == std::vector<int>{0x12, 0x34, 192, 0, 2, 7});
    CHECK_FALSE(SocketAddress::of("192.0.2", 80));
    for (const std::string& lan : lan_addresses()) CHECK_FALSE(lan.starts_with("127."));
    CHECK_THROWS_AS(SharedLibrary("no-such-library-of-ours", "nothing"), MissingLibrary);
}
