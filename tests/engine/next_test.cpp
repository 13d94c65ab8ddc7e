#include <algorithm>
#include <cmath>
#include <random>
#include <set>

#include "engine/diagnosis/match.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/test_value.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::all_tests;
using voltfall::testing::cab_blower;
using voltfall::testing::circuit_of;
using voltfall::testing::job_of;
using voltfall::testing::position_of;
using voltfall::testing::written;

namespace {

Job weak_air() {
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/bookmobile/weak-air.job.toml");
    REQUIRE(reading.job);
    return *reading.job;
}

/// Minutes that a test saves, less its own: what tests are ranked by.
double saved(const TestProposal& test) {
    return test.bits * default_value("minutes_a_bit") - test.minutes;
}

/// Of a look in several positions the first of them: each of them tells something by itself.
Test in_one_position(Test test) {
    for (ControlSetting& setting : test.state.settings) setting.positions.resize(1);
    return test;
}

}  // namespace

TEST_CASE("an unknown supply is asked for where it tells for its minutes") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(), job_of(cab_blower(), {"hi blower slow", "hi M1.1 to B1- 11.0V"}));
    REQUIRE(!answer.tests.empty());
    INFO(all_tests(answer));
    const auto supply = std::find_if(answer.tests.begin(), answer.tests.end(), [](const TestProposal& test) {
        return written(test).find("B1+ to B1-") != std::string::npos;
    });
    REQUIRE(supply != answer.tests.end());
    // What stands before it saves more minutes.
    for (auto test = answer.tests.begin(); test != supply; ++test) CHECK(saved(*test) >= saved(*supply) - 1e-6);
}

TEST_CASE("weak air before the motor is measured: volts at the motor's feed part the two halves") {
    const NextAnswer answer = next_tests(
        solver(), cab_blower(), job_of(cab_blower(), {"lo,ml,mh,hi blower slow", "key run, hi B1+ to B1- 14.05V"}));
    INFO(all_tests(answer));
    REQUIRE(!answer.tests.empty());
    for (const TestProposal& test : answer.tests) {
        CHECK(test.bits >= 0.01);
        CHECK(test.bits_per_minute == Approx(test.bits / std::max(test.minutes, 0.5)).epsilon(1e-6));
    }
    // The first is chosen by looking two tests ahead; what stands behind it saves most first.
    for (std::size_t i = 2; i < answer.tests.size(); ++i)
        CHECK(saved(answer.tests[i - 1]) >= saved(answer.tests[i]) - 1e-6);
    CHECK(saved(answer.tests.front()) < saved(answer.tests[1]));
}

TEST_CASE("a test that the job has already, in the same state, is not proposed again") {
    const NextAnswer answer = next_tests(solver(), cab_blower(), weak_air());
    REQUIRE_FALSE(answer.tests.empty());
    for (const TestProposal& test : answer.tests) {
        CHECK(written(test) != "hi  M1.1 to B1-");
        CHECK(written(test) != "hi  clamp 542");
        CHECK(written(test) != "hi  blower");
    }
}

TEST_CASE("places that the job has reached cost no way again") {
    const auto minutes = [](const std::vector<std::string>& readings) {
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
        double least = 1e9;
        for (const TestProposal& test : answer.tests) {
            if (written(test).find("C303.") != std::string::npos && written(test).find("across") == std::string::npos)
                least = std::min(least, test.minutes);
        }
        REQUIRE(least < 1e9);
        return least;
    };
    const double before = minutes({"lo,ml,mh blower dead", "hi blower normal", "key run, hi B1+ to B1- 14.1V"});
    // C304 lies behind the same trim as C303.
    const double after = minutes({"lo,ml,mh blower dead", "hi blower normal", "key run, hi B1+ to B1- 14.1V",
                                  "key run, lo C304.1 to B1- 14.1V"});
    CHECK(after < before);
}

