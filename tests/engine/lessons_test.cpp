// The bench of lessons: its answers are the solver's, its figures those of published rows, its learners of every kind.
#include <cmath>
#include <filesystem>
#include <set>

#include "cli/views/teach_view.hpp"
#include "engine/lessons/debrief.hpp"
#include "engine/lessons/exercise.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/learner_run.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "engine/lessons/lot.hpp"
#include "engine/lessons/safety.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/diagnosis/probes.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/files/tools_line.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

Simulator& solver() {
    return NgspiceSession::instance();
}

Exercise exercise_with(const std::shared_ptr<const Circuit>& circuit, const std::vector<std::string>& faults,
                       const std::vector<std::string>& roots = {}, std::uint64_t seed = 1, int level = 1) {
    Lesson lesson;
    lesson.title = "test";
    lesson.concern = "test";
    lesson.level = level;
    lesson.skill = std::string(lesson_skills().front());
    lesson.budget_minutes = 60;
    lesson.allow.assign(lesson_actions().begin(), lesson_actions().end());
    lesson.tools = usual_tools();
    for (const std::string& phrase : faults) lesson.faults.push_back(faults_named(*circuit, phrase).front());
    for (const std::string& phrase : roots) lesson.roots.push_back(faults_named(*circuit, phrase).front());
    return exercise_of(solver(), circuit, lesson, seed);
}

Reading test_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    auto reading = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
    INFO(phrase << "\n" << testing::all_problems(problems));
    REQUIRE(reading);
    return *reading;
}

Technician exact(const Circuit& circuit, const std::vector<Fault>& faults) {
    return Technician(solver(), Vehicle{&circuit, faults, {}}, exact_meters(), usual_tools());
}

double volts_of(Technician& technician, const std::string& phrase) {
    const auto measured = technician.measure(test_of(*technician.vehicle().circuit, phrase));
    INFO(phrase);
    REQUIRE(measured);
    REQUIRE(measured->unit == Unit::volt);
    return measured->truth;
}

RunOptions quick() {
    RunOptions options;
    options.commit = false;
    options.weigh = false;
    options.match.workers = 2;
    return options;
}

std::vector<std::string> lesson_paths() {
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/scenarios/lessons")) {
        if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    }
    std::sort(paths.begin(), paths.end());
    return paths;
}

}  // namespace

TEST_CASE("the bench answers with the volts and amps of whatif, rounded as a meter shows them") {
    const struct {
        const char* file;
        const char* fault;
    } cases[] = {{"cab-blower.toml", "C101.4 resistance 0.3ohm"}, {"cab-blower.toml", "R1 limiter open"},
                 {"cab-blower.toml", "542 chafe 20mohm at 60%"},  {"clutch.toml", "G101 open"},
                 {"rear-blower.toml", "M2 drag 1.4"},             {"roof-fan.toml", "K9 coil open"}};
    std::size_t compared = 0;
    for (const auto& one : cases) {
        const auto circuit = scenario_circuit(one.file);
        const std::vector<Fault> faults = faults_named(*circuit, one.fault);
        for (const State& state : default_states(*circuit)) {
            Technician technician = exact(*circuit, faults);
            const CourseResult whatif = run_course(solver(), *circuit, state, faults);
            REQUIRE(whatif);
            const Settled& end = whatif->end();
            for (const JointId joint : permitted_joints(*circuit)) {
                if (joint == circuit->reference) continue;
                const std::string phrase = state.label + "  " + circuit->joint(joint).name + " to B1-";
                INFO(one.file << " " << one.fault << " " << phrase);
                const auto measured = technician.measure(test_of(*circuit, phrase));
                REQUIRE(measured);
                const double truth = end.floats(joint) ? 0 : end.point.volts[joint.index];
                // A 10 Mohm meter draws 1.4 uA: through a relay coil of 90 ohm that is 0.13 mV.
                CHECK(std::abs(measured->truth - truth) < 2e-4);
                const auto shown = parse_measure(measured->value);
                REQUIRE(shown);
                CHECK(std::abs(shown->value - truth) <= 0.5 * volts_digit(truth) + 2e-4);
                ++compared;
            }
            for (const Wire& wire : circuit->wires) {
                const auto measured = technician.measure(test_of(*circuit, state.label + "  clamp " + wire.name));
                REQUIRE(measured);
                CHECK(measured->truth == Approx(wire_amps(end, circuit->find_wire(wire.name)).from).margin(1e-6));
            }
        }
    }
    CHECK(compared > 700);
}

