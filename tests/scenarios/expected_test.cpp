// What the scenarios must show: the speeds that work with a fault, fuses that go or stay, and what a person of the
// trade would say to a handful of readings.
#include <cmath>
#include <set>

#include <nlohmann/json.hpp>

#include "engine/diagnosis/match.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;
using nlohmann::json;

namespace {

const std::string bookmobile = PROJECT_DIR "/scenarios/bookmobile/";

/// `voltfall whatif` on the cab blower, as a process: its states by label.
json whatif_states(const std::vector<std::string>& options) {
    std::vector<std::string> words{VOLTFALL_BINARY, "whatif", bookmobile + "cab-blower.toml", "--format", "json"};
    words.insert(words.end(), options.begin(), options.end());
    const ProcessResult result = run_process(words);
    INFO(result.err);
    REQUIRE(result.status == 0);
    json by_label = json::object();
    const json answer = json::parse(result.out);
    for (const json& state : answer.at("states")) {
        by_label[state.at("state").get<std::string>()] = state;
    }
    return by_label;
}

const json& blower(const json& state, const char* when) {
    return state.at(when).at("loads").at("M1");
}

/// Does that fuse open by itself in the state?
bool opens(const json& state, const std::string& fuse) {
    for (const json& event : state.at("aftermath")) {
        if (event.at("what").get<std::string>().find(fuse + " opens") != std::string::npos) {
            return true;
        }
    }
    return false;
}

/// What matching says to readings typed on a bare circuit.
MatchAnswer match_readings(const std::string& file, const std::vector<std::string>& readings) {
    const JobReading bare = read_job_file(bookmobile + file);
    REQUIRE(bare.job);
    Job job = *bare.job;
    Problems problems;
    for (const std::string& reading : readings) {
        add_reading(job, *bare.circuit, TypedText::argument("reading", reading), problems);
    }
    REQUIRE_FALSE(problems.has_errors());
    return match(solver(), *bare.circuit, job);
}

MatchAnswer match_job(const std::string& file) {
    const JobReading reading = read_job_file(bookmobile + file);
    REQUIRE(reading.job);
    return match(solver(), *reading.circuit, *reading.job);
}

/// Probability of all candidates that are mended by repairing this.
double probability_of_repair(const MatchAnswer& answer, const std::string& repair) {
    double sum = 0;
    for (const Candidate& candidate : answer.candidates) {
        sum += candidate.repair == repair ? candidate.probability : 0;
    }
    return sum;
}

}  // namespace

TEST_CASE("an open limiter leaves high unchanged and the three lower positions dead") {
    const json states = whatif_states({"--fault", "R1 limiter open"});
    for (const char* position : {"lo", "ml", "mh"}) {
        INFO(position);
        CHECK(blower(states.at(position), "healthy").at("seen") == "normal");
        CHECK(blower(states.at(position), "faulted").at("seen") == "dead");
        CHECK_FALSE(opens(states.at(position), "F7"));
    }
    const json& high = states.at("hi");
    CHECK(blower(high, "faulted").at("seen") == "normal");
    CHECK(blower(high, "faulted").at("amps").get<double>() ==
          Approx(blower(high, "healthy").at("amps").get<double>()).epsilon(1e-6));
    CHECK(blower(high, "faulted").at("rpm").get<double>() ==
          Approx(blower(high, "healthy").at("rpm").get<double>()).epsilon(1e-6));
}

// Common practice, no source: a feed wire melted through on a hot tube touches metal, which is ground, and blows its
// fuse.
TEST_CASE("a feed wire that touches metal blows its fuse in every position, and then nothing runs") {
    const json states = whatif_states({"--fault", "542 chafe 20mohm at 60%"});
    for (const json& state : states) {
        INFO(state.at("state"));
        CHECK(opens(state, "F7"));
        CHECK(blower(state, "after").at("rpm").get<double>() == Approx(0).margin(1e-6));
    }
}

// Common practice, no source: a new fuse alone blows again.
TEST_CASE("a new fuse alone blows again") {
    const json states = whatif_states({"--fault", "542 chafe 20mohm at 60%", "--state", "hi, new F7"});
    REQUIRE(states.size() == 1);
    CHECK(opens(*states.begin(), "F7"));
}