TEST_CASE("what the file closes is never probed") {
    std::ifstream stream(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml");
    std::stringstream text;
    text << stream.rdbuf();
    const auto circuit = circuit_of(text.str() + "\n[closed]\nC303 = \"sealed\"\n");
    const NextAnswer answer =
        next_tests(solver(), *circuit, job_of(*circuit, {"lo,ml,mh blower dead", "hi blower normal"}));
    CHECK(!answer.tests.empty());
    for (const TestProposal& test : answer.tests) CHECK(written(test, *circuit).find("C303") == std::string::npos);
}

TEST_CASE("no step bypasses protection") {
    for (const auto& readings : {std::vector<std::string>{"hi blower dead"},
                                 {"hi blower dead", "fuse F7 blown"},
                                 {"off, new F7 fuse F7 blown at once"}}) {
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
        REQUIRE_FALSE(answer.tests.empty());
        for (const TestProposal& test : answer.tests) {
            for (const char* word : {"jumper", "feed ", "load ", "foil", "bypass"})
                CHECK(written(test).find(word) == std::string::npos);
        }
    }
}

TEST_CASE("a fuse that blows with the switch off leads to the look at the wire on the hot tube") {
    const NextAnswer answer = next_tests(
        solver(), cab_blower(),
        job_of(cab_blower(), {"key on, hi blower dead", "key on, off, new F7 fuse F7 blown at once", "fuse F7 blown"}));
    INFO(all_tests(answer));
    const std::size_t look = position_of(answer, "look 542");
    REQUIRE(look < answer.tests.size());
    CHECK(answer.tests[look].expect.front().fault == "542 chafe");
    CHECK(answer.tests[look].expect.front().word == "damage");
}

TEST_CASE("one suspect left: repair and prove") {
    const NextAnswer answer = next_tests(
        solver(), cab_blower(),
        job_of(cab_blower(), {"key run, lo,ml,mh,hi blower dead", "fuse F7 good", "key run, hi B1+ to B1- 14.1V",
                              "key run, hi M1.1 to B1- 14.1V", "key run, hi M1.2 to B1- 0.02V",
                              "key run, new M1, lo,ml,mh,hi blower normal"}));
    INFO(all_tests(answer));
    REQUIRE(answer.stop);
    CHECK(answer.stop->fault.starts_with("M1"));
    CHECK(answer.stop->why.find("prove") != std::string::npos);
}

TEST_CASE("no test is proposed whose outcomes agree for all remaining suspects") {
    const Circuit& circuit = cab_blower();
    std::mt19937 random(7);
    const std::vector<std::string> pool{"lo blower dead",
                                        "ml blower slow",
                                        "hi blower normal",
                                        "hi blower dead",
                                        "lo,ml,mh blower dead",
                                        "key run, hi C304.1 to B1- 12.1V",
                                        "key run, mh C304.2 to B1- 3.0V",
                                        "key on, off C304.1 to B1- 0.0V",
                                        "key run, hi clamp 542 26A",
                                        "fuse F7 good",
                                        "fuse F7 blown",
                                        "look C101 wet",
                                        "G201 to B1- 0.3V",
                                        "hi relay K3 silent",
                                        "new R1, lo blower dead",
                                        "key run, hi B1+ to B1- 14.1V"};
    std::size_t held = 0;
    for (int round = 0; round < 6; ++round) {
        std::vector<std::string> readings;
        std::set<std::size_t> used;
        const auto count = 1 + random() % 4;
        while (readings.size() < count) {
            const auto pick = random() % pool.size();
            if (used.insert(pick).second) readings.push_back(pool[pick]);
        }
        const Job job = job_of(circuit, readings);
        const MatchOptions options;
        Simulator& simulator = solver();
        const auto weighed = weigh(simulator, circuit, job, options);
        Future future = future_of(solver(), circuit, job, *weighed);
        const Predictor predictor(simulator, future.questions);
        const Standings standings = standings_of(simulator, circuit, *weighed, future, predictor, options);
        const NextAnswer answer = next_tests(solver(), circuit, job, options);
        for (const TestProposal& proposed : answer.tests) {
            INFO(readings.front() << " …: " << written(proposed, circuit));
            const auto test = std::find_if(future.tests.begin(), future.tests.end(), [&](const TestCandidate& t) {
                return t.test == in_one_position(proposed.test);
            });
            REQUIRE(test != future.tests.end());
            if (test->reads_supply) continue;  // it serves the tests behind it
            bool differs = false;
            const std::vector<double> words = test->kind == TestKind::volts || test->kind == TestKind::clamp
                                                  ? std::vector<double>{}
                                                  : word_outcomes(circuit, job, *weighed, *test, standings.list);
            for (std::size_t i = 1; i < standings.list.size(); ++i) {
                const Prediction& a = standings.list[0].prediction;
                const Prediction& b = standings.list[i].prediction;
                if (standings.list[i].group == standings.list[0].group) continue;
                if (words.empty()) {
                    const double resolution = instrument_sigma_at(job, test->kind, a.mean[test->cell]);
                    differs |= std::abs(a.mean[test->cell] - b.mean[test->cell]) > 0.3 * resolution;
                } else {
                    for (std::size_t w = 0; w < test->words.size(); ++w) {
                        differs |= std::abs(words[w] - words[i * test->words.size() + w]) > 0.02;
                    }
                }
            }
            CHECK(differs);
            ++held;
            if (test->kind == TestKind::volts) {
                const Cell& cell = future.questions.cells[test->cell];
                CHECK(is_permitted(circuit, cell.red));
                CHECK(is_permitted(circuit, cell.black));
            }
        }
    }
    CHECK(held > 10);
}

TEST_CASE("what next expects of a test is a word of its thing, or volts or amperes that its battery can give") {
    // 14.2 V behind 8 mohm drive 1,775 A into a dead short: no current of six digits, and no number without a unit.
    const std::vector<std::vector<std::string>> jobs{
        {"lo,ml,mh,hi blower dead", "fuse F7 blown"},
        {"hi blower slow"},
        {"key run, hi M1.1 to B1- 10.2V", "key run, hi B1+ to B1- 14.1V"},
    };
    std::size_t currents = 0;
    std::size_t words = 0;
    for (const auto& readings : jobs) {
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), readings));
        for (const TestProposal& proposal : answer.tests) {
            INFO(readings.front() << ": " << written(proposal));
            for (const Expectation& one : proposal.expect) {
                if (!one.word.empty()) {
                    CHECK(one.unit == Unit::none);
                    CHECK(std::isalnum(static_cast<unsigned char>(one.word.front())) != 0);
                    const bool of_a_lamp = one.word == "bright" || one.word == "dim" || one.word == "dark";
                    const bool of_a_motor = one.word == "slow" || one.word == "fast" || one.word == "runs";
                    const bool of_light =
                        std::holds_alternative<LampTest>(proposal.test.tested) || !proposal.test.state.lamp_in.empty();
                    if (of_a_lamp) CHECK(of_light);
                    if (of_a_motor) CHECK(std::holds_alternative<LoadTest>(proposal.test.tested));
                    ++words;
                    continue;
                }
                CHECK((one.unit == Unit::volt || one.unit == Unit::ampere));
                CHECK(one.low <= one.high);
                const double most = one.unit == Unit::volt ? 16 : 1800;
                CHECK(std::abs(one.low) < most);
                CHECK(std::abs(one.high) < most);
                currents += one.unit == Unit::ampere ? 1 : 0;
            }
        }
    }
    CHECK(currents > 0);
    CHECK(words > 0);
}

