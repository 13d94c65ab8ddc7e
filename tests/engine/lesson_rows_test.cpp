// Lessons as rows: what a bench allows and refuses, what a debrief says of each kind of end, words of concerns,
// sections, reasons and hints.
#include <algorithm>
#include <cmath>

#include "engine/lessons/debrief.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/lessons/safety.hpp"
#include "engine/lessons/symptoms.hpp"
#include "tests/support/exercises.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using Catch::Contains;

namespace {

/// The cab blower with places that no probe may touch, and the drawn key of a bench.
const Circuit& closed_places() {
    static const auto circuit = cab_blower_with("[care]", "[closed]\nC101 = \"sealed\"\nK3 = \"electronic\"\n[care]");
    return *circuit;
}

Exercise with_actions(const std::shared_ptr<const Circuit>& circuit, const std::vector<std::string>& faults,
                      const std::vector<std::string>& allow) {
    Exercise exercise = exercise_with(circuit, faults);
    exercise.lesson.allow = allow;
    return exercise;
}

/// How a run of these lines ends.
Debrief debrief_after(const Exercise& exercise, const std::vector<std::string>& lines) {
    LearnerRun run(solver(), exercise, quick());
    for (const std::string& line : lines) act(run, line);
    run.hand_back();
    return debrief_of(solver(), run, nullptr);
}

/// Two loads behind one fuse, a switch of eight positions and a pressure contact.
const std::string two_loads = R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
S0 = "key: off acc=75 on=75+15 start=15+50"
F1 = "fuse 30A regular, feed 30"
S1 = "switch C: off p1=1 p2=1 p3=1 p4=1 p5=1 p6=1 p7=1 p8=1"
P1 = "contact opens 1.96bar, closes 2.25bar, healthy 2.5bar"
M1 = "motor 9A @13.5V, 3000rpm, stall 36A"
L1 = "lamp 21W"
L2 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > S1.C 2.5mm2 RD 1m"
2 = "S1.1 > M1.1 2.5mm2 YE 1m"
3 = "M1.2 > G1 2.5mm2 BK 0.5m"
4 = "S1.1 > P1.1 1mm2 GN 1m"
5 = "P1.2 > L1.1 1mm2 GN 1m"
6 = "L1.2 > G1 1mm2 BK 1m"
7 = "S1.1 > L2.1 1mm2 GN 1m"
8 = "L2.2 > G1 1mm2 BK 1m"
)";

}  // namespace

TEST_CASE("a bench refuses what it has no instrument, no permission or no clock for, and charges nothing") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const struct {
        std::vector<std::string> allow;
        const char* line;
        const char* message;
    } rows[] = {{{"volts"}, "hi  C101 hotter than C303", "no instrument for that"},
                {{"drop"}, "hi  clamp 542", "this lesson is done without 'amps'"},
                {{"volts"}, "hi, new C303, M1.1 to B1-", "fit a part by itself first"},
                {{"volts"}, "after 10min, hi M1.1 to B1-", "no clock to wait by"},
                {{"volts"}, "new M1", "done without new parts"},
                {{"volts"}, "repair M1", "done without new parts"}};
    for (const auto& row : rows) {
        Bench bench(solver(), with_actions(circuit, {"C101.4 resistance 0.3ohm"}, row.allow));
        const ActionOutcome outcome = act(bench, row.line);
        INFO(row.line << ": " << outcome.message);
        CHECK(outcome.result == ActionResult::refused);
        CHECK(outcome.message.find(row.message) != std::string::npos);
        CHECK(outcome.minutes == 0);
        CHECK(bench.bill().parts.empty());
    }
    // Drops are volts, and a fuse is tried by a new one whatever else is kept away.
    Bench drops(solver(), with_actions(circuit, {"C101.4 resistance 0.3ohm"}, {"drop"}));
    CHECK(act(drops, "hi  M1.1 to B1-").result == ActionResult::done);
    CHECK(act(drops, "new F7").result == ActionResult::done);
}