TEST_CASE("the shop's instruments are off, inside what their makers allow, and by one scale") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    std::set<std::string> shown;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        Technician technician(solver(), Vehicle{circuit.get(), {}, {}}, drawn_meters(seed), usual_tools());
        const auto volts = technician.measure(test_of(*circuit, "hi  C304.1 to B1-"));
        const auto amps = technician.measure(test_of(*circuit, "hi  clamp 542"));
        REQUIRE(volts);
        REQUIRE(amps);
        shown.insert(volts->value);
        CHECK(std::abs(parse_measure(volts->value)->value - volts->truth) <=
              accuracy_of(Instrument::meter, usual_tools()).limit(volts->truth, 0.01) + 0.005);
        CHECK(std::abs(parse_measure(amps->value)->value - amps->truth) <=
              accuracy_of(Instrument::clamp, usual_tools()).limit(amps->truth, 0.1) + 0.05);
    }
    CHECK(shown.size() > 5);
}

TEST_CASE("an ohmmeter refuses what is live and measures a part in the hand") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Technician technician = exact(*circuit, faults_named(*circuit, "R1 coil 2-3 open"));
    CHECK_FALSE(technician.measure(test_of(*circuit, "off  ohms C304.1 to C101.4@541")));
    const auto open = technician.measure(test_of(*circuit, "unplug C303, ohms R1.1 to R1.4"));
    REQUIRE(open);
    CHECK(open->value == "open");
    const auto coil = technician.measure(test_of(*circuit, "unplug C303, ohms R1.1 to R1.2"));
    REQUIRE(coil);
    CHECK(coil->truth == Approx(1.2).margin(0.01));
    CHECK(technician.measure(test_of(*circuit, "unplug C303, beep R1.1 to R1.2"))->value == "yes");
    CHECK(technician.measure(test_of(*circuit, "unplug C303, beep R1.1 to R1.4"))->value == "no");
}

// Row C14, READ+CHECKED: Lessons in Electric Circuits, DC volume, voltmeter impact: 24 V, two 250 Mohm in series, a
// 10 Mohm meter across the lower one reads 0.8889 V where 12 V stand without it.
TEST_CASE("a 10 Mohm meter loads a divider of megohms as published") {
    test::BranchCircuit board;
    board.source("B", "plus", "0", 24);
    board.resistor("R1", "plus", "middle", 250e6);
    board.resistor("R2", "middle", "0", 250e6);
    Network network = board.network();
    const auto without = NgspiceSession::instance().solve_without_shunts(network);
    REQUIRE(without);
    const JointId middle = board.joint("middle");
    CHECK(without->volts[middle.index] == Approx(12).epsilon(1e-4));
    network.connect(middle, board.joint("0"), Resistor{default_value("meter_ohm")});
    const auto with = NgspiceSession::instance().solve_without_shunts(network);
    REQUIRE(with);
    CHECK(with->volts[middle.index] == Approx(0.8889).epsilon(1e-4));
}

