// What a job leaves open, the times at which fuses blew, and what is likely before anything is read.
#include "engine/readings/questions.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/diagnosis/priors.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/open_positions.hpp"
#include "engine/readings/prediction.hpp"
#include "engine/readings/word_tables.hpp"
#include "netlists/phrases/load_words.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/word_chances.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::circuit_of;
using voltfall::testing::job_of;
using voltfall::testing::reading_of;
using voltfall::testing::row_called;
using voltfall::testing::word_chance;

namespace {

/// The positions of S1 in which a reading of the cab blower may have been taken, with the key: "off/on lo/run".
std::string positions_of(const std::string& phrase) {
    const Circuit& circuit = cab_blower();
    const Reading reading = reading_of(phrase, circuit);
    const PartId control = circuit.find_part("S1");
    std::string text;
    for (const State& state : open_positions(solver(), circuit, reading, states_of(circuit, reading.state).front())) {
        text += (text.empty() ? "" : " ") + circuit.part(control).positions[state.positions[control.index]].name + "/" +
                std::string(key_word(state.key));
    }
    return text;
}

/// P(word | fault) of the job's only word.
double chance_of(const std::string& reading, const std::string& fault) {
    return word_chance(cab_blower(), {reading}, fault);
}

/// Priors of a wire's chafe and open under a line of [care], as their ratio.
double chafe_to_open(const std::string& care) {
    const auto circuit = circuit_of(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\n"
        "[wires]\n1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > 31 1mm2 BK 1m\"\n" +
        (care.empty() ? "" : "[care]\n1 = \"" + care + "\"\n"));
    const Priors priors = priors_of(*circuit, Job{});
    std::map<std::string, double> by_phrase;
    for (std::size_t i = 0; i < circuit->modes.size(); ++i) by_phrase[circuit->modes[i]->phrase()] = priors.modes[i];
    REQUIRE(by_phrase["1 open"] > 0);
    return by_phrase["1 chafe"] / by_phrase["1 open"];
}

}  // namespace

TEST_CASE("a word of a load without a position was said with its control on, a number may be of any position") {
    CHECK(positions_of("blower slow") == "lo/run ml/run mh/run hi/run");
    CHECK(positions_of("M1.2 to B1- 3.0V") == "off/on lo/run ml/run mh/run hi/run");
    CHECK(positions_of("key on, M1.2 to B1- 3.0V") == "off/on lo/on ml/on mh/on hi/on");
    // Where the position is named, and where it moves nothing, there is one.
    CHECK(positions_of("mh blower slow") == "mh/run");
    CHECK(positions_of("F12.2 to B1- 12.5V") == "off/on");
}

TEST_CASE("a fuse said to have blown after a while speaks for what takes that long") {
    // M1 seized takes its stall current through F7 on high: the closed form of the fuse says when it goes.
    const std::string phrase = "new F7, key run, hi fuse F7 blown";
    const Job job = job_of(cab_blower(), {phrase});
    const Questions questions = make_questions(solver(), cab_blower(), job);
    const SolvedCase solved = solve_case(solver(), questions, row_called(cab_blower(), "M1 seized"), {0, 0.5});
    REQUIRE(solved.courses.size() == 1);
    REQUIRE(solved.courses.front());
    REQUIRE_FALSE(solved.courses.front()->aftermath.empty());
    const double seconds = solved.courses.front()->aftermath.front().seconds;
    REQUIRE(seconds > 2);
    const auto after = [&](double typed) {
        return chance_of(phrase + " after " + write_fixed(typed, 3) + "s", "M1 seized") /
               chance_of(phrase, "M1 seized");
    };
    CHECK(after(seconds) == Approx(1).epsilon(1e-6));
    // Sound fuses of one type are a factor of two quicker or slower. Behind that, one sigma is a factor of 2.5:
    // 0.03 + 0.97 exp(-1/2) = 0.6183 where the time is off by 5 in all; 1.5 s pass before a time is told from none.
    CHECK(after(2 * (seconds + 1.5) - 1.5) == Approx(1).epsilon(1e-3));
    CHECK(after((seconds + 1.5) / 2 - 1.5) == Approx(1).epsilon(1e-3));
    CHECK(after(5 * (seconds + 1.5) - 1.5) == Approx(0.6183).epsilon(1e-3));
    // What is a short blows it in a moment, and is not thought of after two minutes.
    CHECK(chance_of(phrase + " at once", "542 chafe") > 20 * chance_of(phrase + " after 2min", "542 chafe"));
}

