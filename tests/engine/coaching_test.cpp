// What a learner is told along the way: hints, sections of the circuit, why a test was blind, the reason in numbers.
#include <algorithm>

#include "engine/lessons/belief.hpp"
#include "engine/lessons/debrief.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/lesson_check.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/lessons/section.hpp"
#include "engine/lessons/symptoms.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using Catch::Contains;

namespace {

/// The three hints of an exercise, in their order.
std::vector<std::string> hints_of(const Exercise& exercise) {
    LearnerRun run(solver(), exercise, quick());
    std::vector<std::string> hints;
    while (const auto hint = run.hint()) hints.push_back(*hint);
    CHECK(run.hints() == 3);
    return hints;
}

std::string reason_of(const Exercise& exercise) {
    std::string text;
    for (const std::string& sentence : electrical_reason(solver(), exercise)) text += sentence + "\n";
    return text;
}

/// Faults that a section holds, by their phrases.
std::string faults_in(const Circuit& circuit, const std::string& typed) {
    const auto section = find_section(circuit, typed);
    INFO(typed);
    REQUIRE(section);
    REQUIRE(section->modes.size() == circuit.modes.size());
    std::string text;
    for (std::size_t i = 0; i < circuit.modes.size(); ++i)
        if (section->modes[i]) text += circuit.modes[i]->phrase() + "; ";
    return text;
}

}  // namespace

TEST_CASE("the first hint names the positions that fail, the second the half, the third a test") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto pack = hints_of(exercise_with(circuit, {"R1 limiter open"}));
    CHECK(pack[0].starts_with("which positions fail? lo, "));
    CHECK_THAT(pack[0], Contains("but not hi"));
    CHECK_THAT(pack[2], Contains("which pin? A good next test: "));
    const auto dead = hints_of(exercise_with(circuit, {"F7.2 open"}));
    CHECK_THAT(dead[0], Contains("All: ask what every position runs through"));
    CHECK_THAT(dead[1], Contains("its feed is the worse one"));
    const auto sound = hints_of(exercise_with(circuit, {}));
    CHECK_THAT(sound[0], Contains("All of them work just now: when does it fail"));
    CHECK_THAT(sound[1], Contains("both its feed and its return"));
    CHECK_THAT(hints_of(exercise_with(circuit, {"G201 resistance 0.4ohm"}))[1],
               Contains("its return is the worse one"));
    CHECK_THAT(hints_of(exercise_with(circuit, {"M1 open"}))[1], Contains("the load a long one"));
    CHECK_THAT(hints_of(exercise_with(circuit, {"811 open"}))[1], Contains("look at what switches it"));
    // The battery belongs to neither half.
    CHECK_THAT(hints_of(exercise_with(circuit, {"B1 open"}))[1], Contains("both its feed and its return"));
}

TEST_CASE("where no allowed test tells more the last hint says what is left to do") {
    Exercise exercise = exercise_with(scenario_circuit("training-board.toml"), {"L1 open"});
    exercise.lesson.allow.clear();
    LearnerRun run(solver(), exercise, quick());
    run.try_every_position();
    run.hint();
    run.hint();
    CHECK_THAT(run.hint().value_or(""), Contains("say what you think, repair it and prove it"));
    CHECK_FALSE(run.hint());
}

