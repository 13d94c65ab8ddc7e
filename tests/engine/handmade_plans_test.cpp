// Small answers made by hand: ranks of repairs, what a reading changed, sequences of tests, how the hands stand, and
// how far a diagnosis is worked.
#include "engine/planning/candidate_settings.hpp"
#include "engine/planning/harmless.hpp"
#include "engine/planning/information.hpp"
#include "engine/planning/reading_effect.hpp"
#include "engine/planning/sequencing.hpp"
#include "engine/planning/worked_run.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/lost_solves.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using voltfall::testing::state_of;

namespace {

Candidate candidate(const std::string& fault, const std::string& repair, double probability) {
    Candidate one;
    one.fault = fault;
    one.repair = repair;
    one.probability = probability;
    return one;
}

FaultPair pair_of(const std::string& first, const std::string& second, double probability) {
    FaultPair pair;
    pair.faults = {first + " 1ohm", second};
    pair.modes = {first, second};
    pair.probability = probability;
    return pair;
}

/// Two equal cases that each need a repair of their own.
SequencingProblem two_cases(std::vector<SequencingTest> tests) {
    SequencingProblem problem;
    problem.weights = {1, 1};
    problem.groups = {0, 1};
    problem.tests = std::move(tests);
    return problem;
}

}  // namespace

TEST_CASE("the rank of a repair counts each repair once, with all of its faults") {
    MatchAnswer answer;
    answer.candidates = {candidate("M1 open", "M1", 0.35), candidate("C101.4 open", "C101", 0.3),
                         candidate("c101.4 resistance", "c101", 0.2), candidate("542 open", "542", 0.1)};
    CHECK(repair_rank(answer, "C101") == 0);
    CHECK(repair_rank(answer, "M1") == 1);
    CHECK(repair_rank(answer, "542") == 2);
    CHECK_FALSE(repair_rank(answer, "G201"));
    CHECK_FALSE(repair_rank(MatchAnswer{}, "M1"));
}

TEST_CASE("what a reading changed: who is ruled out, who comes back, which pairs stand, which reading is in doubt") {
    MatchAnswer before;
    before.candidates = {candidate("A", "A", 0.6), candidate("B", "B", 0.3), candidate("C", "C", 0.001)};
    before.pairs = {pair_of("A", "B", 0.05)};
    MatchAnswer after;
    after.candidates = {candidate("C", "C", 0.2), candidate("A", "A", 0.5), candidate("B", "B", 0.001)};
    after.pairs = {pair_of("A", "B", 0.1), pair_of("A", "C", 0.15), pair_of("B", "C", 0.001)};
    after.doubtful = {{"2", 0.3}, {"4", 0.6}, {"5", 0.9}};
    const ReadingEffect effect = effect_of_reading(before, after);
    CHECK(effect.ruled_out == std::vector<std::string>{"B"});
    CHECK(effect.come_back == std::vector<std::string>{"C"});
    CHECK(effect.doubt == "4");
    REQUIRE(effect.suspects.size() == 4);
    CHECK(effect.suspects[0].fault == "A");
    CHECK(effect.suspects[1].fault == "C");
    CHECK(effect.suspects[2].fault == "A 1ohm and C");
    CHECK(effect.suspects[2].before == 0);
    CHECK(effect.suspects[3].fault == "A 1ohm and B");
    CHECK(effect.suspects[3].before == Approx(0.05));
    CHECK(effect_of_reading(before, before).doubt.empty());
    // A suspect that one of the answers does not list has no chance there.
    const ReadingEffect first = effect_of_reading({}, before);
    CHECK(first.come_back == std::vector<std::string>{"A", "B"});
    CHECK(effect_of_reading(before, {}).ruled_out == std::vector<std::string>{"A", "B"});
}

TEST_CASE("information of nothing is none, and so is the entropy of no weight") {
    CHECK(entropy(std::vector<double>{0, 0}) == 0);
    CHECK(entropy(std::vector<double>{3, 1}) == Approx(0.811278));
    CHECK(information_of_number({}, 0, {}) == 0);
    CHECK(information_of_words({}, 0, {}, 2) == 0);
    const std::vector<Possibility> two{{1, 0, 0, 0}, {1, 1, 0, 0}};
    CHECK(information_of_words(two, 2, {}, 0) == 0);
    const std::vector<Possibility> none{{0, 0, 0, 0}, {0, 1, 0, 0}};
    CHECK(information_of_words(none, 2, std::vector<double>{1, 0, 0, 1}, 2) == 0);
    CHECK(information_of_words(two, 2, std::vector<double>{1, 0, 0, 1}, 2) == Approx(1));
}

