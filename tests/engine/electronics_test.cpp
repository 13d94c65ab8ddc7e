// Circuits with electronic speed control: what they do, how they are diagnosed, and what is never done to them.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/worked_run.hpp"
#include "engine/solve/core_simulator.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/parts/command_input.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/settled_volts.hpp"

namespace voltfall::test {

namespace {

std::shared_ptr<const Circuit> starter(const std::string& name) {
    const CircuitReading reading =
        read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/starters/" + name + ".toml");
    INFO(testing::all_problems(reading.problems));
    REQUIRE(reading.circuit);
    return reading.circuit;
}

LoadSeen seen(const Circuit& circuit, const std::string& label, const std::string& fault) {
    const PartId motor = circuit.find_part("M1");
    const Settled healthy = settled_at(circuit, label);
    return load_state(settled_at(circuit, label, fault), motor, &healthy).seen;
}

/// What is told of a job of these readings.
MatchAnswer matched(const Circuit& circuit, const std::vector<std::string>& readings) {
    Job job;
    job.tools = usual_tools();
    for (std::size_t i = 0; i < readings.size(); ++i) {
        Problems problems;
        auto reading =
            read_reading_phrase(TypedText::argument("read", readings[i]), std::to_string(i + 1), circuit, problems);
        INFO(readings[i] << "\n" << testing::all_problems(problems));
        REQUIRE(reading);
        job.readings.push_back(*std::move(reading));
    }
    return match(solver(), circuit, job, {});
}

/// The places of the candidates, most probable first, each once.
std::vector<std::string> places_of(const Circuit& circuit, const std::vector<std::string>& readings) {
    const MatchAnswer answer = matched(circuit, readings);
    std::vector<std::string> places;
    for (const Candidate& candidate : answer.candidates) {
        if (std::find(places.begin(), places.end(), candidate.repair) == places.end())
            places.push_back(candidate.repair);
    }
    REQUIRE_FALSE(places.empty());
    return places;
}

/// The repair that stands first when the tool's own proposals have been followed on a vehicle with the fault.
std::string followed(const std::string& name, const std::string& fault) {
    const auto circuit = starter(name);
    Technician technician = testing::exact(*circuit, faults_named(*circuit, fault));
    Job start;
    start.tools = usual_tools();
    WorkedOptions options;
    options.most_steps = 30;
    const WorkedRun run = work_through(*circuit, std::move(start), technician, options);
    std::string tests;
    for (const WorkedStep& step : run.steps) tests += step.measured.reading.text + "\n";
    REQUIRE_FALSE(run.answer.candidates.empty());
    for (const Candidate& one : run.answer.candidates)
        tests += one.fault + " " + std::to_string(one.probability) + "\n";
    UNSCOPED_INFO(name << " with " << fault << "\n" << tests);
    return run.answer.candidates.front().repair;
}

/// Counts what a settling asks of a solver.
struct CountedSolver final : Simulator {
    SolveResult solve(const Network& network) override {
        ++solves;
        return solver().solve(network);
    }
    int solves{0};
};

}  // namespace

TEST_CASE("a command table of the inverse law is read as published") {
    // Reference row E19 (READ): 3 % off, 6 % high, 50 % middle, 95 % low, 98 % off.
    CommandRange range{CommandBy::duty, 0.055, 0.955, true, 0.2, 0};
    const auto share = [&](double duty) { return commanded_share(range, duty * 13.5, 13.5); };
    CHECK(share(0.03) == 0);
    CHECK(share(0.06) > 0.95);
    CHECK(share(0.50) == Approx(0.6).margin(0.05));
    CHECK(share(0.95) < 0.25);
    CHECK(share(0.95) > 0.15);
    CHECK(share(0.98) == 0);
}

TEST_CASE("a blower with electronic control climbs with its command and is off at off") {
    for (const char* name : {"module-linear", "module-pwm", "brushless", "brushless-bus"}) {
        const auto circuit = starter(name);
        const PartId motor = circuit->find_part("M1");
        double before = -1;
        for (const char* label : {"off", "lo", "ml", "mh", "hi"}) {
            INFO(name << " at " << label);
            const Settled settled = settled_at(*circuit, label);
            const LoadState state = load_state(settled, motor, nullptr);
            REQUIRE(state.rpm);
            if (std::string(label) == "off") {
                CHECK(std::abs(*state.rpm) < 1);
            } else {
                CHECK(*state.rpm > before + 100);
            }
            before = *state.rpm;
        }
        CHECK(before > 3000);
    }
}

TEST_CASE("the feed of a chopping module carries the duty's share of the motor's current") {
    const auto circuit = starter("module-pwm");
    const Settled settled = settled_at(*circuit, "ml");
    const Part& motor = circuit->part(circuit->find_part("M1"));
    const double in_motor = settled.point.amps[motor.load_branch.index];
    const double in_feed = wire_amps(settled, circuit->find_wire("10")).to;
    CHECK(in_feed < 0.7 * in_motor);
    CHECK(in_feed > 0.3 * in_motor);
}

TEST_CASE("an open command wire shows what the module does without a command") {
    const auto off = starter("module-linear");
    CHECK(seen(*off, "hi", "21 open") == LoadSeen::dead);
    std::string text;
    {
        std::ifstream file(std::string(PROJECT_DIR) + "/scenarios/starters/module-linear.toml");
        std::stringstream all;
        all << file.rdbuf();
        text = all.str();
    }
    const std::string words = "open command off";
    const auto with = [&](const std::string& instead) {
        std::string changed = text;
        changed.replace(changed.find(words), words.size(), instead);
        return testing::circuit_of(changed);
    };
    CHECK(seen(*with("open command full"), "off", "21 open") == LoadSeen::runs);
    CHECK(seen(*with("open command full"), "lo", "21 open") == LoadSeen::fast);
    CHECK(seen(*with("open command limp"), "off", "21 open") == LoadSeen::runs);
    CHECK(seen(*with("open command limp"), "hi", "21 open") == LoadSeen::slow);
}

TEST_CASE("a module's own faults do what their names say") {
    for (const char* name : {"module-linear", "module-pwm"}) {
        INFO(name);
        const auto circuit = starter(name);
        CHECK(seen(*circuit, "hi", "Z1 dead") == LoadSeen::dead);
        CHECK(seen(*circuit, "lo", "Z1 full-on") == LoadSeen::fast);
        CHECK(seen(*circuit, "off", "Z1 full-on") == LoadSeen::runs);
        CHECK(seen(*circuit, "hi", "Z1 no-command-seen") == LoadSeen::dead);
        CHECK(seen(*circuit, "hi", "Z1 command shorted-low") == LoadSeen::dead);
        CHECK(seen(*circuit, "hi", "Z1 weak 0.5ohm") == LoadSeen::slow);
        CHECK(seen(*circuit, "hi", "H1 no-command") == LoadSeen::dead);
        CHECK(seen(*circuit, "hi", "H1 stuck lo") == LoadSeen::slow);
    }
}

TEST_CASE("a module that fades when hot is sound while it is cold, and is told from one that is always weak") {
    struct Warm {
        std::string name;
        std::string fault;
        LoadSeen hot;
    };
    for (const Warm& warm : {Warm{"module-linear", "Z1 fades when hot", LoadSeen::slow},
                             Warm{"module-pwm", "Z1 fades when hot", LoadSeen::slow},
                             Warm{"brushless", "M1 cuts-out when hot", LoadSeen::dead}}) {
        INFO(warm.name);
        const auto circuit = starter(warm.name);
        const std::vector<Fault> faults = faults_named(*circuit, warm.fault);
        const PartId motor = circuit->find_part("M1");
        State state = state_named(*circuit, "hi");
        const Settled healthy = settled_at(*circuit, "hi");
        const auto goes = [&] {
            const SettleResult settled = settle(solver(), *circuit, state, faults);
            REQUIRE(settled);
            return load_state(*settled, motor, &healthy).seen;
        };
        CHECK(goes() == LoadSeen::normal);
        state.conditions = {"hot"};
        CHECK(goes() == warm.hot);
    }
    const auto circuit = starter("module-linear");
    const std::vector<std::string> cold{"key run, cold, lo,ml,mh,hi  blower normal",
                                        "key run, cold, hi  Z1.M- to Z1.-  0.51V"};
    const std::vector<std::string> hot{"key run, hot, hi  blower slow", "key run, hot, hi  command 6.9V",
                                       "key run, hot, hi  Z1.M- to Z1.-  4.6V"};
    std::vector<std::string> readings = cold;
    readings.insert(readings.end(), hot.begin(), hot.end());
    CHECK(matched(*circuit, readings).candidates.front().fault == "Z1 fades");
    // Weak at every look, warm or not, it does not fade.
    const MatchAnswer always =
        matched(*circuit, {"key run, hi  blower slow", "key run, hi  Z1.M- to Z1.-  4.6V",
                           "key run, hi  clamp 12  10.4A", "key run, mh  blower slow", "key run, ml  blower slow"});
    CHECK(always.candidates.front().fault != "Z1 fades");
}

TEST_CASE("electronics come to rest in a few rounds, those too that take away the volts they live on") {
    constexpr int few = 20;
    for (const char* name : {"module-linear", "module-pwm", "brushless", "brushless-bus"}) {
        const auto circuit = starter(name);
        const State state = state_named(*circuit, "hi");
        std::vector<std::string> many;
        int all = 0;
        for (const ModePtr& mode : circuit->modes) {
            const Fault fault{mode, mode->size ? mode->size->usual : 0, 0.5, {}, {}};
            CountedSolver counted;
            REQUIRE(settle(counted, *circuit, state, std::span(&fault, 1)));
            all += counted.solves;
            if (counted.solves > few) many.push_back(mode->phrase());
        }
        INFO(name << " with " << fmt::format("{}", fmt::join(many, ", ")));
        CHECK(many.size() <= 4);
        CHECK(all <= 7 * static_cast<int>(circuit->modes.size()));
    }
    // Behind a post of 2 ohm a module that switches on has lost its volts at once: it is told as off, as its blower is.
    const auto circuit = starter("module-pwm");
    CHECK(seen(*circuit, "hi", "B1 resistance 2ohm") == LoadSeen::dead);
}

TEST_CASE("a held brushless fan draws a little on the mean, not its stall current") {
    const auto circuit = starter("brushless");
    const Settled healthy = settled_at(*circuit, "hi");
    const Settled held = settled_at(*circuit, "hi", "M1 seized");
    const WireId feed = circuit->find_wire("10");
    CHECK(wire_amps(healthy, feed).to > 15);
    CHECK(wire_amps(held, feed).to < 5);
    CHECK(wire_amps(held, feed).to > 0.5);
}

TEST_CASE("the nameplate of a fan unit is met at both ends of its command") {
    const auto circuit = starter("brushless");
    const State low = state_named(*circuit, "lo");
    Network bare(*circuit);
    const Part& fan = circuit->part(circuit->find_part("M1"));
    // At full: 25 A at 13.5 V by the plate.
    const std::vector<Law> full = fan.electronics->laws(1);
    REQUIRE(full.size() == 3);
    const Settled high = settled_at(*circuit, "hi");
    const double volts = volts_at(*circuit, high, "M1+") - volts_at(*circuit, high, "M1-");
    CHECK(wire_amps(high, circuit->find_wire("10")).to == Approx(25 * volts / 13.5).epsilon(0.12));
}

TEST_CASE("a bus wire reads the supply at rest, less while it talks, and nothing when it is dead") {
    const auto circuit = starter("brushless-bus");
    const Settled talking = settled_at(*circuit, "ml");
    const double supply = volts_at(*circuit, talking, "B1+");
    CHECK(volts_at(*circuit, talking, "C9.1@21") > 0.5 * supply);
    CHECK(volts_at(*circuit, talking, "C9.1@21") < 0.85 * supply);
    const Settled dead = settled_at(*circuit, "ml", "H1 output shorted-low");
    CHECK(volts_at(*circuit, dead, "C9.1@21") < 0.5);
    CHECK(seen(*circuit, "ml", "H1 output shorted-low") == LoadSeen::dead);
}

TEST_CASE("full speed in every position with the lowest command at the module is the module") {
    const auto circuit = starter("module-linear");
    const auto places = places_of(*circuit, {"lo,ml,mh,hi  blower fast", "lo  command 2.1V", "off  blower runs"});
    CHECK(places.front() == "Z1");
}

TEST_CASE("dead with feed and ground good under load and the command good is the module") {
    const auto circuit = starter("module-linear");
    const auto places = places_of(*circuit, {"lo,ml,mh,hi  blower dead", "hi  command 6.9V", "hi  C2.+ to B1-  13.9V",
                                             "hi  C2.- to B1-  0.02V", "hi  C1.1 to B1- 13.9V"});
    CHECK(places.front() == "Z1");
    // A ground that is poor inside the plug makes it try again and again: that fits no better.
    const JobReading job = read_job_file(PROJECT_DIR "/scenarios/electronic/dead-module.job.toml");
    REQUIRE(job.job);
    CHECK(match(solver(), *job.circuit, *job.job, {}).places.front().place == "Z6");
}

TEST_CASE("dead without a command at the module's plug is not the module") {
    const auto circuit = starter("module-linear");
    const auto places = places_of(*circuit, {"lo,ml,mh,hi  blower dead", "hi  command 0.00V"});
    CHECK(places.front() != "Z1");
}

TEST_CASE("a duty is weighed as the mean volts that a meter shows") {
    const auto circuit = starter("module-pwm");
    const auto with_duty = places_of(*circuit, {"hi  blower dead", "hi  Z1.CMD duty 93%"});
    CHECK(with_duty.front() != "H1");
    const auto without = places_of(*circuit, {"hi  blower dead", "hi  Z1.CMD duty 0%"});
    CHECK(without.front() != "Z1");
}

TEST_CASE("a bus wire is told in words: at rest, talking, dead") {
    const auto circuit = starter("brushless-bus");
    CHECK(places_of(*circuit, {"hi  blower dead", "hi  bus 22 busy"}).front() == "M1");
    const auto dead = places_of(*circuit, {"hi  blower dead", "hi  bus 22 dead"});
    CHECK(dead.front() != "M1");
}

TEST_CASE("following the tool's own proposals ends at the fault") {
    CHECK(followed("module-linear", "Z1 dead") == "Z1");
    CHECK(followed("module-pwm", "Z1 full-on") == "Z1");
    CHECK(followed("module-linear", "F2 blown") == "F2");
    CHECK(followed("brushless", "M1 dead") == "M1");
    CHECK(followed("brushless-bus", "C9.1 open") == "C9.1");
    CHECK(followed("clutch-24v", "P1 stuck open") == "P1");
    CHECK(followed("two-fans", "K2 contact 87a open") == "K2");
    CHECK(followed("door-actuator", "K1 coil open") == "K1");
}

TEST_CASE("no lamp and no load is proposed where electronics would carry it") {
    for (const char* name : {"module-linear", "module-pwm", "brushless"}) {
        const auto circuit = starter(name);
        Job job;
        Problems problems;
        job.tools = usual_tools();
        job.tools.push_back({"load", 55});
        for (const char* text : {"hi  blower dead", "fuse F1 blown at hi"}) {
            auto reading = read_reading_phrase(TypedText::argument("read", text), "1", *circuit, problems);
            REQUIRE(reading);
            job.readings.push_back(*std::move(reading));
        }
        const NextAnswer next = next_tests(solver(), *circuit, job, {});
        for (const TestProposal& proposal : next.tests) {
            INFO(name << ": " << write_test(*circuit, proposal.test));
            CHECK(proposal.test.state.leads.empty());
            CHECK(proposal.test.state.lamp_in.empty());
        }
    }
}

TEST_CASE("the core agrees with the simulator of record over every fault of the electronic kinds") {
    for (const char* name : {"module-linear", "module-pwm", "brushless", "brushless-bus"}) {
        const auto circuit = starter(name);
        CoreSimulator core(ngspice());
        for (const State& state : default_states(*circuit)) {
            for (const ModePtr& mode : circuit->modes) {
                if (!mode->catalogued) continue;
                std::vector<Fault> faults;
                constexpr int sizes = 5;
                for (int k = 0; k < (mode->size ? sizes : 1); ++k) {
                    const double share = k / (sizes - 1.0);
                    const double size =
                        mode->size ? mode->size->low * std::pow(mode->size->high / mode->size->low, share) : 0;
                    faults.push_back({mode, size, 0.5, {}, {}});
                }
                std::vector<SettleCase> cases;
                for (const Fault& fault : faults) cases.push_back({&state, std::span(&fault, 1), {}});
                const std::vector<SettleResult> all = settle_all(core, *circuit, cases);
                for (std::size_t i = 0; i < all.size(); ++i) {
                    INFO(name << ": " << write_fault(*circuit, faults[i]) << " at " << state.label);
                    REQUIRE(all[i]);
                    CHECK(worst_difference(*all[i]) < 1e-6);
                }
            }
        }
    }
}

TEST_CASE(
    "a command's pull of 20 kohm to 1 Mohm gives the same volts in both solvers, its wire whole, broken or on metal") {
    std::ifstream file(std::string(PROJECT_DIR) + "/scenarios/starters/brushless.toml");
    const std::string text((std::istreambuf_iterator<char>(file)), {});
    const auto at = text.find("open command off");
    REQUIRE(at != std::string::npos);
    for (const std::string pull : {"20kohm", "50kohm", "100kohm", "1Mohm"}) {
        std::string changed = text;
        changed.insert(at, "input " + pull + ", ");
        const CircuitReading reading = read_circuit_text(changed, "pull.toml");
        INFO(pull << "\n" << testing::all_problems(reading.problems));
        REQUIRE(reading.circuit);
        for (const State& state : default_states(*reading.circuit)) {
            for (const std::string fault : {"", "21 open", "21 chafe", "M1 no-command-seen", "H1 weak-driver 22kohm"})
                CHECK(worst_difference(settled_at(*reading.circuit, state.label, fault)) < 1e-6);
        }
    }
}

}  // namespace voltfall::test