// Row C21, READ+CHECKED: Lessons in Electric Circuits, DC volume, circuit wiring: 10 V, one 5 ohm load; 2 A; any pair
// of a top and a bottom point shows 10 V (9 pairs), any pair along one wire 0 V (6 pairs).
TEST_CASE("along a sound wire there are no volts, between the two wires all of them") {
    const auto circuit = testing::circuit_of(R"(format = 1
name = "circuit wiring"
[parts]
B1 = "battery 10V 0.1mohm"
R1 = "resistor 5ohm 50W"
C1 = "connector, 2 way, contact 0.01mohm"
C4 = "connector, 2 way, contact 0.01mohm"
[wires]
1 = "B1+ > C1.1   35mm2 RD 0.01m"
2 = "C1.1 > R1.1  35mm2 RD 0.01m"
3 = "R1.2 > C4.1  35mm2 BK 0.01m"
4 = "C4.1 > B1-   35mm2 BK 0.01m"
)");
    Technician technician = exact(*circuit, {});
    const std::vector<std::string> top{"B1+", "C1.1@1", "R1.1"};
    const std::vector<std::string> bottom{"B1-", "C4.1@4", "R1.2"};
    for (const std::string& a : top) {
        for (const std::string& b : bottom) CHECK(volts_of(technician, "key on  " + a + " to " + b) == Approx(10).margin(0.01));
    }
    for (const auto* wire : {&top, &bottom}) {
        for (std::size_t i = 0; i < wire->size(); ++i) {
            for (std::size_t j = i + 1; j < wire->size(); ++j)
                CHECK(volts_of(technician, "key on  " + (*wire)[i] + " to " + (*wire)[j]) == Approx(0).margin(0.005));
        }
    }
    for (const std::string wire : {"1", "4"})
        CHECK(technician.measure(test_of(*circuit, "key on  clamp " + wire))->truth == Approx(2).epsilon(0.002));
}

// Row C25, READ (key; the netlist is DEDUCED): learningelectronics.net, worksheet trouble1: points 4, 9 and 10 are one
// pole, 6 and 7 the other, the lamp stands between 9 and 12, the switch between 12 and 6/7, 1 and 5 at the battery.
TEST_CASE("the published questions of a switch and a lamp are answered as its key does") {
    const auto circuit = testing::circuit_of(R"(format = 1
name = "switch and lamp"
[parts]
B1  = "battery 12.6V 10mohm"
C4  = "connector, 2 way"
C10 = "connector, 2 way"
C6  = "connector, 2 way"
L1  = "lamp 5W"
S1  = "switch C: off on=1"
G1  = "ground"
[wires]
a = "B1+ > C4.1     1mm2 RD 0.1m"
b = "C4.1 > C10.1   1mm2 RD 0.1m"
c = "C10.1 > L1.1   1mm2 RD 0.1m"
d = "L1.2 > S1.C    1mm2 BK 0.1m"
e = "S1.1 > C6.1    1mm2 BK 0.1m"
f = "C6.1 > G1      1mm2 BK 0.1m"
)");
    const std::map<int, std::string> points{{1, "B1+"}, {5, "B1-"},    {4, "C4.1@b"}, {10, "C10.1@c"},
                                            {9, "L1.1"}, {12, "S1.C"}, {6, "C6.1@e"}, {7, "G1"}};
    const struct {
        int red, black;
        bool on, off;
    } key[] = {{1, 5, true, true},   {6, 7, false, false}, {4, 10, false, false}, {9, 12, true, false},
               {6, 12, false, true}, {9, 10, false, false}, {4, 7, true, true}};
    Technician technician = exact(*circuit, {});
    for (const auto& row : key) {
        const std::string pair = points.at(row.red) + " to " + points.at(row.black);
        INFO(row.red << "-" << row.black);
        CHECK((std::abs(volts_of(technician, "on  " + pair)) > 6) == row.on);
        CHECK((std::abs(volts_of(technician, "off  " + pair)) > 6) == row.off);
    }
}

// Rows A10, A11, A13, A14, COMPUTED (own solve; coil inside A07): 12.6 V, feed 0.10, relay 0.01, coil 3.6, ground 0.05
// ohm. An open ground leaves full volts on the ground side, an open coil none.
TEST_CASE("an open ground and an open coil differ only on the ground side") {
    const auto circuit = testing::circuit_of(R"(format = 1
name = "clutch rows"
[parts]
B1 = "battery 12.6V 1mohm"
RF = "resistor 0.1ohm 50W"
RR = "resistor 0.01ohm 50W"
A1 = "clutch 3.6ohm, pulls 7.5V"
RG = "resistor 0.05ohm 50W"
[wires]
1 = "B1+ > RF.1   1.5mm2 RD 0.03m"
2 = "RF.2 > RR.1  1.5mm2 RD 0.03m"
3 = "RR.2 > A1.1  1.5mm2 RD 0.03m"
4 = "A1.2 > RG.1  1.5mm2 BK 0.03m"
5 = "RG.2 > B1-   1.5mm2 BK 0.03m"
)");
    const auto rows = [&](const std::vector<Fault>& faults) {
        Technician technician = exact(*circuit, faults);
        return std::array<double, 3>{volts_of(technician, "key on  RF.2 to B1-"), volts_of(technician, "key on  A1.1 to B1-"),
                                     volts_of(technician, "key on  A1.2 to B1-")};
    };
    const auto healthy = rows({});
    CHECK(healthy[0] == Approx(12.2649).epsilon(0.001));
    CHECK(healthy[1] == Approx(12.2314).epsilon(0.001));
    CHECK(healthy[2] == Approx(0.1676).margin(0.003));
    const auto poor = rows(faults_named(*circuit, "RG resistance 1ohm"));
    CHECK(poor[1] == Approx(12.3088).epsilon(0.001));
    CHECK(poor[2] == Approx(2.7794).margin(0.006));
    for (const double volts : rows(faults_named(*circuit, "RG open"))) CHECK(volts == Approx(12.6).margin(0.005));
    const auto coil = rows(faults_named(*circuit, "A1 coil open"));
    CHECK(coil[1] == Approx(12.6).margin(0.005));
    CHECK(coil[2] == Approx(0).margin(0.005));
}