TEST_CASE("where no test tells anything the plan ends at once, whatever a wrong repair would cost") {
    const SequencingPlan plan = plan_sequence(two_cases({{1, {}, 2, {0.5, 0.5, 0.5, 0.5}}}));
    CHECK_FALSE(plan.root->test);
    CHECK(plan.cost == 0);
    CHECK(plan.root->probability == Approx(0.5));
}

TEST_CASE("an outcome that cannot happen is left out of the plan") {
    const SequencingPlan plan = plan_sequence(two_cases({{1, {}, 3, {1, 0, 0, 0, 0, 1}}}));
    REQUIRE(plan.root->test == 0);
    REQUIRE(plan.root->branches.size() == 2);
    CHECK(plan.root->branches[0].outcome == 0);
    CHECK(plan.root->branches[1].outcome == 2);
}

TEST_CASE("the rule counts what must be opened once, and ends where a way is too rare") {
    // Two tests behind one cover of 5 minutes, of which the second alone parts the cases.
    SequencingProblem problem = two_cases({{1, {0}, 2, {0.9, 0.1, 0.2, 0.8}}, {1, {0}, 2, {1, 0, 0, 1}}});
    problem.opening_minutes = {5};
    problem.wrong_minutes = 100;
    const SequencingPlan plan = plan_by_rule(problem, 60);
    REQUIRE(plan.root->test == 1);
    CHECK(plan.root->minutes == Approx(6));
    CHECK(plan.cost == Approx(6));
    // A test that leaves doubt is followed by the other, whose cover is open by then.
    problem.tests[1].likelihood = {0.8, 0.2, 0.2, 0.8};
    problem.tests[0].minutes = 0.5;
    const SequencingPlan second = plan_by_rule(problem, 60);
    REQUIRE(second.root->test == 0);
    for (const SequencingNode::Branch& branch : second.root->branches) {
        REQUIRE(branch.then->test == 1);
        CHECK(branch.then->minutes == Approx(1));
    }
    // Each way behind the first has about half of the cases.
    problem.rarest = 0.7;
    const SequencingPlan cut = plan_by_rule(problem, 60);
    REQUIRE(cut.root->test == 0);
    for (const SequencingNode::Branch& branch : cut.root->branches) CHECK_FALSE(branch.then->test);
}

TEST_CASE("a fault is harmless where no fuse opens and every load does what it should, as far as that can be told") {
    const Harmless harmless(solver(), cab_blower());
    const auto is = [&](const char* fault) { return harmless.is(faults_named(cab_blower(), fault)); };
    CHECK(harmless.is({}));
    CHECK(is("C101.4 resistance 1mohm"));
    CHECK_FALSE(is("C101.4 resistance 1ohm"));
    CHECK_FALSE(is("541 chafe 5mohm"));
    // A sound circuit or a course without a solution tells nothing.
    LostSolves first(1);
    CHECK_FALSE(Harmless(first, cab_blower()).is({}));
    long calls = 0;
    {
        LostSolves counted(1000000);
        const Harmless sound(counted, cab_blower());
        calls = counted.calls();
    }
    LostSolves course(calls + 1);
    const Harmless unsure(course, cab_blower());
    CHECK_FALSE(unsure.is(faults_named(cab_blower(), "C101.4 resistance 1mohm")));
}

TEST_CASE("two states ask the same of the hands where nothing that a hand does differs") {
    const Circuit& circuit = cab_blower();
    const auto state = [&](const std::string& phrase) { return states_of(circuit, state_of(phrase, circuit)).front(); };
    const std::string base = "key run, hi";
    CHECK(same_setting(state(base), state("key on, hi")));
    for (const char* other : {"lo", "hi, unplug C304", "hi, lamp in F7", "hi, pull K3", "hi, new F7", "hi, new C304",
                              "hi, wiggle C101", "hi, hot", "hi, load 21W M1.1 to B1-"}) {
        INFO(other);
        CHECK_FALSE(same_setting(state(base), state("key run, " + std::string(other))));
        CHECK(same_setting(state("key run, " + std::string(other)), state("key run, " + std::string(other))));
    }
    State mended = state(base);
    mended.mended = {"C101"};
    CHECK_FALSE(same_setting(state(base), mended));
}