TEST_CASE("a chafe behind the motor runs the blower at full speed on low with the fuse whole") {
    const json states = whatif_states({"--fault", "556 chafe 20mohm at 50%"});
    const json& low = states.at("lo");
    const double full = blower(states.at("hi"), "healthy").at("rpm").get<double>();
    CHECK(blower(low, "faulted").at("rpm").get<double>() > 0.97 * full);
    CHECK(blower(low, "faulted").at("seen") == "fast");
    CHECK(blower(low, "healthy").at("rpm").get<double>() < 0.6 * full);
    CHECK_FALSE(opens(low, "F7"));
    CHECK_FALSE(low.at("faulted").at("fuses").at("F7").at("opens").get<bool>());
}

// Common practice, no source: a blower that works on some speeds only points to the resistor pack before anything else.
TEST_CASE("a blower that works on high only points to the resistor pack before anything else") {
    const MatchAnswer cab = match_readings("cab-blower.toml", {"lo,ml,mh blower dead", "hi blower normal"});
    CHECK(cab.candidates.at(0).repair == "R1");
    CHECK(probability_of_repair(cab, "R1") > 0.5);
    const MatchAnswer rear = match_readings("rear-blower.toml", {"lo,med blower dead", "hi blower normal"});
    CHECK(rear.candidates.at(0).repair == "R2");
}

// Common practice, no source: a blower dead on every speed does not point to the resistor pack.
TEST_CASE("a blower dead on every speed does not point to the resistor pack") {
    const MatchAnswer cab = match_readings("cab-blower.toml", {"lo,ml,mh,hi blower dead"});
    CHECK(cab.candidates.at(0).repair != "R1");
    CHECK(probability_of_repair(cab, "R1") < 0.05);
    const MatchAnswer rear = match_readings("rear-blower.toml", {"lo,med,hi blower dead"});
    CHECK(rear.candidates.at(0).repair != "R2");
}

TEST_CASE("the weak-air job leads to the bulkhead pin, with its ohms, and speaks against the motor") {
    const MatchAnswer answer = match_job("weak-air.job.toml");
    const Candidate& leader = answer.candidates.at(0);
    CHECK(leader.place == "C101.4");
    CHECK(leader.mode == "resistance");
    REQUIRE(leader.size);
    CHECK(leader.size->best > 0.2);
    CHECK(leader.size->best < 0.4);
    const auto speaks_against_motor = [](const Candidate& candidate) {
        return candidate.place == "M1" && !candidate.against.empty();
    };
    const bool against = std::any_of(answer.candidates.begin(), answer.candidates.end(), speaks_against_motor) ||
                         std::any_of(answer.ruled_out.begin(), answer.ruled_out.end(),
                                     [](const RuledOut& out) { return out.fault.starts_with("M1 "); });
    CHECK(against);
}

TEST_CASE("every other job of the bookmobile leads to what was wrong") {
    struct Expected {
        std::string job;
        std::set<std::string> places;
    };
    for (const Expected& expected :
         {Expected{"only-high.job.toml", {"R1"}}, Expected{"fuse-blows.job.toml", {"542"}},
          Expected{"dead-low.job.toml", {"R2"}}, Expected{"all-slow.job.toml", {"G301"}},
          Expected{"dead-clutch.job.toml", {"P1"}}, Expected{"third-relay.job.toml", {"K7.30"}},
          Expected{"no-pull.job.toml", {"A1"}}}) {
        const MatchAnswer answer = match_job(expected.job);
        INFO(expected.job << " leads to " << answer.candidates.at(0).fault);
        CHECK(expected.places.contains(answer.candidates.at(0).place));
    }
}

TEST_CASE("a module is judged by its feed, its ground and its command") {
    // Common practice, no source: with all three and nothing for the motor it has failed; without a command it has not.
    CHECK(match_job("../electronic/full-speed.job.toml").candidates.at(0).place == "Z6");
    CHECK(match_job("../electronic/dead-module.job.toml").candidates.at(0).place == "Z6");
    CHECK(match_job("../electronic/no-command.job.toml").candidates.at(0).place != "Z6");
}

TEST_CASE("an open command wire shows what the module does without one") {
    const ProcessResult result =
        run_process({VOLTFALL_BINARY, "whatif", PROJECT_DIR "/scenarios/electronic/toy-library.toml", "--fault",
                     "411 open", "--state", "hi", "--format", "json"});
    REQUIRE(result.status == 0);
    const json answer = json::parse(result.out);
    const json& state = answer.at("states").at(0);
    CHECK(state.at("healthy").at("loads").at("M6").at("seen") == "normal");
    CHECK(state.at("faulted").at("loads").at("M6").at("seen") == "dead");
}