TEST_CASE(
    "behind a held motor whose current falls to the fuse's edge it is as likely whole as blown, behind a short blown") {
    const std::string fuse = "new F7, key run, hi fuse F7 ";
    CHECK(chance_of(fuse + "good", "M1 seized") == Approx(0.5));
    CHECK(chance_of(fuse + "blown", "M1 seized") == Approx(0.5));
    // 541 is rubbed through to metal before anything limits the current: it opens at once, whatever the part.
    CHECK(chance_of(fuse + "good", "541 chafe") < 0.05);
    CHECK(chance_of(fuse + "blown", "541 chafe") > 0.9);
}

TEST_CASE("a fuse said to have blown in a position went with the engine running, unless a key word says otherwise") {
    const auto key_of = [](const std::string& reading) {
        const Job job = job_of(cab_blower(), {reading});
        const Questions questions = make_questions(solver(), cab_blower(), job);
        REQUIRE(questions.words.size() == 1);
        REQUIRE(questions.words.front().blown_at.size() == 1);
        return questions.states[questions.words.front().blown_at.front()].state.key;
    };
    CHECK(key_of("fuse F7 blown at hi") == KeyPosition::run);
    CHECK(key_of("fuse F7 blown at off") == KeyPosition::run);
    CHECK(key_of("key on, fuse F7 blown at hi") == KeyPosition::on);
}

TEST_CASE("volts written as across a part have no sign, those from point to point have one") {
    const auto any_sign = [](const std::string& reading) {
        const Job job = job_of(cab_blower(), {reading});
        const Questions questions = make_questions(solver(), cab_blower(), job);
        REQUIRE_FALSE(questions.cells.empty());
        return questions.cells.front().any_sign;
    };
    CHECK(any_sign("key run, hi across C101.4 0.08V"));
    CHECK_FALSE(any_sign("key run, hi C101.4@541 to C101.4@542 0.08V"));
    CHECK(any_sign("key run, hi clamp 542 20.1A"));
}

TEST_CASE("what a sound circuit should read does not move with what was read of its battery") {
    // The reading tells of the battery; the expectation is that of the file's 14.2 V until both are weighed together.
    const auto expected = [](const std::string& volts) {
        const Job job = job_of(cab_blower(), {"key run, hi B1+ to B1- " + volts});
        const Questions questions = make_questions(solver(), cab_blower(), job);
        const Prediction healthy = Predictor(solver(), questions).predict(nullptr, {});
        REQUIRE(healthy.mean.size() == 1);
        return healthy.mean.front();
    };
    // Some 20 A through 8 mohm are 0.16 V.
    CHECK(expected("13.20V") == Approx(14.04).margin(0.05));
    CHECK(expected("14.10V") == Approx(14.04).margin(0.05));
}

TEST_CASE("an ohmmeter finds the ways through wires and windings, not the battery's own few milliohms") {
    const Circuit& circuit = cab_blower();
    const Job job = job_of(circuit, {"key off, unplug C304, K3.87@820a to B1- 0.1ohm"});
    const Questions questions = make_questions(solver(), circuit, job);
    const SolvedCase sound = solve_case(solver(), questions, nullptr, {});
    State off = default_states(circuit).front();
    off.key = KeyPosition::off;
    const auto ohms = [&](JointId red, JointId black) { return ohms_between(circuit, sound, off, red, black); };
    const auto joint = [&](const char* name) { return circuit.find_joint(name); };
    // With the switch off nothing ties plus to minus but the battery.
    CHECK(ohms(circuit.bus_30, circuit.reference) > 1e5);
    // A standing armature of 12.5 V / 80 A, without the film under its brushes, and two contacts of some milliohms.
    CHECK(ohms(joint("M1.1"), joint("M1.2")) == Approx(0.15625).margin(0.02));
}

TEST_CASE("of all words for one load exactly one is said: their chances sum to one at the most") {
    const double amps[] = {0, 10};
    for (const double current : amps) {
        for (const double rpm : {0.0, 300.0, 2000.0, 3500.0, 4300.0}) {
            for (const double healthy : {0.0, 3500.0}) {
                double sum = 0;
                for (const LoadWord& row : load_word_table())
                    sum += load_word_probability(
                        row.word, perceive({12, current, rpm, LoadSeen::normal}, {12, 10, healthy, LoadSeen::normal}));
                INFO(rpm << " rpm instead of " << healthy << " at " << current << " A");
                CHECK(sum <= 1 + 1e-9);
                CHECK(sum > 0.85);
            }
        }
    }
}

TEST_CASE("a wire that is hot and rubs chafes eight times as often, one that does either by the root of that") {
    const double plain = chafe_to_open("");
    // The default table's eight holds for both together; each alone is its root, 2.828.
    CHECK(chafe_to_open("past the tube: hot, rubs") / plain == Approx(8));
    CHECK(chafe_to_open("past the tube: hot") / plain == Approx(2.828).epsilon(1e-3));
    CHECK(chafe_to_open("over the bracket: rubs") / plain == Approx(2.828).epsilon(1e-3));
}
