// Every test that the planning can propose is a phrase that reads as itself.
#include <filesystem>
#include <set>

#include "engine/planning/test_candidates.hpp"
#include "engine/planning/worked_run.hpp"
#include "netlists/phrases/leads.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// Every test at hand with all tools, whatever it would tell: suspects are all rows of the catalogue, so that every
/// place with something to see is looked at.
std::vector<Test> tests_at_hand(const Circuit& circuit, Job job) {
    job.tools = usual_tools();
    Tool load;
    load.name = "load";
    load.watts = 55;
    job.tools.push_back(load);
    Weighed weighed;
    weighed.wrong.assign(job.readings.size(), 0);
    for (const ModePtr& mode : circuit.modes) weighed.suspects.emplace_back().mode = mode.get();
    std::vector<Test> tests;
    for (const TestCandidate& candidate : future_of(solver(), circuit, job, weighed).tests)
        tests.push_back(candidate.test);
    return tests;
}

void check_round_trip(const Circuit& circuit, const Test& test) {
    const std::string phrase = write_test(circuit, test);
    Problems problems;
    const auto read = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(read);
    CHECK(*read == test);
    CHECK(write_test(circuit, *read) == phrase);
}

}  // namespace

TEST_CASE("every test that could be proposed on a scenario is written as a phrase that reads as that very test") {
    std::size_t tests = 0;
    std::size_t in_the_seat = 0;
    std::set<std::size_t> kinds;
    for (const char* folder : {"bookmobile", "held-rotor", "cases"}) {
        for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_DIR "/scenarios/") + folder)) {
            if (entry.path().extension() != ".toml") continue;
            const JobReading reading = read_job_file(entry.path().string());
            INFO(entry.path().filename().string() << "\n" << all_problems(reading.problems));
            if (!reading.job) continue;
            for (const Test& test : tests_at_hand(*reading.circuit, *reading.job)) {
                check_round_trip(*reading.circuit, test);
                kinds.insert(test.tested.index());
                in_the_seat += test.state.lamp_in.empty() ? 0 : 1;
                ++tests;
            }
        }
    }
    CHECK(tests > 10000);
    CHECK(in_the_seat > 10);
    // Volts, ohms, clamps, loads, fuses and looks.
    CHECK(kinds.size() == 8);
}

TEST_CASE("the positions of contacts, of a drawn key and of several controls read as themselves") {
    for (const std::string parts :
         {"T1 = \"contact normally open\"\n", "KY = \"key: off on=15 run=15\"\n",
          "S1 = \"switch C: off hot=1\"\nS2 = \"switch C: off hot=1\"\n", "S1 = \"switch C: off hot=1\"\n"}) {
        const auto circuit =
            circuit_of("format = 1\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 10A, feed 30\"\n" + parts +
                       "L1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n"
                       "2 = \"L1.2 > G1 1mm2 BK 1m\"\n");
        const std::vector<StatePhrase> states = default_phrases(*circuit);
        CHECK_FALSE(states.empty());
        for (const StatePhrase& state : states) {
            check_round_trip(*circuit, {state, VoltsTest{{point_at(*circuit, circuit->find_joint("L1.1")),
                                                          point_at(*circuit, circuit->reference)},
                                                         {}}});
            check_round_trip(*circuit, {state, LoadTest{circuit->find_part("L1"), "lamp"}});
        }
    }
}

TEST_CASE("what a technician measured is the reading that its text says") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Technician technician(solver(), Vehicle{circuit.get(), faults_named(*circuit, "C101.4 resistance 0.3ohm"), {}},
                          drawn_meters(7), usual_tools());
    Problems problems;
    std::size_t compared = 0;
    for (const Test& test : tests_at_hand(*circuit, Job{})) {
        const auto measured = technician.measure(test);
        if (!measured) continue;
        const auto read =
            read_reading_phrase(TypedText::argument("reading", measured->reading.text), "1", *circuit, problems);
        INFO(measured->reading.text << "\n" << all_problems(problems));
        REQUIRE(read);
        CHECK(read->state == measured->reading.state);
        const ReadValue* typed = number_of(read->measurement);
        const ReadValue* shown = number_of(measured->reading.measurement);
        REQUIRE((typed == nullptr) == (shown == nullptr));
        if (typed && !typed->open) {
            CHECK(typed->low == Approx(shown->low).epsilon(1e-12));
            CHECK(typed->last_digit == Approx(shown->last_digit).epsilon(1e-9));
            CHECK(typed->unit == shown->unit);
            CHECK(tested_of(read->measurement) == tested_of(measured->reading.measurement));
        } else {
            CHECK(same_measurement(read->measurement, measured->reading.measurement));
        }
        ++compared;
    }
    CHECK(compared > 300);
}
