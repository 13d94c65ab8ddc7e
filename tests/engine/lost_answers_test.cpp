// Solves that have no solution, wherever they stand in an answer: the answer says so or leaves the case out, and tells
// nothing that it would not tell with them.
#include <fmt/format.h>
#include <algorithm>
#include <map>
#include <set>
#include <stdexcept>

#include "engine/figures/case_deck.hpp"
#include "engine/figures/catalogue_symptoms.hpp"
#include "engine/figures/fuse_curve.hpp"
#include "engine/figures/overview.hpp"
#include "engine/figures/protection_answer.hpp"
#include "engine/figures/speed_rows.hpp"
#include "engine/figures/voltage_ladder.hpp"
#include "engine/figures/whatif.hpp"
#include "engine/planning/plan.hpp"
#include "engine/proof/proof.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const std::string told_failure = "failure: lost on purpose";

/// One solve after the other is lost, or every `step`-th of them: each answer is the right one or tells the failure.
template <class Outcome>
void check_each_lost(const Outcome& outcome, const std::string& right, long step = 1) {
    REQUIRE_FALSE(right.starts_with("failure"));
    int failures = 0;
    for (long lost = 1;; lost += step) {
        LostSolves simulator(lost);
        const std::string now = outcome(simulator);
        if (!simulator.has_lost()) break;
        INFO("solve " << lost << ": " << now);
        CHECK((now == right || now.starts_with(told_failure)));
        failures += now == right ? 0 : 1;
    }
    CHECK(failures > 0);
}

std::string words_of(const CircuitFigures& figures) {
    std::string text;
    for (const LoadFigures& load : figures.loads)
        text += fmt::format("{} {:.3f} V {:.3f} A {}; ", load.name, load.volts, load.amps, load.said);
    for (const FuseFigures& fuse : figures.fuses) text += fmt::format("{} {:.3f} A; ", fuse.name, fuse.amps);
    return text;
}

std::string words_of(const tl::expected<WhatifAnswer, StateFailure>& answer) {
    if (!answer) return fmt::format("failure: {} at {}", answer.error().failure.message, answer.error().state);
    std::string text;
    for (const WhatifState& state : answer->states) {
        text += state.state + ": " + words_of(state.healthy) + words_of(state.faulted) + words_of(state.after);
        for (const HeatEvent& event : state.aftermath) text += event.what + "; ";
        for (const LimitFigure& limit : state.limits) text += fmt::format("{} {:.3f}; ", limit.what, limit.faulted);
        if (state.lamp) text += fmt::format("lamp in {}: {} shorts; ", state.lamp->fuse, state.lamp->shorts.size());
        for (const MotorStart& motor : state.start ? state.start->motors : std::vector<MotorStart>{})
            text += fmt::format("{} peak {:.1f} A; ", motor.name, motor.peak_amps);
    }
    return text;
}

/// Faults of the catalogue by what they show, a state a word.
std::map<std::string, SymptomPattern> patterns_of(const FaultsAnswer& answer) {
    std::map<std::string, SymptomPattern> patterns;
    for (const SymptomGroup& group : answer.groups)
        for (const ListedFault& fault : group.faults)
            patterns[fmt::format("{} {}", fault.fault, fault.size.value_or(0))] = group.symptom;
    return patterns;
}

const std::vector<std::string> weak_on_high{"ml,mh,hi  M1 slow", "key run, hi  B1+ to B1-  14.10V",
                                            "key run, hi  M1.1 to B1-  10.20V", "key run, hi  clamp 542  12.4A",
                                            "fuse F7 good"};

MatchOptions by_one() {
    MatchOptions options;
    options.workers = 1;
    return options;
}

/// What the call gives with so many solves lost; nothing where it says that the sound circuit has no solution.
template <class Call>
auto unless_refused(const Call& call) -> std::optional<decltype(call())> {
    try {
        return call();
    } catch (const std::runtime_error& refused) {
        CHECK(std::string(refused.what()) == "the sound circuit has no solution in a state that the readings name");
        return std::nullopt;
    }
}

}  // namespace

TEST_CASE("whatif tells in which state a solve was lost") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    for (const char* fault : {"C101.4 resistance 0.3ohm", "542 chafe 20mohm"}) {
        WhatifQuestion question;
        question.faults = faults_named(*circuit, fault);
        question.states = {state_named(*circuit, "lo"), state_named(*circuit, "hi")};
        question.seconds = 30;
        question.start_seconds = 0.02;
        const auto outcome = [&](TransientSimulator& simulator) {
            return words_of(whatif(simulator, *circuit, question));
        };
        LostSolves whole(0);
        const std::string right = outcome(whole);
        INFO(fault);
        check_each_lost(outcome, right, 3);
        LostSolves all(1, 1);
        CHECK(outcome(all) == told_failure + " at lo");
    }
}

