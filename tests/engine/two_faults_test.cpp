// Two independent faults in one vehicle: tests that part the pairs, a stop that names both repairs, and the second
// fault once the first is mended.
#include <algorithm>

#include <fmt/format.h>

#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/plan.hpp"
#include "engine/readings/technician.hpp"
#include "netlists/files/tools_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;
using voltfall::testing::solver;

namespace {

Technician at_vehicle(const std::vector<std::string>& phrases) {
    std::vector<Fault> faults;
    for (const std::string& phrase : phrases) faults.push_back(faults_named(cab_blower(), phrase).front());
    return {solver(), Vehicle{&cab_blower(), faults, {}}, exact_meters(), usual_tools()};
}

Reading measured(Technician& technician, const std::string& asked) {
    const auto found = technician.measure(test_of(job_of(cab_blower(), {asked}).readings.front()));
    REQUIRE(found);
    return found->reading;
}

const std::vector<std::string> words_of_all_positions{"lo  blower normal", "ml  blower normal", "mh  blower normal",
                                                      "hi  blower normal"};

Job with_words(Technician& technician) {
    Job job = job_of(cab_blower(), {"key run  B1+ to B1- 14.2V"});
    for (const std::string& asked : words_of_all_positions) add_reading(job, measured(technician, asked));
    return job;
}

bool names(const std::vector<std::string>& places, std::string_view place) {
    return std::find(places.begin(), places.end(), place) != places.end();
}

/// Takes the first proposal again and again until testing stops; what was proposed last.
NextAnswer work(Technician& technician, Job& job, const MatchOptions& options, std::size_t most) {
    std::vector<Test> taken;
    NextAnswer next = next_tests(solver(), cab_blower(), job, options);
    for (std::size_t step = 0; step < most && !next.stop; ++step) {
        const auto fresh = std::find_if(next.tests.begin(), next.tests.end(), [&](const TestProposal& test) {
            return std::find(taken.begin(), taken.end(), test.test) == taken.end();
        });
        if (fresh == next.tests.end()) break;
        taken.push_back(fresh->test);
        if (auto found = technician.measure(fresh->test)) add_reading(job, found->reading);
        next = next_tests(solver(), cab_blower(), job, options);
    }
    return next;
}

MatchOptions with_pairs() {
    MatchOptions options;
    options.two_where_one_fits_poorly = true;
    return options;
}

}  // namespace

TEST_CASE("tests part the pairs until both repairs are named") {
    struct Two {
        std::string first;
        std::string second;
        std::string places[2];
    };
    const std::vector<Two> vehicles{
        {"K3 contact resistance 0.3ohm", "G201 resistance 0.12ohm", {"K3", "G201"}},
        {"C101.4 resistance 0.3ohm", "R1 limiter open", {"C101", "R1"}},
    };
    for (const Two& two : vehicles) {
        Technician technician = at_vehicle({two.first, two.second});
        Job job = with_words(technician);
        const NextAnswer next = work(technician, job, with_pairs(), 20);
        INFO(two.first << " and " << two.second);
        REQUIRE(next.stop);
        INFO(next.stop->fault << ": " << next.stop->why);
        CHECK(next.stop->probability > 0.9);
        const bool as_told =
            names(next.stop->repairs, two.places[0]) && names(next.stop->second_repairs, two.places[1]);
        const bool turned = names(next.stop->repairs, two.places[1]) && names(next.stop->second_repairs, two.places[0]);
        CHECK((as_told || turned));
        CHECK(next.stop->why.find("both are needed") == 0);
        CHECK(next.stop->fault.find(" and ") != std::string::npos);
    }
}

TEST_CASE("when the first of two is mended, the readings since then show the second") {
    const std::string second = "G201 resistance 0.3ohm";
    Technician before = at_vehicle({"R1 limiter open", second});
    Job job = with_words(before);
    job.repaired.push_back({"R1", "new pack"});
    Technician since = at_vehicle({second});
    for (const std::string& asked : words_of_all_positions) {
        job.after.push_back(measured(since, asked));
        job.after.back().id = std::to_string(job.after.size());
    }
    job.after.push_back(measured(since, "key run, hi  B1+ to B1-  1V"));
    const Job now = job_at_hand(job);
    CHECK(now.readings.size() == job.readings.size() + job.after.size());
    Job worked = now;
    const std::vector<std::string> mended{"R1"};
    CHECK(mended_by_now(worked) == mended);
    NextAnswer next = next_tests(solver(), cab_blower(), worked, with_pairs());
    std::vector<Test> taken;
    for (std::size_t step = 0; step < 15 && !next.stop; ++step) {
        const auto fresh = std::find_if(next.tests.begin(), next.tests.end(), [&](const TestProposal& test) {
            return std::find(taken.begin(), taken.end(), test.test) == taken.end();
        });
        REQUIRE(fresh != next.tests.end());
        taken.push_back(fresh->test);
        auto found = since.measure(fresh->test);
        if (!found) continue;
        found->reading.state.mended = mended;
        add_reading(worked, found->reading);
        next = next_tests(solver(), cab_blower(), worked, with_pairs());
    }
    REQUIRE(next.stop);
    INFO(next.stop->fault << ": " << next.stop->why);
    CHECK((names(next.stop->repairs, "G201") || names(next.stop->second_repairs, "G201")));
}

TEST_CASE("a repair takes away what its place has, and nothing else") {
    const auto there = [](const std::string& fault, const std::string& place) {
        State state;
        state.mended = {place};
        return present(cab_blower(), faults_named(cab_blower(), fault).front(), state);
    };
    CHECK_FALSE(there("R1 limiter open", "R1"));
    CHECK_FALSE(there("C101.4 resistance 0.3ohm", "C101"));
    CHECK_FALSE(there("C101.4 resistance 0.3ohm", "C101.4"));
    CHECK_FALSE(there("542 open", "542"));
    CHECK(there("C101.4 resistance 0.3ohm", "C101.3"));
    CHECK(there("K3.30 resistance 0.3ohm", "K3"));
    CHECK(there("G201 resistance 0.3ohm", "R1"));
}