TEST_CASE("a new fuse on a short blows again and is charged") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {}, {"542 chafe 15mohm at 60%"}));
    CHECK(bench.act("fuse F7").measured->value == "blown");
    for (std::size_t spent = 1; spent <= 2; ++spent) {
        const ActionOutcome fitted = bench.act("new F7");
        REQUIRE(fitted.measured);
        CHECK(fitted.measured->value == "blown at once");
        CHECK(bench.bill().parts.size() == spent);
    }
    bench.act("repair 542");
    CHECK(bench.act("new F7").measured->value == "good");
    CHECK(all_mended(bench.vehicle()));
}

TEST_CASE("strip-down is paid once") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    CHECK(bench.act("hi C304.1 to B1-").minutes == 6);  // glovebox 5, the volts 1
    CHECK(bench.act("hi C303.4 to B1-").minutes == 1);  // the same strip-down
    CHECK(bench.act("hi drop C101.4").minutes == 26);
    CHECK(bench.act("hi drop C101.4").minutes == 1);
    CHECK(bench.act("hi").minutes == 0);
    CHECK(bench.settings() == "hi, key run");
    CHECK(bench.act("M1").measured->value == "slow");
    CHECK(bench.bill().test_minutes == 34);
}

TEST_CASE("each unsafe action ends an exercise with its reason, and a safe one does not") {
    const auto fan = scenario_circuit("roof-fan.toml");
    const auto blower = scenario_circuit("cab-blower.toml");
    const auto reason = [&](const auto& circuit, const std::vector<std::string>& roots, const std::string& line) {
        Bench bench(solver(), exercise_with(circuit, {}, roots));
        const ActionOutcome outcome = bench.act(line);
        return outcome.result == ActionResult::unsafe ? outcome.message : std::string();
    };
    using Catch::Contains;
    CHECK_THAT(reason(fan, {}, "C390.1 to B1-"), Contains("airbag"));
    CHECK_THAT(reason(fan, {}, "lamp C390.1 to B1-"), Contains("airbag"));
    CHECK_THAT(reason(fan, {}, "on, lamp P9.1 to B1+"), Contains("electronic"));
    CHECK_THAT(reason(fan, {}, "on, lamp K9.85 to B1+"), Contains("electronic"));
    CHECK(reason(fan, {}, "on, P9.1 to B1-").empty());
    CHECK(reason(fan, {}, "on, lamp K9.30 to B1-").empty());
    CHECK_THAT(reason(blower, {}, "new F7 60A"), Contains("60 A"));
    CHECK(reason(blower, {}, "new F7 40A").empty());
    CHECK_THAT(reason(blower, {}, "hi, jumper F7.1 to F7.2, M1"), Contains("around the fuse"));
    CHECK_THAT(reason(blower, {"542 chafe 15mohm at 60%"}, "off, feed C304.1, C304.1 to B1-"), Contains("short"));
    CHECK(reason(blower, {}, "hi, jumper F7.2 to C304.1, M1").empty());
    CHECK(reason(blower, {}, "off, lamp in F7, F7.2@541 to C101.4@541").empty());
}