TEST_CASE("a control is put to one position in place of the one that it was said to have") {
    StatePhrase phrase = state_of("key run, hi", cab_blower());
    const PartId control = cab_blower().find_part("S1");
    set_control(phrase, control, 1);
    CHECK(settings_of(phrase) == "S1=lo");
    StatePhrase bare = state_of("key run", cab_blower());
    set_control(bare, control, 4);
    CHECK(settings_of(bare) == "S1=hi");
}

TEST_CASE("the next test's supply is the one that is told for its key, with or without the word") {
    std::vector<Supply> supplies{supply_of(cab_blower(), KeyPosition::run, false)};
    CHECK(next_supply(cab_blower(), KeyPosition::run, supplies) == 1);  // nobody told of the first
    REQUIRE(supplies.size() == 2);
    supplies[0].told = true;
    CHECK(next_supply(cab_blower(), KeyPosition::run, supplies) == 0);
    CHECK(next_supply(cab_blower(), KeyPosition::off, supplies) == 2);
    supplies.push_back(supply_of(cab_blower(), KeyPosition::run, true));
    CHECK(next_supply(cab_blower(), KeyPosition::run, supplies) == 3);
}

TEST_CASE("only exact numbers of now are given to the tests to come") {
    const auto given = [](const std::vector<std::string>& readings) {
        const Job job = job_of(cab_blower(), readings);
        const auto weighed = weigh(solver(), cab_blower(), job, {});
        Questions future;
        future.states = weighed->questions.states;
        give_numbers(job, *weighed, future);
        return future.given.size();
    };
    const std::string plain = "key run, hi  M1.1 to B1- 10.20V";
    CHECK(given({plain}) == 1);
    for (const char* other :
         {"key run, hi  F7.2 to B1- >13V", "key run, hi  M1.1 to ? 10.2V", "earlier, key run, hi  F7.2 to B1- 14.00V",
          "sometimes, key run, hi  M1.1 to B1- 10.10V", "key run, hi  B1+ to B1- 14.10V"}) {
        INFO(other);
        CHECK(given({plain, other}) == 1);
    }
    CHECK(given({plain, "key run, hi  F7.2 to B1- 14.00V"}) == 2);
}

TEST_CASE("a diagnosis is worked as far as it is wanted, allowed and not too long") {
    const auto worked = [](const WorkedOptions& options) {
        Technician technician = exact(cab_blower(), faults_named(cab_blower(), "C101.4 open"));
        return work_through(cab_blower(), {}, technician, options);
    };
    const std::size_t free = default_states(cab_blower()).size();
    WorkedOptions at_once;
    at_once.enough = [](const WorkedStep&) { return true; };
    const WorkedRun looked = worked(at_once);
    CHECK(looked.steps.size() == free);
    CHECK(looked.minutes == 0);
    CHECK(looked.answer.candidates.empty());
    WorkedOptions none_allowed;
    none_allowed.allowed = [](const TestProposal&) { return false; };
    const WorkedRun untested = worked(none_allowed);
    CHECK(untested.steps.size() == free);
    CHECK_FALSE(untested.stop);
    CHECK_FALSE(untested.answer.candidates.empty());
    WorkedOptions one_test;
    one_test.enough = [](const WorkedStep& step) { return step.test.minutes > 0; };
    const WorkedRun tested = worked(one_test);
    CHECK(tested.steps.size() > free);
    CHECK(tested.steps.back().test.minutes > 0);
    CHECK(tested.answer.candidates.empty());
    WorkedOptions short_run;
    short_run.most_steps = free + 1;
    const WorkedRun one = worked(short_run);
    CHECK(one.steps.size() == free + 1);
    CHECK_FALSE(one.stop);
    CHECK(one.minutes > 0);
}
