// The switch turned through its positions as one look, before anything is opened.
#include "engine/planning/next.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::written;

TEST_CASE("with nothing but a concern the switch is turned first, wherever that tells of the load") {
    for (const char* file :
         {"bookmobile/cab-blower.toml", "bookmobile/rear-blower.toml", "starters/feed-side-pack.toml",
          "starters/low-side-pack-relay.toml", "starters/brushless.toml", "starters/two-speed-coil.toml"}) {
        const JobReading reading = read_job_file(std::string(PROJECT_DIR "/scenarios/") + file);
        REQUIRE(reading.job);
        const NextAnswer answer = next_tests(solver(), *reading.circuit, *reading.job);
        REQUIRE_FALSE(answer.tests.empty());
        const Test& first = answer.tests.front().test;
        INFO(file << ": " << written(answer.tests.front(), *reading.circuit));
        CHECK(std::holds_alternative<LoadTest>(first.tested));
        CHECK(first.state.settings.front().positions.size() > 1);
        CHECK(answer.tests.front().minutes == 0);
        // All positions together tell at least as much as any other test's best.
        CHECK(answer.tests.front().bits > 0.1);
    }
}

TEST_CASE("a switch that has been turned is not turned again, and a position that tells nothing is left out") {
    const auto looks = [](const std::vector<std::string>& readings) {
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
        std::string found;
        for (const TestProposal& test : answer.tests)
            if (std::holds_alternative<LoadTest>(test.test.tested)) found += written(test) + ";";
        return found;
    };
    CHECK(looks({}).starts_with("lo, ml, mh, hi  blower;"));  // that it stands still at off is no news
    CHECK(looks({"hi blower normal"}).find("hi") == std::string::npos);
    CHECK(looks({"off,lo,ml,mh blower dead", "hi blower normal"}).empty());
}