TEST_CASE("a test that could not have shown the fault is told apart from one that could") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    const auto blind = [&](const std::string& phrase) { return why_blind(solver(), exercise, test_of(*circuit, phrase)); };
    using Catch::Contains;
    CHECK_THAT(blind("off  C304.1 to B1-").value_or(""), Contains("without a load"));
    CHECK_THAT(blind("off  C101.4@541 to C101.4@542").value_or(""), Contains("without current"));
    CHECK_THAT(blind("fuse F7").value_or(""), Contains("whole fuse"));
    CHECK_FALSE(blind("hi  C304.1 to B1-"));
    CHECK_FALSE(blind("hi  C101.4@541 to C101.4@542"));
    CHECK_FALSE(blind("hi  clamp 542"));
}

TEST_CASE("a root burns what it burns in half an hour, and mending the victim alone leaves the cause") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {}, {"M1 drag 1.4"});
    REQUIRE(exercise.lesson.faults.size() == 1);
    CHECK(exercise.lesson.faults[0].mode->phrase() == "R1 limiter open");
    const auto verdict = [&](const std::vector<std::string>& lines) {
        LearnerRun run(solver(), exercise, quick());
        for (const std::string& line : lines) run.act(line);
        run.hand_back();
        return debrief_of(solver(), run, nullptr);
    };
    CHECK(verdict({}).verdict == Verdict::not_mended);
    CHECK(verdict({"repair R1", "repair M1"}).verdict == Verdict::solved);
    CHECK(verdict({"repair R1 limiter open"}).verdict != Verdict::solved);
    const Debrief wrong = verdict({"new S1"});
    CHECK(wrong.verdict == Verdict::not_mended);
    CHECK(wrong.figures.wrong_parts == std::vector<std::string>{"S1"});
    CHECK(verdict({"new F7 60A"}).verdict == Verdict::unsafe);
}

TEST_CASE("a right repair without its cause is told as such") {
    // The pack's limiter is replaced; the motor drags so little that every position works again, for a while.
    const auto circuit = scenario_circuit("cab-blower.toml");
    Exercise exercise = exercise_with(circuit, {"R1 limiter open"}, {"M1 fouled 1.1"});
    LearnerRun run(solver(), exercise, quick());
    run.act("repair R1");
    run.hand_back();
    const Debrief debrief = debrief_of(solver(), run, nullptr);
    CHECK(debrief.verdict == Verdict::cause_left);
    CHECK_THAT(debrief.sentence, Catch::Contains("M1 fouled 1.1"));
    CHECK_FALSE(debrief.proved);
    CHECK(debrief.afterwards == "ask of every failed part what made it fail");
}

TEST_CASE("a sound vehicle is rightly called so, and every part fitted to it is for nothing") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {});
    LearnerRun right(solver(), exercise, quick());
    right.act("hi clamp 542");
    right.act("say nothing");
    right.hand_back();
    CHECK(debrief_of(solver(), right, nullptr).verdict == Verdict::solved);
    LearnerRun wrong(solver(), exercise, quick());
    wrong.act("new M1");
    wrong.hand_back();
    CHECK(debrief_of(solver(), wrong, nullptr).verdict == Verdict::false_alarm);
}

TEST_CASE("a reading moves the suspect that was named before it") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    RunOptions options = quick();
    options.commit = true;
    options.weigh = true;
    LearnerRun run(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}), options);
    CHECK(run.needs_suspect("hi C304.1 to B1-"));
    CHECK_FALSE(run.needs_suspect("hi M1"));
    CHECK_FALSE(run.needs_suspect("repair C101.4"));
    CHECK_FALSE(run.suspect("C999"));
    run.try_every_position();
    REQUIRE(run.suspect("C101"));
    const RunStep& step = run.act("hi drop C101.4");
    REQUIRE(step.before);
    REQUIRE(step.after);
    CHECK(*step.after > 0.9);
    CHECK(*step.after > *step.before);
    CHECK(*step.bits > 0.5);
    CHECK_FALSE(step.ruled_out.empty());
    CHECK_FALSE(run.next_suspect());
    CHECK(run.same_suspect());
    const RunStep& repaired = run.act("repair C101.4");
    REQUIRE(repaired.warranted);
    CHECK(*repaired.warranted > warranted_from);
}