TEST_CASE("after unloaded readings a loaded test is proposed, and the blind ones are named") {
    const Job job = job_of(
        cab_blower(), {"lo,ml,mh,hi blower slow", "key run, hi B1+ to B1- 14.10V",
                       "key run, hi, unplug C304  C304.1 to B1- 14.05V", "key run, off  C101.4@542 to B1- 14.10V"});
    const NextAnswer answer = next_tests(solver(), cab_blower(), job);
    REQUIRE_FALSE(answer.tests.empty());
    const std::string first = written(answer.tests.front());
    INFO(all_tests(answer));
    CHECK(first.find("off") != 0);
    CHECK(first.find("unplug") == std::string::npos);
    const auto named = [&](const std::string& id) {
        return std::any_of(answer.notes.begin(), answer.notes.end(), [&](const std::string& note) {
            return note.find("reading " + id + " was taken with next to no current") != std::string::npos;
        });
    };
    CHECK(named("3"));
    CHECK(named("4"));
    CHECK_FALSE(named("2"));  // the battery's own volts
    CHECK(answer.tests.front().can_see.find("ohm or more") != std::string::npos);
}

TEST_CASE("every proposed test parts the suspects that are left (property)") {
    const std::vector<std::vector<std::string>> jobs{
        {"hi blower slow"},
        {"lo blower dead", "hi blower normal"},
        {"lo,ml,mh,hi blower dead", "fuse F7 good"},
        {"fuse F7 blown at hi at once"},
        {"key run, hi M1.1 to B1- 10.2V", "key run, hi B1+ to B1- 14.1V"},
    };
    for (const auto& readings : jobs) {
        const Job job = job_of(cab_blower(), readings);
        const MatchOptions options;
        const NextAnswer answer = next_tests(solver(), cab_blower(), job, options);
        const Outlook outlook(solver(), cab_blower(), job, options);
        REQUIRE_FALSE(answer.tests.empty());
        for (const TestProposal& proposal : answer.tests) {
            const auto test =
                std::find_if(outlook.future.tests.begin(), outlook.future.tests.end(),
                             [&](const TestCandidate& one) { return one.test == in_one_position(proposal.test); });
            INFO(readings.front() << ": " << written(proposal));
            REQUIRE(test != outlook.future.tests.end());
            // Some two suspects of different repairs expect different outcomes of it; the supply's volts are what all
            // other readings lean on.
            if (test->reads_supply) continue;
            const std::vector<double> words =
                test->is_number() ? std::vector<double>{}
                                  : word_outcomes(cab_blower(), job, *outlook.weighed, *test, outlook.standings.list);
            double most = 0;
            for (std::size_t a = 0; a < outlook.standings.list.size(); ++a) {
                for (std::size_t b = 0; b < a; ++b) {
                    const Standing& one = outlook.standings.list[a];
                    const Standing& other = outlook.standings.list[b];
                    if (one.group == other.group) continue;
                    if (test->is_number()) {
                        const double sigma = instrument_sigma_at(job, test->kind, one.prediction.mean[test->cell]);
                        most = std::max(most,
                                        std::abs(one.prediction.mean[test->cell] - other.prediction.mean[test->cell]) /
                                            (2 * sigma));
                        continue;
                    }
                    for (std::size_t w = 0; w < test->words.size(); ++w)
                        most = std::max(
                            most,
                            std::abs(words[a * test->words.size() + w] - words[b * test->words.size() + w]) / 0.1);
                }
            }
            CHECK(most > 1);
        }
    }
}

