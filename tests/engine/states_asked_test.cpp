// What a job's lines ask of the circuit: positions left open, fuses found blown, the supply, the lamp that was used.
#include <algorithm>

#include "engine/readings/found_fuses.hpp"
#include "engine/readings/open_positions.hpp"
#include "engine/readings/questions.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using voltfall::state_named;

namespace {

Questions questions_of(const Circuit& circuit, const Job& job) {
    return make_questions(solver(), circuit, job);
}

/// Names of the fuses that are open after the readings, one behind the other.
std::string fuses_open_after(const Circuit& circuit, const std::vector<std::string>& readings) {
    const Job job = job_of(circuit, readings);
    std::string names;
    for (const PartId fuse : questions_of(circuit, job).fuses_found_blown) names += circuit.part(fuse).name + " ";
    return names;
}

/// A lamp behind two switches of its own, one behind the other, and a wiper with as many positions.
const Circuit& in_series() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
name = "two in series"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 15"
S1 = "switch C: off on=1"
S2 = "switch C: off on=1"
L1 = "lamp 21W"
G1 = "ground stud"
[wires]
1 = "F1.2 > S1.C 1mm2 RD 1m"
2 = "S1.1 > S2.C 1mm2 RD 1m"
3 = "S2.1 > L1.1 1mm2 RD 1m"
4 = "L1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "master"
S2 = "lamp switch"
)");
    return *circuit;
}

/// Two packs of five positions each on one feed: all of their combinations move its volts.
const Circuit& five_by_five() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
name = "five by five"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 40A maxi, feed 30"
R9 = "resistor 0.5ohm 200W"
S1 = "switch C: off a=1 b=2 c=3 d=4"
S2 = "switch C: off e=1 f=2 g=3 h=4"
R1 = "pack 1 2ohm 2 2ohm 3 2ohm 4"
R2 = "pack 1 2ohm 2 2ohm 3 2ohm 4"
L1 = "resistor 4ohm 100W"
L2 = "resistor 4ohm 100W"
G1 = "ground stud"
[wires]
1 = "F1.2 > R9.1 6mm2 RD 1m"
2 = "R9.2 > S1.C 6mm2 RD 1m"
3 = "R9.2 > S2.C 6mm2 RD 1m"
11 = "S1.1 > R1.1 2.5mm2 RD 1m"
12 = "S1.2 > R1.2 2.5mm2 RD 1m"
13 = "S1.3 > R1.3 2.5mm2 RD 1m"
14 = "S1.4 > R1.4 2.5mm2 RD 1m"
15 = "R1.4 > L1.1 2.5mm2 RD 1m"
16 = "L1.2 > G1 2.5mm2 BK 1m"
21 = "S2.1 > R2.1 2.5mm2 RD 1m"
22 = "S2.2 > R2.2 2.5mm2 RD 1m"
23 = "S2.3 > R2.3 2.5mm2 RD 1m"
24 = "S2.4 > R2.4 2.5mm2 RD 1m"
25 = "R2.4 > L2.1 2.5mm2 RD 1m"
26 = "L2.2 > G1 2.5mm2 BK 1m"
[controls]
S1 = "one"
S2 = "two"
)");
    return *circuit;
}

std::vector<State> opened_by(const Circuit& circuit, const std::string& phrase) {
    const Reading reading = reading_of(phrase, circuit);
    return open_positions(solver(), circuit, reading, states_of(circuit, reading.state).front());
}

}  // namespace

TEST_CASE("a control behind another one moves a reading once the other is on") {
    const Circuit& circuit = in_series();
    for (const State& state : opened_by(circuit, "L1 normal")) {
        for (const char* control : {"S1", "S2"}) {
            const PartId part = circuit.find_part(control);
            CHECK(circuit.part(part).positions[state.positions[part.index]].name == "on");
        }
    }
    // Said with the key off, the lamp burns in the positions that light it with the key on.
    const std::vector<State> key_off = opened_by(circuit, "key off  L1 normal");
    REQUIRE_FALSE(key_off.empty());
    for (const State& state : key_off) {
        CHECK(state.key == KeyPosition::off);
        CHECK(state.positions[circuit.find_part("S2").index] != 0);
    }
}

