// Every call of the system that a writer makes fails once: the file is as it was or as it was to be, and nothing is
// left beside it.
#include <unistd.h>

#include <cerrno>
#include <functional>
#include <set>

#include "engine/lessons/progress_file.hpp"
#include "netlists/files/job_store.hpp"
#include "netlists/files/whole_file.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/failing_calls.hpp"

using namespace voltfall;
using testing::file_plan;

namespace {

std::size_t files_beside(const std::string& path) {
    const std::filesystem::directory_iterator all(std::filesystem::path(path).parent_path());
    return static_cast<std::size_t>(std::distance(begin(all), end(all)));
}

/// A piece of writing and what it is held against.
struct Writing {
    std::string path;
    std::string before;  ///< the file's bytes; empty with `is_new`: not there
    std::string after;
    bool is_new{false};
    std::function<bool()> write;  ///< did it say that all went well?
};

void stand(const Writing& writing) {
    if (writing.is_new)
        ::unlink(writing.path.c_str());
    else
        std::ofstream(writing.path, std::ios::binary | std::ios::trunc) << writing.before;
}

std::string now(const Writing& writing) {
    std::ifstream file(writing.path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

/// Has each call of the writing fail once; the names of those that did.
std::set<std::string> fail_each_call(const Writing& writing, int error) {
    std::set<std::string> failed;
    for (long number = 1;; ++number) {
        stand(writing);
        const std::size_t files = files_beside(writing.path);
        file_plan = {number, error};
        const bool went_well = writing.write();
        const char* const call = file_plan.failed;
        file_plan = {};
        INFO("call " << number << ": " << (call != nullptr ? call : "none"));
        const std::string text = now(writing);
        const bool there = std::filesystem::exists(writing.path);
        if (went_well) {
            REQUIRE(text == writing.after);
        } else {
            // A name that was taken before the failure may stand, with the whole text.
            REQUIRE((text == writing.before || text == writing.after));
            REQUIRE((there == !writing.is_new || text == writing.after));
        }
        REQUIRE(files_beside(writing.path) <= files + (writing.is_new && there ? 1 : 0));
        if (call == nullptr) {
            REQUIRE(went_well);
            return failed;
        }
        failed.insert(call);
    }
}

void fail_all(const Writing& writing, const std::set<std::string>& expected) {
    for (const int error : {EIO, ENOSPC, EACCES, ENOSYS}) {
        std::set<std::string> failed = fail_each_call(writing, error);
        INFO("error " << error);
        for (const std::string& call : expected) {
            INFO(call);
            CHECK(failed.count(call) == 1);
        }
    }
    // Short and interrupted writes are no failures.
    stand(writing);
    file_plan = {};
    file_plan.in_pieces = true;
    const bool went_well = writing.write();
    file_plan = {};
    CHECK(went_well);
    CHECK(now(writing) == writing.after);
}

const std::set<std::string> of_replacing{"open", "write", "fsync", "fchmod", "rename", "linkat"};
const std::set<std::string> of_a_new_file{"open", "write", "fsync", "fchmod", "linkat"};

}  // namespace

TEST_CASE("whichever call fails, a file is replaced whole or stays") {
    const ScratchFile file("kept.txt");
    const std::string after(3000, 'b');
    fail_all({file.path(), std::string(5000, 'a'), after, false,
              [&] { return replace_whole_file(file.path(), after).has_value(); }},
             of_replacing);
}

TEST_CASE("whichever call fails, a new file is whole or not there") {
    const ScratchFile file("new.txt");
    const std::string after(3000, 'b');
    fail_all({file.path(), "", after, true, [&] { return write_new_file(file.path(), after).has_value(); }},
             of_a_new_file);
}

TEST_CASE("whichever call fails, -o leaves the old file or the new one") {
    const ScratchFile list("list.csv",
                           "wire,from,pin,to,pin,size,colour,length\n1,F1,2,M1,1,6,RD,1\n2,M1,2,G1,,6,BK,1\n");
    const ScratchFile file("made.toml");
    const std::vector<std::string> words{"new", "--from", list.path(), "-o", file.path(), "--force"};
    const Said made = command_line(words);
    INFO(made.err);
    REQUIRE(made.status == 0);
    const std::string after = file.text();
    fail_all({file.path(), "what stood there\n", after, false, [&] { return command_line(words).status == 0; }},
             of_replacing);
}

TEST_CASE("whichever call fails, a job has the reading or is as it was") {
    const ScratchFile job("weak-air.job.toml");
    for (const char* name : {"cab-blower.toml", "weak-air.job.toml"})
        std::filesystem::copy_file(scenario(name), std::filesystem::path(job.path()).parent_path() / name);
    const std::string before = job.text();
    const std::string phrase = "key run, hi  across C101.4  3.6V";
    REQUIRE_FALSE(store_readings(job.path(), {phrase}).key.empty());
    const std::string after = job.text();
    REQUIRE(after != before);
    std::set<std::string> expected = of_replacing;
    expected.insert({"flock", "read"});
    fail_all({job.path(), before, after, false, [&] { return !store_readings(job.path(), {phrase}).key.empty(); }},
             expected);
}

TEST_CASE("whichever call fails, results have the new row or are as they were") {
    const ScratchFile file("class.csv");
    const std::string row = "2026-11-29,AB,x.toml,title,skill,1,1,SOLVED,1,1,1,0,0,0,1,0,0,yes\n";
    const std::string before = progress_header() + row;
    std::set<std::string> expected = of_replacing;
    expected.insert({"flock", "read"});
    fail_all({file.path(), before, before + row, false, [&] { return !append_progress(file.path(), row); }}, expected);
}
