// A sound circuit with one meter that lies: nothing is wrong with it, and that reading is named. The kinds of sensor
// fault are those that published benches are made to show (offset, drift, stuck, scale, noise; common practice).
#include <map>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;

namespace {

MatchAnswer match_bench(const std::string& job) {
    const JobReading read = read_job_file(PROJECT_DIR "/scenarios/bench/" + job + ".job.toml");
    INFO(job);
    REQUIRE(read.circuit);
    REQUIRE(read.job);
    return match(testing::solver(), *read.circuit, *read.job);
}

}  // namespace

TEST_CASE("where one meter lies and the rest agrees nothing leads and that reading is doubtful", "[scenarios]") {
    const std::map<std::string, std::string> lying{
        {"liar-dead", "4"},   {"liar-drift", "3"},    {"liar-noisy", "6"}, {"liar-offset", "2"},
        {"liar-scale", "10"}, {"liar-reversed", "2"}, {"liar-stuck", "9"},
    };
    for (const auto& [job, reading] : lying) {
        const MatchAnswer answer = match_bench(job);
        INFO(job);
        REQUIRE_FALSE(answer.places.empty());
        CHECK(answer.places.front().place == "nothing");
        REQUIRE(answer.doubtful.size() == 1);
        CHECK(answer.doubtful.front().reading == reading);
        CHECK(answer.doubtful.front().probability > 0.5);
    }
}

TEST_CASE("a load that drifts is no lying meter", "[scenarios]") {
    const MatchAnswer answer = match_bench("load-drifts");
    REQUIRE_FALSE(answer.places.empty());
    CHECK(answer.places.front().place == "H1");
    CHECK(answer.places.front().probability > 0.9);
    CHECK(answer.doubtful.empty());
}

TEST_CASE("where all loads go as they should testing ends, whatever small fault cannot be ruled out", "[scenarios]") {
    const auto stop_of = [](const Circuit& circuit, const Job& job) {
        return next_tests(testing::solver(), circuit, job).stop;
    };
    const JobReading read = read_job_file(PROJECT_DIR "/scenarios/bench/liar-offset.job.toml");
    REQUIRE(read.circuit);
    REQUIRE(read.job);
    const auto stop = stop_of(*read.circuit, *read.job);
    REQUIRE(stop);
    CHECK(stop->nothing);
    CHECK(stop->repairs.empty());
    CHECK(stop->probability >= 0.95);
    // What fails sometimes is a fault to be found, however well all works now.
    Job complained = *read.job;
    Problems problems;
    add_reading(complained, *read.circuit, TypedText::argument("--read", "sometimes, S1=on  L1 dead"), problems);
    REQUIRE_FALSE(problems.has_errors());
    const auto sometimes = stop_of(*read.circuit, complained);
    CHECK((!sometimes || !sometimes->nothing));
    // One load that does not is a fault to be found.
    const JobReading drifts = read_job_file(PROJECT_DIR "/scenarios/bench/load-drifts.job.toml");
    REQUIRE(drifts.job);
    const auto heater = stop_of(*drifts.circuit, *drifts.job);
    CHECK((!heater || !heater->nothing));
}
