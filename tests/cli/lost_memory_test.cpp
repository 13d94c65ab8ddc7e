// Memory that runs out at any moment: readers and writers give up as a whole, leak nothing, and read the same text
// right the next time. VOLTFALL_EVERY=1 tries every single allocation of the large files too, which takes minutes.
#include <sys/wait.h>
#include <unistd.h>

#include <atomic>
#include <cstdlib>
#include <new>

#include "engine/lessons/progress_file.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/job_store.hpp"
#include "netlists/files/lesson_file.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/typed_file.hpp"
#include "netlists/files/wire_list.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

/// Allocations until one fails; 0: none does.
std::atomic<long> until_failure{0};
std::atomic<long> failures{0};
std::atomic<long> living{0};
std::atomic<std::size_t> largest{0};  ///< of the blocks that were asked for

void* allocate(std::size_t size) noexcept {
    if (until_failure.load(std::memory_order_relaxed) > 0 && until_failure.fetch_sub(1) == 1) {
        ++failures;
        return nullptr;
    }
    if (size > largest.load(std::memory_order_relaxed)) largest = size;
    void* const memory = std::malloc(size == 0 ? 1 : size);
    if (memory != nullptr) ++living;
    return memory;
}

void give_back(void* memory) noexcept {
    if (memory == nullptr) return;
    --living;
    std::free(memory);
}

void* allocate_or_throw(std::size_t size) {
    if (void* const memory = allocate(size)) return memory;
    throw std::bad_alloc();
}

}  // namespace

void* operator new(std::size_t size) {
    return allocate_or_throw(size);
}
void* operator new[](std::size_t size) {
    return allocate_or_throw(size);
}
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
    return allocate(size);
}
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept {
    return allocate(size);
}
void operator delete(void* memory) noexcept {
    give_back(memory);
}
void operator delete[](void* memory) noexcept {
    give_back(memory);
}
void operator delete(void* memory, std::size_t) noexcept {
    give_back(memory);
}
void operator delete[](void* memory, std::size_t) noexcept {
    give_back(memory);
}

namespace {

/// What became of one piece of work in which the n-th allocation failed. It goes on where it can do without that
/// memory: a stable sort sorts in place.
enum class End { no_failure, given_up, went_on };

template <class Work>
End with_failure_at(long number, const Work& work) {
    const long before = failures;
    until_failure = number;
    bool threw = false;
    try {
        work();
    } catch (const std::bad_alloc&) {
        threw = true;
    }
    until_failure = 0;
    if (failures == before) return End::no_failure;
    return threw ? End::given_up : End::went_on;
}

bool every_one() {
    return std::getenv("VOLTFALL_EVERY") != nullptr;
}

/// Has each allocation of the work fail once, or each `stride`-th; the work tells by its text what it made.
template <class Work>
void fail_each(const Work& work, long stride = 1) {
    const std::string right = work();
    (void)work();  // what is made once and kept stands now
    long tried = 0;
    for (long number = 1;; number += every_one() ? 1 : stride) {
        const long lived = living;
        bool right_too = true;
        const End end = with_failure_at(number, [&] { right_too = work() == right; });
        const long left = living - lived;
        if (end == End::no_failure) break;
        tried += end == End::given_up ? 1 : 0;
        INFO("allocation " << number);
        REQUIRE((end == End::given_up || right_too));
        REQUIRE(left == 0);
        if (number % 16 == 1) REQUIRE(work() == right);
    }
    CHECK(tried > 10);
    CHECK(work() == right);
}

/// The same in processes of their own, in which nothing was made before: tables that are made once must be made again.
template <class Work>
void fail_first_time(const Work& work, const std::string& right, long stride) {
    for (long number = 1;; number += stride) {
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            bool right_too = true;
            const End end = with_failure_at(number, [&] { right_too = work() == right; });
            if (end == End::went_on && !right_too) _exit(2);
            _exit(work() != right ? 1 : end == End::no_failure ? 3 : 0);
        }
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        INFO("allocation " << number);
        REQUIRE(WIFEXITED(status));
        if (WEXITSTATUS(status) == 3) break;
        REQUIRE(WEXITSTATUS(status) == 0);
    }
}