TEST_CASE("a new fuse that holds for a while tells for how long") {
    // A held rotor behind a fuse that it opens after seconds, and a drag that takes minutes: the fuse's own times.
    const auto words = [](const std::string& rating, const std::string& root) {
        const auto circuit =
            circuit_of("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse " + rating +
                       ", feed 30\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nG1 = \"ground\"\n"
                       "[wires]\n1 = \"F1.2 > M1.1 6mm2 RD 1m\"\n2 = \"M1.2 > G1 6mm2 BK 1m\"\n");
        Bench bench(solver(), exercise_with(circuit, {}, {root}));
        const ActionOutcome fitted = act(bench, "new F1");
        REQUIRE(fitted.measured);
        if (!fitted.measured->blew.empty()) {
            const double seconds = fitted.measured->blew.front().seconds;
            const auto* seen = std::get_if<FuseReading>(&fitted.measured->reading.measurement);
            REQUIRE(seen);
            CHECK(seen->after_seconds == (seconds < 1 ? 0 : std::round(seconds)));
        }
        return fitted.measured->shown;
    };
    CHECK(words("40A maxi", "1 chafe 10mohm") == "blew at once");
    const std::string held = words("40A maxi", "M1 seized");
    INFO(held);
    CHECK(held.starts_with("blew after "));
    CHECK(held.ends_with(" s"));
    CHECK(words("40A maxi", "M1 fouled 1.02") == "holds");
    const std::string late = words("20A maxi", "M1 drag 1.35");
    INFO(late);
    CHECK(late.starts_with("blew after "));
    CHECK(late.ends_with(" min"));
}

TEST_CASE("a new fuse shows what another fuse does as well") {
    // The second fuse stands behind the first and is far too small for what runs through both.
    const auto circuit = circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 30A regular, feed 30\"\nF2 = \"fuse 10A "
        "mini\"\n"
        "A1 = \"clutch 3.6ohm, pulls 7.5V\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > F2.1 2.5mm2 RD 1m\"\n2 = "
        "\"F2.2 > A1.1 2.5mm2 RD 1m\"\n3 = \"A1.2 > G1 2.5mm2 BK 1m\"\n");
    Exercise exercise = exercise_with(circuit, {"F1 blown"}, {"2 chafe 0.1ohm"});
    exercise.found.opened.clear();
    Bench bench(solver(), exercise);
    const ActionOutcome fitted = act(bench, "new F1");
    REQUIRE(fitted.measured);
    CHECK(fitted.measured->shown == "holds");
    CHECK(bench.vehicle().has_opened(circuit->find_part("F2")));
    CHECK_FALSE(bench.vehicle().has_opened(circuit->find_part("F1")));
}

TEST_CASE("a lead from plus or a bulb is put where one end of it is reached") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Bench fed(solver(), exercise_with(circuit, {"811 open"}));
    const ActionOutcome outcome = act(fed, "hi, feed K3.86, M1");
    CHECK(outcome.result == ActionResult::done);
    CHECK(outcome.measured->shown == "normal");
    CHECK(std::find(fed.reached().begin(), fed.reached().end(), "K3") != fed.reached().end());
    Bench loaded(solver(), exercise_with(circuit, {"541 open"}));
    CHECK(act(loaded, "off, load 21W C101.4@542 to B1-, C101.4@542 to B1-").result == ActionResult::done);
}

TEST_CASE("a closed place is no place for probes, leads and lamps, each for its reason") {
    const Circuit& circuit = closed_places();
    const auto shared = std::shared_ptr<const Circuit>(&circuit, [](const Circuit*) {});
    const Exercise exercise = exercise_with(shared, {"M1 open"});
    const struct {
        const char* line;
        ActionResult result;
        const char* message;
    } rows[] = {{"hi, C101.4 to B1-", ActionResult::refused, "C101 is closed to probes: sealed"},
                {"hi, lamp C101.4 to B1-", ActionResult::unsafe, "C101 is closed to leads and lamps (sealed)"},
                {"hi, lamp K3.85 to B1+", ActionResult::unsafe, "K3 is an electronic output"},
                {"hi, K3.85 to B1-", ActionResult::done, ""}};
    for (const auto& row : rows) {
        Bench bench(solver(), exercise);
        const ActionOutcome outcome = act(bench, row.line);
        INFO(row.line << ": " << outcome.message);
        CHECK(outcome.result == row.result);
        CHECK(outcome.message.starts_with(row.message));
    }
    // A wire is no part: what is closed there is the wire's own.
    const auto wire = cab_blower_with("[care]", "[closed]\n542 = \"sealed\"\n[care]");
    Bench bench(solver(), exercise_with(wire, {"M1 open"}));
    CHECK(act(bench, "hi, C304.1 to B1-").result == ActionResult::done);
}

