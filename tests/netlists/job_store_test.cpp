// Readings kept in a job file: what a person wrote stays byte for byte, whatever happens in between.
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <random>
#include <thread>

#include "netlists/files/job_edit.hpp"
#include "netlists/files/job_store.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/kills.hpp"

namespace voltfall::test {

namespace {

namespace fs = std::filesystem;

/// A copy of the weak-air job and its circuit, in a folder of its own.
class JobCopy {
public:
    JobCopy() {
        std::string pattern = (fs::temp_directory_path() / "voltfall-job-XXXXXX").string();
        folder_ = mkdtemp(pattern.data());
        for (const char* name : {"weak-air.job.toml", "cab-blower.toml"})
            fs::copy_file(fs::path(PROJECT_DIR) / "scenarios/bookmobile" / name, folder_ / name);
    }
    ~JobCopy() {
        std::error_code ignored;
        fs::permissions(folder_, fs::perms::owner_all, ignored);
        fs::remove_all(folder_, ignored);
    }
    JobCopy(const JobCopy&) = delete;
    JobCopy& operator=(const JobCopy&) = delete;

    fs::path folder() const { return folder_; }
    std::string path() const { return (folder_ / "weak-air.job.toml").string(); }
    std::string text() const {
        std::ifstream file(path(), std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    void write(const std::string& text) const { std::ofstream(path(), std::ios::binary) << text; }
    std::size_t files() const {
        return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder_), fs::directory_iterator()));
    }

private:
    fs::path folder_;
};

StoredReading store(const JobCopy& job, const std::string& phrase) {
    return store_reading(job.path(), TypedText::argument("reading", phrase));
}

}  // namespace

TEST_CASE("a reading is one line more; all else stays byte for byte") {
    const std::string head = "format = 1  # ours\n\ncircuit='c.toml'\n\n";
    SECTION("behind the last reading, before what follows it") {
        const std::string job =
            head + "[readings]\n3 = \"hi  M1 slow\"   # after lunch\n\n# what was done\n[history]\n1 = \"x\"\n";
        const EditedJob edited = with_reading(job, "lo  M1 dead");
        CHECK(edited.key == "4");
        CHECK(edited.text == head +
                                 "[readings]\n3 = \"hi  M1 slow\"   # after lunch\n4 = \"lo  M1 dead\"\n\n# what was "
                                 "done\n[history]\n1 = \"x\"\n");
        CHECK(without_reading(edited.text, "4") == job);
    }
    SECTION("a last line without an end") {
        CHECK(with_reading(head + "[readings]\n1 = \"M1 slow\"", "M1 dead").text ==
              head + "[readings]\n1 = \"M1 slow\"\n2 = \"M1 dead\"");
    }
    SECTION("line ends of another system") {
        CHECK(with_reading("format = 1\r\n[readings]\r\n", "M1 dead").text ==
              "format = 1\r\n[readings]\r\n1 = \"M1 dead\"\r\n");
    }
    SECTION("no section yet") {
        CHECK(with_reading(head, "M1 dead").text == head + "\n[readings]\n1 = \"M1 dead\"\n");
    }
    SECTION("no section yet, and a last line without an end") {
        CHECK(with_reading("format = 1", "M1 dead").text == "format = 1\n\n[readings]\n1 = \"M1 dead\"\n");
        CHECK(with_reading("", "M1 dead").text == "\n[readings]\n1 = \"M1 dead\"\n");
    }
    SECTION("keys that are no numbers, or more than one, count for nothing") {
        const EditedJob edited = with_reading(head + "[readings]\n2b = \"M1 slow\"\nx = \"M1 slow\"\n", "M1 dead");
        CHECK(edited.key == "1");
        CHECK(with_reading(head + "[readings]\n7 = \"M1 slow\"\n2 = \"M1 slow\"\n", "M1 dead").key == "8");
    }
    SECTION("what is not there is not taken away") {
        const std::string job = head + "[readings]\n1 = \"M1 dead\"\n";
        CHECK(without_reading(job, "2") == job);
        CHECK(without_reading(job, "1", "after") == job);
        CHECK(without_reading(head, "1") == head);
        CHECK(without_reading(job, "1") == head + "[readings]\n");
    }
    SECTION("a phrase of two lines is one") {
        CHECK(with_reading(head + "[readings]\n", "hi\n M1\tdead").text == head + "[readings]\n1 = \"hi  M1 dead\"\n");
    }
    SECTION("quotes of a person's own condition") {
        const EditedJob edited = with_reading(head + "[readings]\n", "\"door open\"  M1 dead");
        CHECK(edited.text == head + "[readings]\n1 = \"\\\"door open\\\"  M1 dead\"\n");
    }
}