const std::string small_circuit =
    "format = 1\nname = \"small\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 30A maxi, feed "
    "30\"\n"
    "S1 = \"switch C: off hi=1\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nC1 = \"connector inline, 2 way\"\nG1 "
    "= \"ground stud\"\n"
    "[wires]\n1 = \"F1.2 > C1.1 6mm2 RD 1m\"\n2 = \"C1.1 > M1.1 6mm2 RD 1m\"\n3 = \"M1.2 > S1.C 6mm2 BK 1m\"\n4 = "
    "\"S1.1 > G1 6mm2 BK 1m\"\n"
    "[controls]\nS1 = \"blower\"\n";
const std::string wrong_circuit =
    "format = 1\n[parts]\nF1 = \"fuze 30A\"\nM1 = \"motor\"\n[wires]\n1 = \"F1.2 > Q1.1 6mm2\"\nx\n[limit]\n";

std::string told(const Problems& problems) {
    std::string all;
    for (const Problem& problem : problems.list()) all += problem.message + "|" + problem.suggestion + "\n";
    return all;
}

std::string circuit_of(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "small.toml");
    return told(reading.problems) + (reading.circuit ? reading.circuit->name : "none");
}

/// A job or a lesson in a folder with its circuit.
class Desk {
public:
    explicit Desk(const std::string& name, const std::string& text) : circuit_("small.toml", small_circuit) {
        path_ = std::filesystem::path(circuit_.path()).parent_path() / name;
        std::ofstream(path_, std::ios::binary) << text;
    }
    std::string path() const { return path_.string(); }
    std::string circuit() const { return circuit_.path(); }
    std::string text() const {
        std::ifstream file(path_, std::ios::binary);
        return {std::istreambuf_iterator<char>(file), {}};
    }
    std::size_t files() const {
        const std::filesystem::directory_iterator all(path_.parent_path());
        return static_cast<std::size_t>(std::distance(begin(all), end(all)));
    }

private:
    ScratchFile circuit_;
    std::filesystem::path path_;
};

const std::string small_job =
    "format = 1\ncircuit = \"small.toml\"\nconcern = \"weak air\"\ntools = [\"meter 0.5%+2digits\"]\n[readings]\n"
    "1 = \"key run, hi  M1.1 to B1-  10.3V\"\n2 = \"look  C1.1 green crust\"\n";
const std::string small_lesson =
    "format = 1\ncircuit = \"small.toml\"\ntitle = \"t\"\nconcern = \"no air\"\nfault = [\"S1 contact hi "
    "open\"]\nbudget = \"25min\"\n";

std::string job_of(const std::string& path) {
    const JobReading reading = read_job_file(path);
    return told(reading.problems) + (reading.job ? std::to_string(reading.job->readings.size()) : "none");
}

std::string lesson_of(const std::string& path) {
    const LessonReading reading = read_lesson_file(path);
    return told(reading.problems) + (reading.lesson ? reading.lesson->title : "none");
}

std::string bench(const std::string& name) {
    return std::string(PROJECT_DIR) + "/tests/files/" + name;
}

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

}  // namespace

// Before all others: no table of the readers is made yet in this process, nor in those that are forked from it.
TEST_CASE("a small file is read in little memory, also from a pipe") {
    const Desk job("small.job.toml", small_job);
    std::istringstream typed(small_circuit);
    largest = 0;
    CHECK(read_job_file(job.path()).job);
    CHECK(read_typed_file("-", typed).text == small_circuit);
    CHECK(largest < 256 * 1024);
}

TEST_CASE("the first text of a process is read right after memory ran out in the tables that it needed") {
    const Desk desk("small.job.toml", small_job);
    const auto work = [&] { return circuit_of(small_circuit) + circuit_of(wrong_circuit) + job_of(desk.path()); };
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    if (child == 0) {
        const std::string right = work();
        _exit(write(ends[1], right.data(), right.size()) == static_cast<ssize_t>(right.size()) ? 0 : 1);
    }
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    REQUIRE(status == 0);
    close(ends[1]);
    std::string right(4096, '\0');
    right.resize(static_cast<std::size_t>(read(ends[0], right.data(), right.size())));
    close(ends[0]);
    REQUIRE(contains(right, "small"));
    fail_first_time(work, right, every_one() ? 1 : 29);
}

TEST_CASE("memory that runs out while a circuit is read leaves no half of it") {
    fail_each([] { return circuit_of(small_circuit); });
    fail_each([] { return circuit_of(wrong_circuit); });
    const std::string large = bytes_of(bench("bench.toml"));
    fail_each([&] { return circuit_of(large); }, 211);
}