TEST_CASE("of two controls that a reading leaves open no more than sixteen combinations are weighed") {
    const Circuit& circuit = five_by_five();
    // Five of the one; with the other there would be 25.
    CHECK(opened_by(circuit, "key run  R9.2 to B1- 12.0V").size() == 5);
    CHECK(opened_by(circuit, "key run, S1=b  R9.2 to B1- 12.0V").size() == 5);
    CHECK(opened_by(circuit, "key run, S1=b, S2=e  R9.2 to B1- 12.0V").size() == 1);
}

TEST_CASE("what a reading looks at is read off the settled circuit; what floats counts as 0 V") {
    const Circuit& circuit = cab_blower();
    const auto values = [&](const std::string& phrase) {
        const Reading reading = reading_of(phrase, circuit);
        const SettleResult settled = settle(solver(), circuit, states_of(circuit, reading.state).front(), {});
        REQUIRE(settled);
        return values_read(circuit, reading, *settled);
    };
    // A relay that is pulled counts as 12 V, at rest as none.
    CHECK(values("key run, hi  K3 clicks") == std::vector<double>{12});
    CHECK(values("key run, lo  K3 clicks") == std::vector<double>{0});
    // Without a second point the battery's post is meant.
    CHECK(values("key run, hi  M1.1 to ? 14V").front() == Approx(values("key run, hi  M1.1 to B1- 14V").front()));
    CHECK(values("key run, hi  M1.1 to ? 14V").front() > 13);
    // The wire between two plugs that are off hangs on nothing.
    CHECK(values("key run, hi, unplug C101, unplug C304  C304.1@542 to B1- 0V") == std::vector<double>{0});
    CHECK(values("key run, hi  look C101 clean").empty());
}

TEST_CASE("a fuse found blown stays open until a new one is fitted, a breaker that closes again does not") {
    const Circuit& circuit = two_controls();
    const struct {
        std::vector<std::string> readings;
        const char* open;
    } rows[] = {{{"fuse F1 blown"}, "F1 "},
                {{"fuse F1 missing"}, "F1 "},
                {{"fuse F1 good"}, ""},
                {{"fuse CB1 blown"}, ""},
                {{"earlier, fuse F1 blown"}, ""},
                {{"fuse F1 blown", "new F1, key run, S1=hi  M1 normal"}, ""},
                {{"sometimes, fuse F1 blown"}, ""},
                {{"fuse F1 blown", "fuse F1 good"}, ""}};
    for (const auto& [readings, open] : rows) {
        INFO(readings.front() << " ...");
        CHECK(fuses_open_after(circuit, readings) == open);
    }
}

TEST_CASE("a load that runs where it should says that its fuse was renewed; one that is silent or hums does not") {
    // "Ok" is said of a load that runs where it should run.
    for (const char* word : {"normal", "slow", "ok"}) {
        INFO(word);
        CHECK(fuses_open_after(cab_blower(), {"fuse F7 blown", std::string("key run, hi  blower ") + word}).empty());
    }
    for (const char* word : {"dead", "hums"}) {
        INFO(word);
        CHECK(fuses_open_after(cab_blower(), {"fuse F7 blown", std::string("key run, hi  blower ") + word}) == "F7 ");
    }
    // With the switch off nothing of it tells of the fuse.
    CHECK(fuses_open_after(cab_blower(), {"fuse F7 blown", "key run, off  blower ok"}) == "F7 ");
}

TEST_CASE("a beep against nobody knows what is not weighed, and the answer says so") {
    const Job job = job_of(cab_blower(), {"off, unplug C303  beep R1.1 to ? yes"});
    const Questions questions = questions_of(cab_blower(), job);
    CHECK(questions.words.empty());
    CHECK(questions.notes == std::vector<std::string>{"not weighed yet: reading 1 (beep)"});
}