TEST_CASE("drawn exercises are noticed by a driver, and the same seed draws the same one") {
    for (const std::string file : {"cab-blower.toml", "clutch.toml", "rear-blower.toml"}) {
        const auto circuit = scenario_circuit(file);
        for (int level = 1; level <= 3; ++level) {
            std::set<std::string> drawn;
            for (std::uint64_t seed = 1; seed <= 8; ++seed) {
                const auto exercise = draw_exercise(solver(), circuit, seed, level);
                REQUIRE(exercise);
                const auto again = draw_exercise(solver(), circuit, seed, level);
                REQUIRE(again);
                std::string hidden;
                std::string hidden_again;
                for (const Fault& fault : exercise->hidden()) hidden += write_fault(*circuit, fault) + " ";
                for (const Fault& fault : again->hidden()) hidden_again += write_fault(*circuit, fault) + " ";
                CHECK(hidden == hidden_again);
                CHECK(exercise->lesson.concern == again->lesson.concern);
                drawn.insert(hidden);
                INFO(file << " " << level << " " << seed << ": " << hidden << " | " << exercise->lesson.concern);
                if (!exercise->hidden().empty())
                    CHECK(anything_wrong(symptoms_of(solver(), with_conditions_met(exercise->found))));
            }
            CHECK(drawn.size() > 3);
        }
    }
}

namespace {

/// Everything that a learner may type, and some that nobody should.
std::string random_line(const Circuit& circuit, Lot& lot) {
    const auto any_joint = [&] { return circuit.joints[lot.below(circuit.joints.size())].name; };
    const auto any_part = [&] { return circuit.parts[lot.below(circuit.parts.size())].name; };
    const auto any_wire = [&] { return circuit.wires[lot.below(circuit.wires.size())].name; };
    const std::vector<State> states = default_states(circuit);
    const std::string state = states[lot.below(states.size())].label;
    switch (lot.below(16)) {
        case 0:
        case 1:
        case 2:
            return state + "  " + any_joint() + " to " + any_joint();
        case 3:
            return state + "  " + any_joint() + " to B1-";
        case 4:
            return state + "  clamp " + any_wire();
        case 5:
            return "look " + any_part();
        case 6:
            return "lamp " + any_joint() + " to B1-";
        case 7:
            return "unplug " + any_part() + ", ohms " + any_joint() + " to " + any_joint();
        case 8:
            return state;
        case 9:
            return state + "  " + any_part();
        case 10:
            return "wiggle " + any_wire() + ", " + any_joint() + " to B1-";
        case 11:
            return lot.below(4) == 0 ? "new " + any_part() : "drop " + any_part();
        case 12:
            return lot.below(4) == 0 ? "repair " + any_part() : "beep " + any_joint() + " to " + any_joint();
        case 13:
            return "lamp in " + any_part() + ", " + any_joint() + " to B1-";
        case 14:
            return lot.below(6) == 0 ? "jumper " + any_joint() + " to " + any_joint() + ", " + any_part()
                                     : "pull " + any_part() + ", " + any_joint() + " to B1-";
        default: {
            std::string noise;
            for (std::size_t i = 0; i < 1 + lot.below(30); ++i) noise += static_cast<char>(32 + lot.below(95));
            return noise;
        }
    }
}

double cost_of(double minutes, std::size_t parts, bool solved) {
    constexpr double minutes_a_part = 20;
    constexpr double minutes_unsolved = 120;
    return minutes + minutes_a_part * static_cast<double>(parts) + (solved ? 0 : minutes_unsolved);
}

}  // namespace