TEST_CASE("a debrief tells each kind of end by its own words") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const struct {
        std::vector<std::string> faults;
        std::vector<std::string> roots;
        std::vector<std::string> lines;
        Verdict verdict;
        const char* sentence;
    } rows[] = {
        {{}, {"542 chafe 15mohm at 60%"}, {"repair 542"}, Verdict::not_mended, "a blown fuse was left in"},
        {{"C101.4 open when bump"}, {}, {"repair G201"}, Verdict::not_mended, "what was changed was not what failed"},
        {{"C101.4 open"}, {}, {"say nothing"}, Verdict::not_mended, "you said that nothing is wrong; something is"},
        {{"C101.4 open"}, {}, {}, Verdict::not_mended, "nothing was repaired"},
        {{"C101.4 open", "G202 open"}, {}, {"repair C101.4"}, Verdict::not_mended, "one thing is mended, another"},
    };
    for (const auto& row : rows) {
        const Debrief debrief = debrief_after(exercise_with(circuit, row.faults, row.roots), row.lines);
        INFO(row.sentence);
        CHECK(debrief.verdict == row.verdict);
        CHECK_THAT(debrief.sentence, Contains(row.sentence));
    }
    const struct {
        Verdict verdict;
        const char* word;
    } words[] = {{Verdict::solved, "SOLVED"},
                 {Verdict::cause_left, "CAUSE LEFT"},
                 {Verdict::not_mended, "NOT MENDED"},
                 {Verdict::false_alarm, "FALSE ALARM"},
                 {Verdict::unsafe, "UNSAFE"}};
    for (const auto& row : words) CHECK(verdict_word(row.verdict) == row.word);
}

TEST_CASE("after millivolts with a lamp in the seat, or a test and a turn since the last work, a repair is no guess") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    RunOptions options = quick();
    options.weigh = true;
    const auto unwarranted = [&](const Exercise& exercise, const std::vector<std::string>& lines) {
        LearnerRun run(solver(), exercise, options);
        for (const std::string& line : lines) act(run, line);
        run.hand_back();
        return debrief_of(solver(), run, nullptr).figures.unwarranted;
    };
    const Exercise chafed = exercise_with(circuit, {}, {"542 chafe 15mohm at 60%"});
    CHECK(unwarranted(chafed, {"repair 811"}) == std::vector<std::string>{"811"});
    CHECK(unwarranted(chafed, {"off, lamp in F7, F7.2@541 to C101.4@541", "repair 542"}).empty());
    const Exercise two = exercise_with(circuit, {"C101.4 open", "G202 open"});
    const auto is_guess = [&](const std::vector<std::string>& lines) {
        const std::vector<std::string> guesses = unwarranted(two, lines);
        return std::find(guesses.begin(), guesses.end(), "G202") != guesses.end();
    };
    CHECK(is_guess({"repair C101.4", "repair G202"}));
    CHECK(is_guess({"repair C101.4", "hi", "repair G202"}));
    CHECK_FALSE(is_guess({"repair C101.4", "lo, M1", "hi", "repair G202"}));
}

TEST_CASE("what has ended as unsafe stays so, and turning, watching and repairing want no suspect") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    RunOptions options = quick();
    options.commit = true;
    LearnerRun run(solver(), exercise_with(circuit, {"C101.4 open"}), options);
    CHECK(run.needs_suspect(action_of(*circuit, "hi, M1.1 to B1-")));
    for (const char* line : {"hi", "hi, M1", "hi, K3", "repair C101.4", "hi  C101 hotter than C303"}) {
        INFO(line);
        CHECK_FALSE(run.needs_suspect(action_of(*circuit, line)));
    }
    act(run, "new F7 60A");
    run.give_up();
    CHECK(run.end() == RunEnd::unsafe);
    LearnerRun other(solver(), exercise_with(circuit, {"C101.4 open"}), options);
    other.give_up();
    other.hand_back();
    CHECK(other.end() == RunEnd::gave_up);
}

TEST_CASE("a hint names six positions and that there are more") {
    const auto circuit = circuit_of(two_loads);
    LearnerRun run(solver(), exercise_with(circuit, {"M1 open"}), quick());
    const std::string hint = run.hint().value_or("");
    CHECK_THAT(hint, Contains("which positions fail? p1, p2, p3, p4, p5, p6 …"));
}

TEST_CASE("sections hold the key, the contacts that pressure moves, and nothing where nothing is named") {
    const auto circuit = circuit_of(two_loads);
    const auto holds = [&](const std::string& typed, const std::string& phrase) {
        const auto section = find_section(*circuit, typed);
        REQUIRE(section);
        for (std::size_t i = 0; i < circuit->modes.size(); ++i)
            if (section->modes[i] && circuit->modes[i]->phrase() == phrase) return true;
        return false;
    };
    CHECK(holds("supply", "S0 stuck off"));
    CHECK(holds("control", "P1 open"));
    CHECK_FALSE(holds("control", "M1 open"));
    for (const char* word : {"nothing", "none", "None"}) {
        const auto section = find_section(*circuit, word);
        REQUIRE(section);
        CHECK(section->nothing);
    }
}

