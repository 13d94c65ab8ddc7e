// Calls of the system that fail, one at a time, and what is then said, left and undone. What writes files is in
// tests/cli/failing_calls_test.
#include <net/if.h>
#include <netinet/in.h>
#include <sys/resource.h>

#include <array>
#include <cerrno>
#include <cstdlib>
#include <filesystem>
#include <system_error>

#include "netlists/files/whole_file.hpp"
#include "netlists/platform/file_beside.hpp"
#include "netlists/platform/file_bytes.hpp"
#include "netlists/platform/lan.hpp"
#include "netlists/platform/private_directory.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/platform/shared_library.hpp"
#include "netlists/platform/thread_kept.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/failing_calls.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using namespace voltfall::testing;
namespace fs = std::filesystem;

namespace {

/// A variable of the environment while it lives.
class Variable {
public:
    Variable(const char* name, const char* text) : name_(name), before_(environment_text(name)) {
        text == nullptr ? ::unsetenv(name) : ::setenv(name, text, 1);
    }
    ~Variable() { before_ ? ::setenv(name_, before_->c_str(), 1) : ::unsetenv(name_); }
    Variable(const Variable&) = delete;
    Variable& operator=(const Variable&) = delete;

private:
    const char* name_;
    std::optional<std::string> before_;
};

std::size_t open_files() {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator("/proc/self/fd"), fs::directory_iterator()));
}

constexpr std::array start_files{".start", "start"};
const PrivateDirectory::Wanted wanted{start_files, "VOLTFALL_TEST_FOLDER", "it is not started"};

}  // namespace

TEST_CASE("whichever call fails, no private folder is said to be there, and nothing of it is left") {
    struct Row {
        std::vector<Failure> failing;
        std::string told;
    };
    const std::vector<Row> rows{
        {{{"pipe2", 1, EMFILE}}, "cannot make a pipe: Too many open files"},
        {{{"pipe2", 2, EMFILE}}, "cannot make a pipe: Too many open files"},
        {{{"fork", 1, EAGAIN}}, "cannot make a private folder: Resource temporarily unavailable"},
        {{{"read", 1, EIO}}, "cannot make a private folder: Input/output error"},
        {{{"write", 1, EPIPE}}, "cannot make a private folder: Input/output error"},
        {{{"mkdtemp", 1, ENOSPC}}, "XXXXXX: No space left on device"},
        {{{"open", 1, EMFILE}}, "XXXXXX: Too many open files"},
        {{{"openat", 1, EROFS}}, "XXXXXX: Read-only file system"},
        {{{"openat", 2, ENOSPC}}, "XXXXXX: No space left on device"},
        {{{"close", 1, EIO}}, "XXXXXX: Input/output error"},
        {{{"open .", 1, EMFILE}}, "cannot hold the working folder: Too many open files"},
        {{{"chdir", 1, EACCES}}, "cannot enter "},
    };
    const fs::path before = fs::current_path();
    const ScratchFile mark("mark", "x");
    const fs::path folder = fs::path(mark.path()).parent_path();
    const Variable temporary("TMPDIR", folder.c_str());
    for (const Row& row : rows) {
        INFO(row.failing.front().call << " " << row.failing.front().which);
        const std::size_t files = open_files();
        std::string told;
        try {
            const Failing failing(row.failing);
            const PrivateDirectory directory(wanted);
        } catch (const std::runtime_error& refused) {
            told = refused.what();
        }
        INFO(told);
        CHECK(told.starts_with("it is not started: "));
        CHECK(contains(told, row.told));
        CHECK(open_files() == files);
        CHECK(fs::current_path() == before);
        CHECK_FALSE(environment_text("VOLTFALL_TEST_FOLDER"));
        CHECK(std::distance(fs::directory_iterator(folder), fs::directory_iterator()) == 1);
    }
}

TEST_CASE("a call that was interrupted is made again, and the variable is as it was") {
    const fs::path before = fs::current_path();
    const Variable set("VOLTFALL_TEST_FOLDER", "mine");
    fs::path inside;
    {
        const Failing failing({{"read", 1, EINTR}, {"waitpid", 1, EINTR}});
        const PrivateDirectory directory(wanted);
        inside = fs::current_path();
        CHECK(environment_text("VOLTFALL_TEST_FOLDER") == inside.string());
        CHECK(fs::exists(inside / "start"));
    }
    CHECK(fs::current_path() == before);
    CHECK_FALSE(fs::exists(inside));
    CHECK(environment_text("VOLTFALL_TEST_FOLDER") == "mine");
}