TEST_CASE("a state that overheats something carries its longest safe time, or is left out") {
    // With the rotor held, mh opens the pack's limiter after less than a minute (tests of heat).
    const NextAnswer answer =
        next_tests(solver(), cab_blower(),
                   job_of(cab_blower(), {"key run, hi blower hums", "key run, hi clamp 542 73A", "fuse F7 good"}));
    bool carried = false;
    for (const TestProposal& test : answer.tests) {
        const bool middle = written(test).find("mh") == 0 || written(test).find("ml") == 0;
        const bool measured =
            written(test).find("to B1-") != std::string::npos || written(test).find("clamp") != std::string::npos;
        if (!middle || !measured) continue;
        INFO(written(test));
        const bool says = std::any_of(test.caution.begin(), test.caution.end(), [](const std::string& line) {
            return line.find("s at most") != std::string::npos;
        });
        CHECK(says);
        carried |= says;
    }
    for (const TestProposal& test : answer.tests) {
        for (const std::string& caution : test.caution) carried |= caution.find("s at most") != std::string::npos;
    }
    CHECK(carried);
}

TEST_CASE("nothing is switched on through a place that has smoked") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(), job_of(cab_blower(), {"lo,ml,mh blower dead", "look C303 melted"}));
    REQUIRE_FALSE(answer.tests.empty());
    for (const TestProposal& test : answer.tests) {
        INFO(written(test));
        for (const char* state : {"lo ", "ml ", "mh "}) CHECK(written(test).find(state) != 0);
    }
    CHECK(std::any_of(answer.notes.begin(), answer.notes.end(),
                      [](const std::string& note) { return note.find("C303 has been hot") != std::string::npos; }));
}

TEST_CASE("a blown fuse is hunted with a lamp in its seat, plug by plug, never with a new fuse") {
    const NextAnswer answer =
        next_tests(solver(), cab_blower(), job_of(cab_blower(), {"fuse F7 blown at hi at once", "hi blower dead"}));
    INFO(all_tests(answer));
    CHECK(position_of(answer, "lamp in F7") < answer.tests.size());
    for (const TestProposal& test : answer.tests) {
        CHECK(written(test).find("new F7") == std::string::npos);
        CHECK(written(test).find("jumper") == std::string::npos);
    }
}

TEST_CASE("only tools at hand are used") {
    Job job = job_of(cab_blower(), {"lo,ml,mh,hi blower slow", "key run, hi B1+ to B1- 14.05V"});
    const NextAnswer all = next_tests(solver(), cab_blower(), job);
    CHECK(position_of(all, "to B1-") < all.tests.size());
    job.tools = {Tool{"clamp", 0.02, 0.2}};
    const NextAnswer clamp_only = next_tests(solver(), cab_blower(), job);
    REQUIRE_FALSE(clamp_only.tests.empty());
    for (const TestProposal& test : clamp_only.tests) {
        INFO(written(test));
        CHECK(written(test).find("to B1-") == std::string::npos);
        CHECK(written(test).find("across") == std::string::npos);
    }
    CHECK(position_of(clamp_only, "clamp") < clamp_only.tests.size());
}

TEST_CASE("bare metal is at hand, wherever one stands") {
    const Circuit::Reach reach = cab_blower().reach_of("31");
    CHECK(reach.known);
    CHECK(reach.minutes == 0);
}
