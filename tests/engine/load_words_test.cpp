// Words of how a load goes, held against what it does.
#include "engine/diagnosis/match.hpp"
#include "engine/readings/word_evidence.hpp"
#include "engine/readings/word_tables.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

TEST_CASE("how a motor goes is told by its own speed: a door's sixty turns a minute are no standstill") {
    const auto door = [](double rpm) { return LoadState{12, 0.5, rpm, LoadSeen::normal, LoadKind::motor, 60}; };
    const auto says = [&](std::string_view word, double rpm, double healthy) {
        return load_word_probability(word, perceive(door(rpm), door(healthy)));
    };
    CHECK(says("normal", 60, 60) > 0.6);
    CHECK(says("dead", 60, 60) < 0.01);
    CHECK(says("dead", 0, 60) > 0.5);
    CHECK(says("slow", 35, 60) > 0.5);
    CHECK(says("runs", 40, 0) > 0.6);
    // The reading tells the faults of the way to the motor from those of its sensor.
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/starters/door-actuator.toml");
    REQUIRE(read.circuit);
    const Job job = job_of(*read.circuit, {"S1=warm door dead", "S1=cold door dead"});
    const MatchAnswer answer = match(solver(), *read.circuit, job);
    for (const char* sensor : {"U9 open", "U1 wiper open", "H1 no-command"}) {
        INFO(sensor);
        CHECK(voltfall::testing::of(answer, sensor) < 0.1 * voltfall::testing::of(answer, "M1 open"));
    }
}

TEST_CASE("words blend where people would not agree", "[checked]") {
    const auto says = [](std::string_view word, double rpm, double healthy) {
        return load_word_probability(word,
                                     perceive({12, 10, rpm, LoadSeen::normal}, {12, 10, healthy, LoadSeen::normal}));
    };
    CHECK(says("slow", 2000, 3500) > 0.5);
    CHECK(says("slow", 3450, 3500) < 0.05);
    CHECK(says("slow", 3080, 3500) == Approx(0.27).margin(0.1));  // just at the limit of 10 %
    CHECK(says("dead", 0, 3500) > 0.5);
    CHECK(says("hums", 0, 3500) > says("hums", 3500, 3500));
    CHECK(says("runs", 2000, 0) > 0.6);
    CHECK(says("glows", 300, 0) > 0.4);  // creeps
    CHECK(says("fast", 4200, 3500) > 0.4);
}

TEST_CASE("a cause that nobody knows seldom makes a load run with its control off (9 of 138 real cases tell of it)") {
    const auto of_any_cause = [](const std::string& line) {
        const Job job = job_of(cab_blower(), {line});
        return word_of_any_cause(cab_blower(), job.readings.front());
    };
    CHECK(of_any_cause("off M1 runs") == Approx(9.0 / 138).margin(0.001));
    CHECK(of_any_cause("off M1 runs") == of_any_cause("off M1 normal"));
    CHECK(of_any_cause("hi M1 runs") > 2 * of_any_cause("off M1 runs"));
    CHECK(of_any_cause("off M1 dead") == of_any_cause("hi M1 dead"));
    CHECK(of_any_cause("M1 runs") == of_any_cause("hi M1 runs"));
}