TEST_CASE("a working folder that cannot be gone back to keeps nothing open") {
    const fs::path before = fs::current_path();
    const std::size_t files = open_files();
    {
        const PrivateDirectory directory(wanted);
        failures = {{"fchdir", 1, ENOENT}};
    }
    failures.clear();
    fs::current_path(before);
    CHECK(open_files() == files);
}

TEST_CASE("without a folder for temporary files, or with one of too long a name, nothing is made") {
    const auto refusal = [](const std::string& folder) -> std::string {
        const Variable temporary("TMPDIR", folder.c_str());
        try {
            const PrivateDirectory directory(wanted);
        } catch (const std::runtime_error& refused) {
            return refused.what();
        }
        return "";
    };
    CHECK(refusal("/no/such/folder") == "it is not started: there is no folder for temporary files");
    {
        const Variable temporary("TMPDIR", "/no/such/folder");
        CHECK_FALSE(write_temporary_file("case-", ".txt", "text"));
    }
    std::string deep = fs::temp_directory_path().string();
    while (deep.size() < 4084) deep += "/.";
    CHECK(contains(refusal(deep), "File name too long"));
}

TEST_CASE("a temporary file that cannot be written whole is not left") {
    const ScratchFile mark("mark", "x");
    const fs::path folder = fs::path(mark.path()).parent_path();
    const Variable temporary("TMPDIR", folder.c_str());
    for (const char* call : {"mkstemps", "write", "close"}) {
        INFO(call);
        const Failing failing({{call, 1, EIO}});
        CHECK_FALSE(write_temporary_file("case-", ".txt", "text"));
    }
    CHECK(std::distance(fs::directory_iterator(folder), fs::directory_iterator()) == 1);
}

TEST_CASE("of this machine's interfaces those are named that phones may reach") {
    sockaddr_in near{};
    near.sin_family = AF_INET;
    near.sin_addr.s_addr = htonl(0xC0000207);  // 192.0.2.7, an address for documentation (RFC 5737)
    sockaddr_in6 sixth{};
    sixth.sin6_family = AF_INET6;
    const auto interface = [](void* address, unsigned flags, ifaddrs* next) {
        ifaddrs made{};
        made.ifa_addr = static_cast<sockaddr*>(address);
        made.ifa_flags = flags;
        made.ifa_next = next;
        return made;
    };
    ifaddrs usable = interface(&near, IFF_UP, nullptr);
    ifaddrs bare = interface(nullptr, IFF_UP, &usable);
    ifaddrs other_family = interface(&sixth, IFF_UP, &bare);
    ifaddrs down = interface(&near, 0, &other_family);
    ifaddrs own = interface(&near, IFF_UP | IFF_LOOPBACK, &down);
    made_interfaces = &own;
    CHECK(lan_addresses() == std::vector<std::string>{"192.0.2.7"});
    {
        const Failing failing({{"inet_ntop", 1, ENOSPC}});
        CHECK(lan_addresses().empty());
    }
    made_interfaces = nullptr;
    const Failing failing({{"getifaddrs", 1, ENOMEM}});
    CHECK(lan_addresses().empty());
}

TEST_CASE("open files have as much room as the system gives and tells") {
    rlimit before{};
    REQUIRE(getrlimit(RLIMIT_NOFILE, &before) == 0);
    CHECK(room_for_open_files(1) == before.rlim_cur);
    rlimit less = before;
    less.rlim_cur = 64;
    REQUIRE(setrlimit(RLIMIT_NOFILE, &less) == 0);
    {
        const Failing failing({{"setrlimit", 1, EPERM}});
        CHECK(room_for_open_files(128) == 64u);
    }
    {
        const Failing failing({{"setrlimit", 1, EPERM}, {"getrlimit", 2, EPERM}});
        CHECK_FALSE(room_for_open_files(128));
    }
    {
        const Failing failing({{"getrlimit", 1, EPERM}});
        CHECK_FALSE(room_for_open_files(128));
    }
    CHECK(room_for_open_files(128) == 128u);
    REQUIRE(setrlimit(RLIMIT_NOFILE, &before) == 0);
}