TEST_CASE("a section holds the faults of its part of the way, and no others") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const std::string supply = faults_in(*circuit, "supply");
    CHECK_THAT(supply, Contains("B1 weak") && Contains("F7 blown") && Contains("F7.2 open"));
    CHECK(supply.find("M1") == std::string::npos);
    CHECK(supply.find("C101") == std::string::npos);
    const std::string feed = faults_in(*circuit, "Feed");
    CHECK_THAT(feed, Contains("C101.4 open") && Contains("541 chafe"));
    CHECK(feed.find("G201") == std::string::npos);
    CHECK(feed.find("M1 open") == std::string::npos);
    CHECK_THAT(faults_in(*circuit, "return"), Contains("G201 resistance") && Contains("R1 limiter open"));
    CHECK_THAT(faults_in(*circuit, "load"), Contains("M1 worn-brushes"));
    CHECK(faults_in(*circuit, "load").find("R1") == std::string::npos);
    CHECK_THAT(faults_in(*circuit, "control"),
               Contains("K3 coil open") && Contains("811 open") && Contains("S1 stuck"));
    const std::string pack = faults_in(*circuit, "pack");
    CHECK_THAT(pack, Contains("R1 coil 1-2 open"));
    CHECK(pack.find("801") == std::string::npos);
    CHECK(faults_in(*circuit, "nothing").empty());
    CHECK(faults_in(*circuit, "C101.4 resistance") == "C101.4 resistance; ");
    CHECK_THAT(faults_in(*circuit, "541"), Contains("541 open"));
    CHECK_FALSE(find_section(*circuit, "no such thing"));
    // A board with one lamp has no pack and no relay.
    const auto board = scenario_circuit("training-board.toml");
    CHECK_FALSE(find_section(*board, "pack"));
    CHECK_THAT(faults_in(*board, "control"), Contains("S1 stuck off"));
}

TEST_CASE("belief in a section is that of its faults, and a sound vehicle is a thought of its own") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Belief belief;
    belief.modes.assign(circuit->modes.size(), 0);
    belief.nothing = 0.25;
    for (std::size_t i = 0; i < circuit->modes.size(); ++i)
        if (circuit->modes[i]->phrase() == "G201 resistance") belief.modes[i] = 0.75;
    CHECK(belief.in(find_section(*circuit, "nothing").value()) == Approx(0.25));
    CHECK(belief.in(find_section(*circuit, "return").value()) == Approx(0.75));
    CHECK(belief.in(find_section(*circuit, "feed").value()) == Approx(0));
    Belief sure = belief;
    sure.nothing = 0;
    for (double& share : sure.modes) share *= 1 / 0.75;
    CHECK(ruled_out_between(*circuit, belief, sure) == std::vector<std::string>{"a sound vehicle"});
    Belief sound = belief;
    sound.nothing = 1;
    std::fill(sound.modes.begin(), sound.modes.end(), 0);
    CHECK(ruled_out_between(*circuit, belief, sound) == std::vector<std::string>{"G201"});
    // log2(1 / 0.25).
    CHECK(bits_told(*circuit, belief, sound) == Approx(2));
}

TEST_CASE("why a test was blind is told in the terms of its instrument") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto blind = [&](const Exercise& exercise, const std::string& phrase) {
        return why_blind(solver(), exercise, test_of(*exercise.circuit, phrase)).value_or("");
    };
    const Exercise pin = exercise_with(circuit, {"C101.4 resistance 0.3ohm"});
    CHECK_THAT(blind(pin, "hi, lamp C304.1 to B1-"), Contains("still lights it"));
    CHECK_THAT(blind(pin, "unplug C303, ohms R1.1 to R1.4"), Contains("the meter's own small current"));
    CHECK_THAT(blind(pin, "unplug C303, beep R1.1 to R1.4"), Contains("the meter's own small current"));
    CHECK_THAT(blind(pin, "look M1"), Contains("nothing to see there"));
    CHECK_THAT(blind(pin, "hi, F7.2 to B1-"), Contains("less than the meter can be off"));
    CHECK_THAT(blind(pin, "fuse F12"), Contains("a whole fuse says nothing"));
    CHECK_THAT(blind(pin, "hi, K3"), Contains("the same with and without the fault"));
    CHECK_THAT(blind(pin, "off, R1.1 to B1-"), Contains("good volts without a load"));
    const Exercise moved = exercise_with(circuit, {"C101.4 open when bump"});
    CHECK_THAT(blind(moved, "hi, C304.1 to B1-"), Contains("the fault was not there just then"));
    CHECK(blind(moved, "hi, wiggle C101, C304.1 to B1-").empty());
    const Exercise open = exercise_with(circuit, {"R1 coil 2-3 open"});
    CHECK(blind(open, "unplug C303, ohms R1.1 to R1.4").empty());
    CHECK_THAT(blind(open, "unplug C303, ohms R1.1 to R1.2"), Contains("own small current"));
}

