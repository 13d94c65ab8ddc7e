// One reading of each of the bookmobile's jobs falsified by 3 V: the true place still leads, and that reading is called
// doubtful.
#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;

namespace {

const std::string bookmobile = PROJECT_DIR "/scenarios/bookmobile/";

/// Position of the first candidate at the place, from 1; 0 when absent.
std::size_t rank_of(const MatchAnswer& answer, const std::string& place) {
    for (std::size_t i = 0; i < answer.candidates.size(); ++i) {
        if (answer.candidates[i].place == place) return i + 1;
    }
    return 0;
}

double doubt_of(const MatchAnswer& answer, const std::string& id) {
    for (const Doubt& doubt : answer.doubtful) {
        if (doubt.reading == id) return doubt.probability;
    }
    return 0;
}

}  // namespace

TEST_CASE("a voltage that is 3 V off is called doubtful and does not mislead") {
    std::size_t falsified = 0;
    std::size_t still_first = 0;
    for (const auto& entry : std::filesystem::directory_iterator(bookmobile)) {
        const std::string file = entry.path().filename().string();
        if (!file.ends_with(".job.toml")) continue;
        const JobReading reading = read_job_file(entry.path().string());
        REQUIRE(reading.job);
        const std::string place = match(solver(), *reading.circuit, *reading.job).candidates.front().place;
        for (std::size_t i = 0; i < reading.job->readings.size(); ++i) {
            const auto* volts = std::get_if<VoltsReading>(&reading.job->readings[i].measurement);
            if (!volts || volts->value.low != volts->value.high) continue;
            for (const double by : {3.0, -3.0}) {
                if (volts->value.low + by < 0) continue;
                Job job = *reading.job;
                auto& wrong = std::get<VoltsReading>(job.readings[i].measurement);
                wrong.value.low = wrong.value.high = volts->value.low + by;
                const MatchAnswer answer = match(solver(), *reading.circuit, job);
                INFO(file << " reading " << job.readings[i].id << " by " << by << ": "
                          << answer.candidates.front().fault);
                // Least where a fault explains the false figure too: 3 V at a motor that stands still may be a bad
                // joint.
                CHECK(doubt_of(answer, job.readings[i].id) > 0.25);
                // Where the falsified reading was the only one that told two places apart, the other may lead.
                const std::size_t rank = rank_of(answer, place);
                CHECK(rank >= 1);
                CHECK(rank <= 3);
                still_first += rank == 1 ? 1 : 0;
                ++falsified;
            }
        }
    }
    CHECK(falsified >= 40);
    CHECK(static_cast<double>(still_first) >= 0.9 * static_cast<double>(falsified));
}

TEST_CASE("readings that contradict each other are said to be none of these") {
    const JobReading bare = read_job_file(bookmobile + "cab-blower.toml");
    REQUIRE(bare.circuit);
    Job job = *bare.job;
    Problems problems;
    for (const char* reading :
         {"key run, hi  B1+ to B1- 14.1V", "key run, hi  F7.2 to B1- 2.0V", "key run, hi  C101.4@542 to B1- 9.0V",
          "key run, hi  M1.1 to B1- 4.0V", "key run, hi  M1.2 to B1- 11.0V", "key run, hi  blower fast",
          "key run, hi  clamp 542 2.0A"}) {
        add_reading(job, *bare.circuit, TypedText::argument("reading", reading), problems);
    }
    REQUIRE_FALSE(problems.has_errors());
    const MatchAnswer answer = match(solver(), *bare.circuit, job);
    INFO(answer.candidates.front().fault << " " << answer.candidates.front().probability);
    CHECK(answer.none_of_these > answer.candidates.front().probability);
}