TEST_CASE("a thousand random learners never crash the bench, never see the fault, and lose against the plan") {
    std::vector<Exercise> exercises;
    std::vector<LessonPlan> plans;
    MatchOptions options;
    for (const std::string name : {"full-volts", "fuse-goes-again", "volts-on-both-sides", "dark-lamp", "lorry-after-washing"}) {
        const LessonReading reading = read_lesson_file(PROJECT_DIR "/scenarios/lessons/" + name + ".toml");
        REQUIRE(reading.lesson);
        exercises.push_back(exercise_of(solver(), reading.circuit, *reading.lesson, 1));
        plans.push_back(plan_of(solver(), exercises.back(), options));
        INFO(name);
        CHECK(plans.back().solved);
    }
    constexpr int learners = 1000;
    std::vector<double> cost(exercises.size(), 0);
    std::vector<int> count(exercises.size(), 0);
    int ended_unsafe = 0;
    for (int learner = 0; learner < learners; ++learner) {
        const std::size_t which = static_cast<std::size_t>(learner) % exercises.size();
        const Exercise& exercise = exercises[which];
        Lot lot(static_cast<std::uint64_t>(learner), "learner");
        LearnerRun run(solver(), exercise, quick());
        std::string seen;
        std::string typed;
        for (int line = 0; line < 8 && run.end() == RunEnd::open; ++line) {
            const std::string text = random_line(*exercise.circuit, lot);
            typed += text + "\n";
            const RunStep& step = run.act(text);
            if (step.outcome.result == ActionResult::not_understood) continue;
            TextPage page(PageStyle{});
            write_step(page, step, exercise, true);
            seen += page.text();
        }
        for (const Fault& fault : exercise.hidden()) {
            INFO(typed << "\n" << seen);
            CHECK(seen.find(fault.mode->phrase()) == std::string::npos);
            CHECK(seen.find(write_fault(*exercise.circuit, fault)) == std::string::npos);
        }
        ended_unsafe += run.end() == RunEnd::unsafe ? 1 : 0;
        cost[which] += cost_of(run.bench().bill().minutes(), run.bench().bill().parts.size(), all_mended(run.bench().vehicle()));
        ++count[which];
    }
    CHECK(ended_unsafe > 0);
    for (std::size_t i = 0; i < exercises.size(); ++i) {
        INFO(exercises[i].lesson.title);
        CHECK(cost_of(plans[i].minutes(), plans[i].parts, plans[i].solved) < cost[i] / count[i]);
    }
}

TEST_CASE("a lesson that cheats its learner does not pass the check") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto problems = [&](const auto& change) {
        Lesson lesson = exercise_with(circuit, {"C101.4 resistance 0.3ohm"}).lesson;
        change(lesson);
        std::string text;
        const Problems found = check_lesson(solver(), circuit, lesson, MatchOptions{});
        for (const Problem& problem : found.list())
            text += problem.message + "; ";
        return text;
    };
    using Catch::Contains;
    CHECK(problems([](Lesson&) {}).empty());
    CHECK_THAT(problems([](Lesson& lesson) { lesson.budget_minutes = 5; }), Contains("more than the budget of 5 min"));
    CHECK_THAT(problems([&](Lesson& lesson) { lesson.faults = faults_named(*circuit, "C101.4 resistance 20mohm"); }),
               Contains("no driver would notice"));
    CHECK_THAT(problems([&](Lesson& lesson) {
                   LessonTrap trap;
                   trap.test = test_of(*circuit, "hi  C304.1 to B1-");
                   lesson.traps = {trap};
               }),
               Contains("a trap is not blind"));
    CHECK_THAT(problems([&](Lesson& lesson) {
                   lesson.faults = faults_named(*circuit, "F7 blown");
                   lesson.roots = faults_named(*circuit, "M1 drag 1.1");
               }),
               Contains("the root does not lead to what failed"));
}

TEST_CASE("the lessons cover every skill and level and say what they serve") {
    const std::vector<std::string> paths = lesson_paths();
    CHECK(paths.size() >= 20);
    std::set<std::string> skills;
    std::set<int> levels;
    std::size_t misconceptions = 0;
    for (const std::string& path : paths) {
        const LessonReading reading = read_lesson_file(path);
        INFO(path << "\n" << testing::all_problems(reading.problems));
        REQUIRE(reading.lesson);
        CHECK_FALSE(reading.lesson->goal.empty());
        CHECK_FALSE(reading.lesson->serves.empty());
        skills.insert(reading.lesson->skill);
        levels.insert(reading.lesson->level);
        misconceptions += reading.lesson->meets.empty() ? 0 : 1;
    }
    CHECK(skills.size() == lesson_skills().size());
    CHECK(levels.size() == 3);
    CHECK(misconceptions >= 6);
}