TEST_CASE("a stored reading is read again as the last of its job") {
    const JobCopy job;
    const std::string before = job.text();
    const StoredReading stored = store(job, "key run, hi  across C101.4  3.6V");
    REQUIRE(stored.key == "9");
    CHECK(stored.after->readings.size() == stored.before->readings.size() + 1);
    const std::string after = job.text();
    CHECK(after.find("9 = \"key run, hi  across C101.4  3.6V\"\n") != std::string::npos);
    CHECK(job.files() == 2);  // nothing is left beside
    const StoredReading removed = remove_reading(job.path(), "9");
    CHECK(removed.key == "9");
    CHECK(job.text() == before);
}

TEST_CASE("a reading that does not read, or a file with errors, changes nothing") {
    const JobCopy job;
    const std::string before = job.text();
    const StoredReading misspelt = store(job, "hi  M1.1 to B1-  10.3W");
    CHECK(misspelt.key.empty());
    CHECK(misspelt.phrase_problems.has_errors());
    CHECK(job.text() == before);
    job.write("format = 2\n" + before);
    const std::string broken = job.text();
    const StoredReading refused = store(job, "M1 dead");
    CHECK(refused.key.empty());
    CHECK(refused.file_problems.has_errors());
    CHECK(job.text() == broken);
}

TEST_CASE("a folder that may not be written is told, and the file stays") {
    const JobCopy job;
    const std::string before = job.text();
    chmod(job.folder().c_str(), 0555);
    const pid_t child = fork();
    if (child == 0) {
        // Nothing is forbidden to root: it becomes nobody.
        if (geteuid() == 0 && (setegid(65534) != 0 || seteuid(65534) != 0)) _exit(2);
        const StoredReading stored = store(job, "M1 dead");
        const bool told = stored.failure && stored.failure->message.find("weak-air.job.toml") != std::string::npos;
        _exit(told && stored.key.empty() ? 0 : 1);
    }
    int status = 0;
    waitpid(child, &status, 0);
    CHECK(status == 0);
    CHECK(job.text() == before);
    chmod(job.folder().c_str(), 0755);
}

TEST_CASE("a full disk is told, and the file stays") {
    const JobCopy job;
    const std::string before = job.text();
    const pid_t child = fork();
    if (child == 0) {
        // The limit of a file's size stands for the full disk: both fail in writing.
        signal(SIGXFSZ, SIG_IGN);
        const rlimit limit{64, 64};
        setrlimit(RLIMIT_FSIZE, &limit);
        const StoredReading stored = store(job, "M1 dead");
        _exit(stored.failure && stored.key.empty() ? 0 : 1);
    }
    int status = 0;
    waitpid(child, &status, 0);
    CHECK(status == 0);
    CHECK(job.text() == before);
    CHECK(job.files() == 2);
}

TEST_CASE("a link stays a link and the file behind it is changed, with its mode") {
    const JobCopy job;
    const fs::path real = job.folder() / "real.toml";
    fs::rename(job.path(), real);
    fs::create_symlink("real.toml", job.path());
    chmod(real.c_str(), 0640);
    REQUIRE(store(job, "M1 dead").key == "9");
    CHECK(fs::is_symlink(job.path()));
    struct stat after {};
    stat(real.c_str(), &after);
    CHECK((after.st_mode & 0777) == 0640);
}

TEST_CASE("two programs at once lose no reading") {
    const JobCopy job;
    constexpr int each = 20;
    std::vector<pid_t> children;
    for (int program = 0; program < 2; ++program) {
        const pid_t child = fork();
        if (child == 0) {
            for (int i = 0; i < each; ++i)
                if (store(job, "M1 dead").key.empty()) _exit(1);
            _exit(0);
        }
        children.push_back(child);
    }
    for (const pid_t child : children) {
        int status = 0;
        waitpid(child, &status, 0);
        CHECK(status == 0);
    }
    const JobReading reading = read_job_file(job.path());
    REQUIRE(reading.job);
    CHECK(reading.job->readings.size() == 8 + 2 * each);
}