TEST_CASE("the catalogue's symptoms say 'no solution' where a solve was lost, and miss no fault") {
    const auto circuit = scenario_circuit("clutch.toml");
    const std::vector<State> states = default_states(*circuit);
    const auto ask = [&](Simulator& simulator) {
        return symptoms_of_catalogue(simulator, *circuit, states, 1, [](auto...) {});
    };
    const auto right = ask(solver());
    REQUIRE(right);
    const auto whole = patterns_of(*right);
    LostSolves at_start(1);
    CHECK_FALSE(ask(at_start));
    for (const long every : {5L, 29L}) {
        LostSolves simulator(40, every);
        const auto answer = ask(simulator);
        REQUIRE(answer);
        const auto patterns = patterns_of(*answer);
        REQUIRE(patterns.size() == whole.size());
        int lost = 0;
        for (const auto& [fault, pattern] : patterns) {
            const SymptomPattern& sound = whole.at(fault);
            INFO(fault);
            for (std::size_t s = 0; s < pattern.seen.size(); ++s) {
                const std::string& words = pattern.seen[s].second;
                const bool has_none = words.find("no solution") != std::string::npos;
                CHECK((has_none || words == sound.seen[s].second));
                lost += has_none ? 1 : 0;
            }
            for (const std::string& fuse : pattern.fuses)
                CHECK(std::find(sound.fuses.begin(), sound.fuses.end(), fuse) != sound.fuses.end());
        }
        CHECK(lost > 0);
    }
}

TEST_CASE("pictures are drawn of the cases that have a solution") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const std::vector<Fault> faults = faults_named(*circuit, "C101.4 resistance 0.3ohm");
    const PartId motor = circuit->find_part("M1");
    const State hi = state_named(*circuit, "hi");
    const std::vector<NamedCase> cases{{"weak", faults}};
    const VoltageLadder ladder = voltage_ladder(solver(), *circuit, hi, motor, cases, {});
    const std::vector<SpeedRow> rows = speed_rows(solver(), *circuit, faults);
    const std::vector<FuseCurve> curves = fuse_curves(solver(), *circuit, faults);
    REQUIRE(ladder.lines.size() == 2);
    REQUIRE(rows.size() == 4);
    bool no_ladder = false;
    bool no_now = false;
    bool no_running = false;
    for (long lost = 1; lost < 80; ++lost) {
        INFO("solve " << lost);
        LostSolves of_ladder(lost);
        const VoltageLadder other = voltage_ladder(of_ladder, *circuit, hi, motor, cases, {});
        for (const LadderLine& line : other.lines)
            CHECK(line.volts == ladder.lines[line.name == "sound" ? 0 : 1].volts);
        no_ladder |= other.empty();
        LostSolves of_rows(lost);
        const std::vector<SpeedRow> left = speed_rows(of_rows, *circuit, faults);
        CHECK(left.size() >= rows.size() - 1);
        for (const SpeedRow& row : left) {
            no_now |= !row.now;
            const auto same = std::find_if(rows.begin(), rows.end(),
                                           [&](const SpeedRow& one) { return one.position == row.position; });
            REQUIRE(same != rows.end());
            CHECK(row.sound.amps == same->sound.amps);
            CHECK((!row.now || row.now->amps == same->now->amps));
        }
        LostSolves of_curves(lost);
        const std::vector<FuseCurve> drawn = fuse_curves(of_curves, *circuit, faults);
        REQUIRE(drawn.size() == curves.size());
        for (std::size_t i = 0; i < drawn.size(); ++i) {
            CHECK(drawn[i].openings.size() == curves[i].openings.size());
            CHECK(drawn[i].running.value_or(0) <= curves[i].running.value_or(0));
            no_running |= drawn[i].running != curves[i].running;
        }
    }
    CHECK(no_ladder);
    CHECK(no_now);
    CHECK(no_running);
}

TEST_CASE("a deck and a judgement of fuses are refused with what was lost") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const std::vector<Fault> faults = faults_named(*circuit, "542 chafe 20mohm");
    for (const DeckMoment moment : {DeckMoment::faulted, DeckMoment::after}) {
        const auto deck = [&](Simulator& simulator) {
            const auto answer = case_deck(simulator, *circuit, state_named(*circuit, "hi"), faults, moment);
            return answer ? answer->deck : "failure: " + answer.error().message;
        };
        check_each_lost(deck, deck(solver()));
    }
    const auto clutch = scenario_circuit("clutch.toml");
    const std::vector<State> states = default_states(*clutch);
    const auto judged = [&](Simulator& simulator) {
        const auto answer = protection_answer(simulator, *clutch, states, 3);
        if (!answer) return "failure: " + answer.error().message;
        std::string text;
        for (const ProtectionGap& gap : answer->protection.gaps)
            text += fmt::format("{} {} {} {:.3g}; ", gap.fault, gap.state, gap.what, gap.seconds);
        for (const FuseGuard& fuse : answer->protection.fuses)
            for (const WireVerdict& wire : fuse.wires)
                text += fmt::format("{} {} {:.4g}; ", fuse.name, wire.wire, wire.hardest_amps);
        return text;
    };
    check_each_lost(judged, judged(solver()), 307);
}