TEST_CASE("pressures, warmth and ohms are told apart by what their instruments show") {
    const auto measured = [](Unit unit, double truth) {
        Measured one;
        one.unit = unit;
        one.truth = truth;
        one.reading.measurement = OhmsReading{};
        return one;
    };
    const auto apart = [&](Unit unit, double a, double b) {
        return tells_apart(measured(unit, a), measured(unit, b), usual_tools());
    };
    // A service gauge and its reader 0.15 bar, a thermometer 2 K.
    CHECK_FALSE(apart(Unit::pascal, 2.0e5, 2.1e5));
    CHECK(apart(Unit::pascal, 2.0e5, 2.2e5));
    CHECK_FALSE(apart(Unit::celsius, 40, 41.5));
    CHECK(apart(Unit::celsius, 40, 43));
    CHECK(apart(Unit::ohm, 1.2, 3));
    CHECK_FALSE(apart(Unit::ohm, 1.2, 1.21));
    // An overload is another thing than any figure, and no other than an overload.
    constexpr double endless = std::numeric_limits<double>::infinity();
    CHECK(apart(Unit::ohm, 1.2, endless));
    CHECK(apart(Unit::ohm, endless, 1.2));
    CHECK_FALSE(apart(Unit::ohm, endless, endless));
    CHECK(tells_apart(measured(Unit::ohm, 12), measured(Unit::volt, 12), usual_tools()));
}

TEST_CASE("the reason is told in volts, amperes and watts of the position in which the fault shows most") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const std::string weak = reason_of(exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    CHECK_THAT(weak, Contains("at hi: 0.3 ohm times ") && Contains("lost in C101.4"));
    CHECK_THAT(weak, Contains("M1 gets ") && Contains(" instead of ") && Contains("rpm"));
    CHECK_THAT(reason_of(exercise_with(circuit, {"541 open"})), Contains("with 541 open no current runs"));
    const std::string root = reason_of(exercise_with(circuit, {}, {"542 chafe 15mohm at 60%"}));
    CHECK_THAT(root, Contains("run through F7 (40 A)") && Contains("it opens after 0."));
    const std::string slow = reason_of(exercise_with(circuit, {"F7 blown"}, {"M1 seized"}));
    CHECK_THAT(slow, Contains("run through F7 (40 A)"));
    CHECK_THAT(reason_of(exercise_with(circuit, {}, {"M1 drag 1.4"})),
               Contains("M1 drag 1.4 is why") && Contains("its limiter opens after 80 s"));
    CHECK_THAT(reason_of(exercise_with(circuit, {"R1 limiter open"}, {"M1 fouled 1.02"})),
               Contains("M1 fouled 1.02 stands behind it"));
    CHECK(reason_of(exercise_with(circuit, {})) == "every reading lies where a sound vehicle's does\n");
    // A lamp has no speed.
    const auto board = scenario_circuit("training-board.toml");
    CHECK(reason_of(exercise_with(board, {"C1.A resistance 3ohm"})).find("rpm") == std::string::npos);
}

TEST_CASE("a concern in a customer's words names things, and positions where they differ") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto words = [](const std::shared_ptr<const Circuit>& of, const std::string& fault) {
        const Exercise exercise = exercise_with(of, {fault});
        return concern_in_words(*of, symptoms_of(solver(), with_conditions_met(exercise.found)));
    };
    CHECK(words(circuit, "R1 limiter open") == "the blower does nothing at lo, ml and mh; hi is as always");
    CHECK(words(circuit, "M1 open") == "the blower does nothing");
    CHECK_THAT(words(circuit, "M1 fouled 1.02"), Contains("nothing seems wrong just now"));
    CHECK_THAT(words(circuit, "S1 stuck hi"), Contains("runs though it is switched off at off"));
}

TEST_CASE("a test with a lead that stands nowhere is refused, and is no danger") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench bench(solver(), exercise_with(circuit, {"C101.4 resistance 0.3ohm"}));
    for (const char* line : {"hi M1.1 to ?", "hi lamp M1.1 to ?"}) {
        const ActionOutcome outcome = act(bench, line);
        INFO(line);
        CHECK(outcome.result == ActionResult::refused);
        CHECK(outcome.message == "both leads must stand somewhere");
    }
}