TEST_CASE("volts between the posts are the supply; more than a figure is no reading of it") {
    const auto supply_of_state = [](const std::string& volts) {
        const Job job = job_of(cab_blower(), {"key run, hi  B1+ to B1- " + volts});
        const Questions questions = questions_of(cab_blower(), job);
        REQUIRE(questions.states.size() == 1);
        return questions.supplies[questions.states.front().supply];
    };
    CHECK(supply_of_state("13.80V").overrides);
    CHECK(supply_of_state("13.80V").solved_at == Approx(13.8));
    CHECK_FALSE(supply_of_state(">12.0V").overrides);
}

TEST_CASE("where nobody tells of the supply its range is that of the system") {
    const auto note = [](const Circuit& circuit, const std::string& reading) {
        const Job job = job_of(circuit, {reading});
        const Questions questions = questions_of(circuit, job);
        REQUIRE(questions.supply_unknown);
        REQUIRE(questions.notes.size() == 1);
        return questions.notes.front();
    };
    CHECK(note(cab_blower(), "hi  M1.1 to B1- 10.0V").starts_with("supply unknown (11.5 to 15 V)"));
    const auto lorry = scenario_circuit("lorry-fan.toml");
    CHECK(note(*lorry, "hi  F21.2 to B1- 24.0V").starts_with("supply unknown (23 to 30 V)"));
}

TEST_CASE("what was seen earlier, or just behind a new fuse, blows no fuse of the later readings") {
    const auto names_blowing = [](const std::vector<std::string>& readings) {
        const Job job = job_of(cab_blower(), readings);
        const Questions questions = questions_of(cab_blower(), job);
        REQUIRE(questions.states.size() == 1);
        return questions.states.front().names_blowing;
    };
    CHECK(names_blowing({"key run, hi  blower dead", "key run, hi  M1.1 to B1- 0.0V"}));
    CHECK_FALSE(names_blowing({"earlier, key run, hi  blower dead", "earlier, key run, hi  M1.1 to B1- 0.0V"}));
    CHECK_FALSE(names_blowing({"new F7, key run, hi  blower dead", "new F7, key run, hi  M1.1 to B1- 0.0V"}));
}

TEST_CASE("a duty is weighed as the volts that a meter shows of it") {
    // A third of the time on, off by three hundredths either way, of what the supply is taken to have.
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/starters/module-pwm.toml");
    REQUIRE(read.circuit);
    const Job job = job_of(*read.circuit, {"key run, lo  Z1.CMD duty 30%"});
    const Questions questions = questions_of(*read.circuit, job);
    REQUIRE(questions.numbers.size() == 1);
    const double supply = questions.supplies[questions.states.front().supply].mean;
    CHECK(questions.numbers.front().value.low == Approx(0.27 * supply));
    CHECK(questions.numbers.front().value.high == Approx(0.33 * supply));
}

TEST_CASE("a key word behind 'blown at' is that of the moment in which the fuse went") {
    const Job job = job_of(cab_blower(), {"key off, fuse F7 blown at key on, hi"});
    const Questions questions = questions_of(cab_blower(), job);
    REQUIRE(questions.words.size() == 1);
    REQUIRE(questions.words.front().blown_at.size() == 1);
    CHECK(questions.states[questions.words.front().blown_at.front()].state.key == KeyPosition::on);
}

TEST_CASE("a test lamp loads what it is held to by its own watts, or by the usual ones where they are not said") {
    const auto watts = [](double of_the_lamp) {
        Job job = job_of(cab_blower(), {"key run, hi  lamp M1.1 to B1- bright"});
        job.tools = {{"meter"}, {"lamp", 0, 0, 0, of_the_lamp}};
        const Questions questions = questions_of(cab_blower(), job);
        const auto loaded = std::find_if(questions.states.begin(), questions.states.end(),
                                         [](const JobState& state) { return !state.state.leads.empty(); });
        REQUIRE(loaded != questions.states.end());
        return loaded->state.leads.front().watts;
    };
    CHECK(watts(5) == 5);
    CHECK(watts(0) == default_value("test_lamp_watts"));
}