TEST_CASE("a kill at any moment leaves the whole old file or the whole new one") {
    const JobCopy job;
    std::mt19937 random(11);
    // Kills fall within a few times what one change takes here, and later while none has landed: the machine may have
    // become busy since.
    const auto start = std::chrono::steady_clock::now();
    REQUIRE(store(job, "M1 dead").key == "9");
    const auto one = std::chrono::steady_clock::now() - start;
    std::size_t had = 9;
    int landed = 0;
    const std::string begun = job.text();
    // Long before a job is as long as one may be.
    constexpr std::size_t most = 500;
    for (int kill_number = 0; kill_number < kills(60) || (landed == 0 && kill_number < 600); ++kill_number) {
        if (had > most) {
            job.write(begun);
            had = 9;
        }
        const pid_t child = fork();
        if (child == 0) {
            for (;;) (void)store(job, "M1 dead");
        }
        const int patience = landed == 0 ? 1 + kill_number / 20 : 1;
        std::this_thread::sleep_for(one * patience * (random() % 400) / 100);
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const std::string text = job.text();
        const JobReading reading = read_job_file(job.path());
        REQUIRE(reading.job);
        REQUIRE(text.ends_with("[history]\n1 = \"cowl drain found blocked last autumn\"\n"));
        REQUIRE(reading.job->readings.size() >= had);
        landed += reading.job->readings.size() > had ? 1 : 0;
        had = reading.job->readings.size();
    }
    CHECK(landed > 0);
}

TEST_CASE("a line that is several readings is kept as all of them, and taken out as one") {
    const JobCopy job;
    const std::string before = job.text();
    const StoredReading stored = store(job, "only hi works");
    REQUIRE(stored.keys == std::vector<std::string>{"9", "10"});
    CHECK(job.text().find("10 = \"hi M1 normal\"\n") != std::string::npos);
    CHECK(stored.after->readings.size() == stored.before->readings.size() + 2);
    // One that is not there leaves the others where they are.
    CHECK(remove_readings(job.path(), {"9", "77"}).key.empty());
    CHECK(remove_readings(job.path(), stored.keys).key == "10");
    CHECK(job.text() == before);
    // One that does not read keeps none of them.
    CHECK(store_readings(job.path(), {"fuse F7 good", "hi  M1.1 to B1-  10.3W"}).key.empty());
    CHECK(job.text() == before);
}

TEST_CASE("what was mended stands under [repaired], readings behind it under [after], and each can be taken out") {
    const JobCopy job;
    const std::string before = job.text();
    const StoredReading repaired = store_repair(job.path(), "replaced the terminal at C101.4, and its seal");
    REQUIRE(repaired.key == "C101.4");
    REQUIRE(repaired.after->repaired.size() == 1);
    CHECK(repaired.after->repaired.front().place == "C101.4");
    CHECK(repaired.after->repaired.front().words == "replaced the terminal at C101.4, and its seal");
    CHECK(store_repair(job.path(), "C101.4 again").failure);
    CHECK(store_repair(job.path(), "no fault found").failure);
    CHECK(store_repair(job.path(), "cleaned the Q7").phrase_problems.has_errors());
    const StoredReading after = store_readings(job.path(), {"key run, hi  clamp 542  20.3A"}, RepairStage::after);
    REQUIRE(after.key == "1");
    CHECK(after.after->after.size() == 1);
    CHECK(after.after->readings.size() == after.before->readings.size());
    CHECK(remove_readings(job.path(), {"1"}, RepairStage::after).key == "1");
    const StoredReading not_there = remove_repair(job.path(), "C303");
    REQUIRE(not_there.failure);
    CHECK(not_there.failure->message == "C303 does not stand under [repaired] in " + job.path());
    CHECK(remove_repair(job.path(), "C101.4").key == "C101.4");
    const JobReading now = read_job_file(job.path());
    REQUIRE(now.job);
    CHECK(now.job->repaired.empty());
    CHECK(now.job->after.empty());
    CHECK(job.text().starts_with(before));
    CHECK(store_repair(job.path(), "no fault found").after->repaired.front().nothing_found());
}

}  // namespace voltfall::test