TEST_CASE("memory that runs out while a job is read leaves no half of it") {
    const Desk desk("small.job.toml", small_job);
    fail_each([&] { return job_of(desk.path()); }, 3);
    fail_each([] { return job_of(bench("bench.job.toml")); }, 307);
}

TEST_CASE("memory that runs out while a lesson is read leaves no half of it") {
    const Desk desk("small.lesson.toml", small_lesson);
    fail_each([&] { return lesson_of(desk.path()); }, 3);
    fail_each([] { return lesson_of(bench("bench.lesson.toml")); }, 101);
    fail_each([] { return seal_lesson(small_lesson); });
}

TEST_CASE("memory that runs out while lists and results are read leaves no half of them") {
    const std::string list = bytes_of(bench("bench.csv"));
    fail_each([&] {
        const WireList read = read_wire_list("bench.csv", list);
        return told(read.problems) + read.text;
    });
    const std::string results =
        progress_header() + "2026-11-29,AB,x.toml,title,skill,1,1,SOLVED,1,1,1,0,0,0,1,0,0,yes\nhalf,a,row\n";
    fail_each([&] {
        const auto read = read_progress_text(results);
        return std::to_string(read->records.size()) + " " + std::to_string(read->broken);
    });
}

TEST_CASE("memory that runs out while a reading is kept leaves the job as it was or as it was to be") {
    const Desk desk("small.job.toml", small_job);
    const std::string phrase = "key run, hi  M1.2 to B1-  0.1V";
    const std::string before = desk.text();
    (void)store_readings(desk.path(), {phrase});
    const std::string after = desk.text();
    REQUIRE(after != before);
    const std::size_t files = desk.files();
    long given_up = 0;
    for (long number = 1;; number += every_one() ? 1 : 5) {
        std::ofstream(desk.path(), std::ios::binary | std::ios::trunc) << before;
        const End end = with_failure_at(number, [&] { (void)store_readings(desk.path(), {phrase}); });
        INFO("allocation " << number);
        if (end == End::no_failure) break;
        given_up += end == End::given_up ? 1 : 0;
        REQUIRE((end == End::given_up || desk.text() == after));
        REQUIRE((desk.text() == before || desk.text() == after));
        REQUIRE(desk.files() == files);
    }
    CHECK(given_up > 20);
}

TEST_CASE("memory that runs out while a result is added leaves the file of results whole") {
    const ScratchFile file("class.csv", progress_header());
    const std::string before = file.text();
    const std::string row = "2026-11-29,AB,x.toml,title,skill,1,1,SOLVED,1,1,1,0,0,0,1,0,0,yes\n";
    for (long number = 1;; ++number) {
        std::ofstream(file.path(), std::ios::binary | std::ios::trunc) << before;
        const End end = with_failure_at(number, [&] { (void)append_progress(file.path(), row); });
        INFO("allocation " << number);
        if (end == End::no_failure) break;
        REQUIRE((end == End::given_up || file.text() == before + row));
        REQUIRE((file.text() == before || file.text() == before + row));
    }
    CHECK(file.text() == before + row);
}

TEST_CASE("a command that has no memory left says so by its status, and writes no half file") {
    const Desk desk("small.job.toml", small_job);
    const std::string out = desk.circuit() + ".out";
    for (const std::vector<std::string>& words : {std::vector<std::string>{"check", desk.path()},
                                                  {"deck", desk.circuit(), "-o", out},
                                                  {"match", desk.path(), "--workers", "1"}}) {
        const Said right = command_line(words);
        const std::string written = bytes_of(out);
        long stopped = 0;
        for (long number = 1;; number += every_one() ? 1 : 1 + number / 12) {
            unlink(out.c_str());
            Said said;
            const End end = with_failure_at(number, [&] { said = command_line(words); });
            INFO(words.front() << ", allocation " << number << ": " << said.status << " " << said.err);
            // The streams of this test are not the program's: what fails there is thrown to here.
            if (end == End::given_up) continue;
            if (end == End::no_failure) break;
            if (said.status != right.status) {
                REQUIRE(said.status == 4);
                ++stopped;
            }
            const std::string text = bytes_of(out);
            REQUIRE((text.empty() || text == written));
        }
        CHECK(stopped > 10);
        const Said again = command_line(words);
        unlink(out.c_str());
        CHECK(again.status == (words.front() == "deck" ? 2 : right.status));
    }
}