TEST_CASE("settings stand where the environment says it by a whole path") {
    const auto folder = [](const char* config, const char* home) {
        const Variable one("XDG_CONFIG_HOME", config);
        const Variable other("HOME", home);
        return settings_folder();
    };
    CHECK(folder("/etc/mine", "/home/me") == "/etc/mine");
    CHECK(folder("mine", "/home/me") == "/home/me/.config");
    CHECK(folder(nullptr, "/home/me") == "/home/me/.config");
    CHECK(folder(nullptr, "me").empty());
    CHECK(folder(nullptr, nullptr).empty());
    char name[] = "voltfall";
    char word[] = "check";
    char* words[]{name, word, nullptr};
    CHECK(command_words(2, words) == std::vector<std::string>{"check"});
    CHECK(command_words(0, words).empty());
}

TEST_CASE("without the system's secrets, or a place in a thread, that is said") {
    std::array<unsigned char, 16> bytes{};
    {
        const Failing failing({{"getrandom", 1, ENOSYS}});
        CHECK_FALSE(fill_random(bytes));
    }
    {
        const Failing failing({{"pthread_key_create", 1, EAGAIN}});
        CHECK_THROWS_AS(ThreadPlace(nullptr), std::system_error);
    }
    const ThreadPlace place(nullptr);
    {
        const Failing failing({{"pthread_setspecific", 1, ENOMEM}});
        CHECK_THROWS_AS(place.set(bytes.data()), std::system_error);
    }
    CHECK(place.get() == nullptr);
    const SharedLibrary library("libm.so.6", "mathematics");
    double (*found)(double) = nullptr;
    library.find("cos", found);
    CHECK(found(0) == 1);
    CHECK_THROWS_WITH(
        library.find("no_such_function", found),
        Catch::Matchers::Contains("mathematics is not there: ") && Catch::Matchers::Contains("no_such_function"));
}

TEST_CASE("a lock that the system does not give is told, and one that it may give is tried again") {
    const ScratchFile file("results.csv", "old");
    {
        const Failing failing({{"flock", 1, ENOLCK}});
        const auto lock = FileLock::take(file.path(), 0);
        REQUIRE_FALSE(lock);
        CHECK(lock.error().message == "cannot lock " + file.path() + ": No locks available");
    }
    for (const Failure& once :
         {Failure{"flock", 1, EINTR}, Failure{"flock", 1, EWOULDBLOCK}, Failure{"fstat", 1, EIO}}) {
        INFO(once.call);
        const Failing failing({once});
        CHECK(FileLock::take(file.path(), 5));
    }
    const std::string none = file.path() + ".new";
    {
        const Failing failing({{"open", 2, EACCES}});
        const auto lock = FileLock::take(none, 0, FileLock::Missing::begin);
        REQUIRE_FALSE(lock);
        CHECK(lock.error().message == "cannot open " + none + ": Permission denied");
    }
    {
        // Begun, and taken away by another program before it is let go.
        const auto lock = FileLock::take(none, 0, FileLock::Missing::begin);
        REQUIRE(lock);
        fs::remove(none);
    }
    CHECK_FALSE(fs::exists(none));
}

TEST_CASE("a file beside another never takes a name that is another's") {
    const ScratchFile file("kept.txt", "old");
    const fs::path folder = fs::path(file.path()).parent_path();
    {
        const Failing failing({{"open", 1, EOPNOTSUPP}, {"mkostemp", 1, EACCES}});
        CHECK(FileBeside(file.path()).error() == EACCES);
    }
    {
        std::vector<Failure> taken;
        for (int tried = 1; tried <= 10; ++tried) taken.push_back({"linkat", tried, EEXIST});
        FileBeside beside(file.path());
        REQUIRE(beside.fill("new") == 0);
        const Failing failing(taken);
        CHECK(beside.take_place() == EEXIST);
    }
    CHECK(file.text() == "old");
    {
        const Failing failing({{"linkat", 1, EEXIST}, {"linkat", 2, EEXIST}});
        CHECK(replace_whole_file(file.path(), "new"));
    }
    CHECK(file.text() == "new");
    {
        const Failing failing({{"open", 1, EOPNOTSUPP}});
        CHECK(write_new_file(file.path() + ".other", "text"));
    }
    CHECK(std::distance(fs::directory_iterator(folder), fs::directory_iterator()) == 2);
}

TEST_CASE("a stream that takes nothing, or loses what it took, is told") {
    for (const Failure& failing_call :
         {Failure{"open", 1, EACCES}, Failure{"write", 1, ENOSPC}, Failure{"close", 1, EIO}}) {
        INFO(failing_call.call);
        const Failing failing({failing_call});
        CHECK(write_into_stream("/dev/null", "text") == failing_call.error);
    }
    const Failing failing({{"write", 1, EINTR}});
    CHECK(write_into_stream("/dev/null", "text") == 0);
    CHECK(why_no_files_in("") == 0);
}
