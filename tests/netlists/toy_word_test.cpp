// A word of how a load goes, added by one row of the table (the row stands in CMakeLists.txt beside this file), is
// read, written, suggested, drafted and weighed as any other.
#include "engine/readings/word_tables.hpp"
#include "netlists/files/job_draft.hpp"
#include "netlists/phrases/load_words.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("a toy word is read in each of its ways and printed as it can be typed") {
    for (const char* phrase : {"hi M1 ticks", "hi blower is ticking", "hi M1 goes tick tock", "hi blower tick"}) {
        const auto line = command_line({"match", scenario("cab-blower.toml"), "--read", phrase});
        INFO(phrase << "\n" << line.out << line.err);
        CHECK(line.status != 2);
    }
    const Reading read = reading_of("hi blower is ticking");
    CHECK(std::get<LoadReading>(read.measurement).word == "ticks");
    CHECK(write_reading(cab_blower(), read) == "hi  blower  ticks");
    CHECK(contains(problem_of("hi M1 tickks").suggestion, "ticks"));
    CHECK(contains(problem_of("hi M1 sings").message, "ticks"));
}

TEST_CASE("a toy word of the customer is drafted as a reading") {
    CHECK(readings_meant(cab_blower(), "blower ticking on low") == std::vector<std::string>{"lo  M1 ticks"});
}

TEST_CASE("a toy word is weighed by the chances of its row") {
    Perceived dead;
    dead.dead = 1;
    Perceived normal;
    normal.normal = 1;
    CHECK(load_word_probability("ticks", dead) == 0.03);
    CHECK(load_word_probability("ticks", normal) == 0.001);
    // Full volts over a motor that only ticks: of all that stops it, what lies in the motor itself leads.
    const Said said = command_line({"match", scenario("cab-blower.toml"), "--read", "key run, hi  M1 ticks", "--read",
                                    "key run, hi  M1.1 to M1.2 14.0V", "--format", "plain"});
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    const auto first = said.out.find("candidate\t");
    REQUIRE(first != std::string::npos);
    CHECK(said.out.compare(first, 12, "candidate\tM1") == 0);
}