TEST_CASE("faults without a solution are left out of a match, and said to be") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Job job = job_of(*circuit, weak_on_high);
    MatchOptions options = by_one();
    options.keep = 200;
    options.two_faults = true;
    bool told = false;
    bool refused = false;
    for (const auto& [first, every] : {std::pair{1L, 1L}, {40L, 3L}, {40L, 7L}, {41L, 31L}, {90L, 101L}, {95L, 997L}}) {
        LostSolves simulator(first, every);
        INFO(first << ", " << every);
        const auto answer = unless_refused([&] { return match(simulator, *circuit, job, options); });
        if (!answer) {
            refused = true;
            continue;
        }
        double sum = answer->none_of_these;
        for (const Candidate& candidate : answer->candidates) {
            CHECK((candidate.probability >= 0 && candidate.probability <= 1));
            sum += candidate.probability;
        }
        CHECK(sum <= 1 + 1e-6);
        for (const std::string& note : answer->notes) told |= note.find("had no solution and were left out") < 10;
    }
    CHECK(refused);
    CHECK(told);
}

TEST_CASE("tests are proposed of the suspects that have a solution, each with true numbers") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const Job job = job_of(*circuit, weak_on_high);
    LostSolves weighing(0);
    weigh(weighing, *circuit, job, by_one());
    const long weighed = weighing.calls();
    int proposed = 0;
    for (const auto& [first, every] : {std::pair{60L, 23L},
                                       {weighed / 2, 11L},
                                       {weighed + 1, 1L},
                                       {weighed + 2, 2L},
                                       {weighed + 40, 3L},
                                       {weighed + 200, 4L},
                                       {weighed + 900, 1L}}) {
        LostSolves simulator(first, every);
        INFO(first << ", " << every);
        const auto next = unless_refused([&] { return next_tests(simulator, *circuit, job, by_one()); });
        if (!next) continue;
        for (const TestProposal& test : next->tests) {
            INFO(written(test, *circuit));
            CHECK(test.minutes >= 0);
            CHECK((test.bits >= 0 && test.bits < 10));
            for (const Expectation& expected : test.expect) {
                INFO(expected.fault);
                // Nothing in this vehicle has more than its charging volts.
                const double most = expected.unit == Unit::volt ? 16 : 1e6;
                CHECK((!expected.word.empty() || (expected.low <= expected.high && expected.high < most)));
            }
            ++proposed;
        }
        LostSolves of_plan(first, every);
        const auto plan = unless_refused([&] { return plan_tests(of_plan, *circuit, job, by_one()); });
        if (!plan) continue;
        CHECK((plan->right >= 0 && plan->right <= 1 + 1e-9));
        CHECK(plan->expected_minutes <= plan->worst_minutes + 1e-9);
    }
    CHECK(proposed > 5);
}

TEST_CASE("no repair is proved by a solve that was lost") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    Job job = job_of(*circuit, weak_on_high);
    job.concern = "weak air";
    Problems problems;
    add_repaired(job, *circuit, TypedText::argument("", "C101.4 new terminal"), problems);
    const auto after = [&](const std::vector<std::string>& readings) {
        Job with = job;
        for (const std::string& reading : readings)
            add_reading_after(with, *circuit, TypedText::argument("", reading), problems);
        REQUIRE_FALSE(problems.has_errors());
        return with;
    };
    // The lowest speed was never tried again, and the ground is bad.
    const Job open = after({"ml,mh,hi  M1 normal", "key run, hi  B1+ to B1-  14.05V", "key run, hi  M1.1 to B1-  13.7V",
                            "key run, hi  clamp 542  20.3A", "key run, hi  G201 to B1-  0.9V"});
    CHECK_FALSE(prove(solver(), *circuit, open, by_one()).proved);
    // The readings are weighed first; the repair is judged by the solves behind them.
    LostSolves none(0);
    prove(none, *circuit, open, by_one());
    LostSolves weighing(0);
    weigh(weighing, *circuit, open, by_one());
    const long judging = none.calls() - weighing.calls();
    REQUIRE(judging > 50);
    int answered = 0;
    const long step = std::max(1L, judging / 8);
    for (long lost = weighing.calls(); lost < none.calls(); lost += step) {
        for (const long every : {0L, 1L}) {
            LostSolves simulator(lost, every);
            INFO(lost << ", " << every);
            const auto answer = unless_refused([&] { return prove(simulator, *circuit, open, by_one()); });
            if (!answer) continue;
            ++answered;
            CHECK_FALSE(answer->proved);
            CHECK_FALSE(answer->hand_back);
        }
    }
    CHECK(answered > 0);
}