TEST_CASE("a concern names each load that is not well, by its name where two share a word") {
    const auto circuit = circuit_of(two_loads);
    const auto words = [&](const std::vector<std::string>& faults) {
        const Exercise exercise = exercise_with(circuit, faults);
        return concern_in_words(*circuit, symptoms_of(solver(), with_conditions_met(exercise.found)));
    };
    const std::string both = words({"M1 open", "8 open"});
    INFO(both);
    CHECK_THAT(both, Contains("does nothing") && Contains("; L2 "));
    const std::string unwanted = words({"7 short-to-30 10mohm"});
    INFO(unwanted);
    CHECK_THAT(unwanted, Contains(" at off"));
    // A fan that never runs while all is well is told with every position in which it does.
    const auto cool = circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 20A regular, feed 30\"\nS1 = \"switch C: off "
        "on=1\"\nP1 = \"contact opens 15bar, closes 18bar, healthy 8bar\"\nM1 = \"motor 9A @13.5V\"\nG1 = "
        "\"ground\"\n[wires]\n1 = \"F1.2 > S1.C 2.5mm2 RD 1m\"\n2 = \"S1.1 > P1.1 2.5mm2 RD 1m\"\n3 = \"P1.2 > M1.1 "
        "2.5mm2 RD 1m\"\n4 = \"M1.2 > G1 2.5mm2 BK 1m\"\n[controls]\nS1 = \"fan\"\n");
    const Exercise runs = exercise_with(cool, {"P1 stuck closed"});
    const std::string told = concern_in_words(*cool, symptoms_of(solver(), runs.found));
    INFO(told);
    CHECK(told.ends_with(" at on"));
}

TEST_CASE("a drop is empty where nothing runs, a floating point always, and neither under load") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Exercise exercise = exercise_with(circuit, {"R1 coil 2-3 open"});
    const auto empty = [&](const std::string& phrase) {
        return why_empty(solver(), exercise, test_of(*circuit, phrase)).value_or("");
    };
    CHECK_THAT(empty("off, across C101.4"), Contains("the worst joint drops nothing"));
    CHECK(empty("hi, across C101.4").empty());
    CHECK_THAT(empty("off, unplug C304, M1.1 to B1-"), Contains("nothing holds this point"));
    CHECK(empty("hi, M1.1 to B1-").empty());
    CHECK(empty("hi, clamp 542").empty());
    // A fault that hi does not run through leaves its volts as they are, to the digit.
    const auto blind = why_blind(solver(), exercise, test_of(*circuit, "hi, B1+ to B1-"));
    CHECK(blind == "it reads the same with and without the fault");
    // Where nothing is hidden no test can show it.
    const Exercise sound = exercise_with(circuit, {});
    CHECK(why_blind(solver(), sound, test_of(*circuit, "hi, clamp 542")).value_or("").find("the same") !=
          std::string::npos);
}

TEST_CASE("an overload is one whatever ohms stand behind it") {
    const auto ohms = [](double truth, bool open) {
        Measured one;
        one.unit = Unit::ohm;
        one.truth = truth;
        OhmsReading reading;
        reading.value.open = open;
        one.reading.measurement = reading;
        return one;
    };
    CHECK(tells_apart(ohms(1e9, true), ohms(1.2, false), usual_tools()));
    CHECK(tells_apart(ohms(1.2, false), ohms(1e9, true), usual_tools()));
    CHECK_FALSE(tells_apart(ohms(1e9, true), ohms(5e11, true), usual_tools()));
}

TEST_CASE("the reason names the root, and speaks of no speed where nothing turned") {
    const auto reason = [](const Exercise& exercise) {
        std::string text;
        for (const std::string& line : electrical_reason(solver(), exercise)) text += line + "\n";
        return text;
    };
    const auto blower = scenario_circuit("cab-blower.toml");
    CHECK_THAT(reason(exercise_with(blower, {"R1 limiter open"}, {"M1 drag 1.15"})), Contains("M1 drag 1.15"));
    const auto circuit = circuit_of(two_loads);
    const std::string unwanted = reason(exercise_with(circuit, {"2 short-to-30 10mohm"}));
    INFO(unwanted);
    CHECK_THAT(unwanted, Contains("at off: "));
    CHECK(unwanted.find("rpm") == std::string::npos);
}
