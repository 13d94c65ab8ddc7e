// A reading is written as a line that reads as itself.
#include <filesystem>

#include "netlists/files/job_file.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

void check_round_trip(const Circuit& circuit, const Reading& reading) {
    const std::string line = write_reading(circuit, reading);
    Problems problems;
    const auto read = read_reading_phrase(typed(line), reading.id, circuit, problems);
    INFO(reading.text << " is written " << line << "\n" << all_problems(problems));
    REQUIRE(read);
    CHECK(read->state == reading.state);
    CHECK(same_measurement(read->measurement, reading.measurement));
    CHECK(read->doubted == reading.doubted);
    CHECK(write_reading(circuit, *read) == line);
}

}  // namespace

TEST_CASE("every reading of the scenarios is written as a line that reads as itself") {
    std::size_t readings = 0;
    for (const char* folder : {"bookmobile", "held-rotor", "cases"}) {
        for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_DIR "/scenarios/") + folder)) {
            if (entry.path().string().find(".job.toml") == std::string::npos) continue;
            const JobReading job = read_job_file(entry.path().string());
            INFO(entry.path().filename().string() << "\n" << all_problems(job.problems));
            REQUIRE(job.job);
            for (const Reading& reading : job.job->readings) {
                check_round_trip(*job.circuit, reading);
                ++readings;
            }
        }
    }
    CHECK(readings > 150);
}

TEST_CASE("every kind of reading is written as a line that reads as itself") {
    for (const char* phrase :
         {"hi M1.1 to B1- 10.3V",
          "M1.1 to ? 12V",
          "C101.4 10V?",
          "hi across C101.4 0.3V",
          "unplug C304 across M1 0.4ohm",
          "unplug C303 R1.1 to R1.4 open",
          "clamp 542 inrush 78A",
          "wiggle 542 clamp 542 swings 3-19A",
          "lamp in F7 lamp M1.1 to ? dark",
          "beep C303.1 to S1.1 no",
          "hi M1.1 live",
          "C101 rise 60C",
          "M1 temp 212F",
          "hi C303.4 hotter than C303.3 >10C",
          "hi blower slow",
          "ml, M1 dead",
          "lo,ml,mh M1 normal",
          "hi air weak",
          "hi relay K3 clicks",
          "fuse F7 blown at hi, hot after 2min",
          "F7 sometimes-blown at once",
          "M1 good",
          "look 542 \"chewed\" green rubbed",
          "unplug C303 pin C303.4 drag light",
          "hi ripple M1 one-low",
          "hi smoke M1",
          "sometimes, key run, hi, \"left turn\", cold  M1 erratic",
          "earlier lo blower dead",
          "new M1",
          "jumper S1.C to B1-, feed M1.1, load 55W C101.4@541 to 31, after 10min, tap M1, pull K3  C304.1 <0.1V",
          "hi M1.1 ~12V",
          "hi C304.1 to B1- 0.06-0.15V"}) {
        check_round_trip(cab_blower(), reading_of(phrase));
    }
}

TEST_CASE("a test is asked without its value: what stands behind it is left over") {
    const auto problem = [](const std::string& phrase) {
        Problems problems;
        CHECK_FALSE(read_test_phrase(typed(phrase), cab_blower(), problems));
        REQUIRE(problems.has_errors());
        return problems.list().front().message;
    };
    CHECK(problem("hi M1.1 to B1- 12V") == "'12V' is left over behind a whole test");
    CHECK(problem("hi M1 slow") == "'slow' is left over behind a whole test");
    CHECK(problem("542") == "'542' is a wire; amps are measured by a clamp around it");
    CHECK(problem("hi") == "no measurement stands behind the state");
}
