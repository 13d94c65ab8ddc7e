// The plan: its minutes by simulation, and what a person must be able to rely on.
#include <cmath>
#include <functional>
#include <optional>
#include <random>
#include <set>

#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "engine/planning/plan.hpp"
#include "engine/planning/sequencing.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

/// "Dead on every speed, fuse good", the engine running and its volts known.
Job dead_on_every_speed() {
    return job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "fuse F7 good", "key run, hi B1+ to B1- 14.05V"});
}

void each_node(const PlanNode& node, const std::function<void(const PlanNode&)>& visit) {
    visit(node);
    for (const PlanNode::Branch& branch : node.branches) each_node(*branch.then, visit);
}

/// A technician who takes the tree's tests on a vehicle drawn at random.
class Walk {
public:
    explicit Walk(const Outlook& outlook) : outlook_(outlook) {
        for (const Standing& standing : outlook.standings.list) weights_.push_back(standing.weight);
        draw_ = std::discrete_distribution<std::size_t>(weights_.begin(), weights_.end());
    }

    /// Minutes until the tree ends, and whether it ends at the right repair.
    std::pair<double, bool> once(const PlanNode& root) {
        const std::size_t standing = draw_(random_);
        const PlanNode* node = &root;
        double minutes = 0;
        while (node->test) {
            minutes += node->minutes;
            const PlanNode* then = nullptr;
            for (const PlanNode::Branch& branch : node->branches) {
                if (then == nullptr && matches(branch, *node->test, standing)) then = branch.then.get();
            }
            seen_.clear();
            if (then == nullptr) return {minutes, false};  // a rare outcome that the tree does not show
            node = then;
        }
        const RepairGroup& group = outlook_.standings.groups[outlook_.standings.list[standing].group];
        return {minutes, node->repair == outlook_.repair_of(group)};
    }

private:
    const TestCandidate& candidate_of(const Test& wanted) const {
        for (const TestCandidate& test : outlook_.future.tests) {
            if (test.test == wanted) return test;
        }
        FAIL("no test " << write_test(outlook_.circuit, wanted));
        return outlook_.future.tests.front();
    }

    bool matches(const PlanNode::Branch& branch, const Test& taken, std::size_t standing) {
        const TestCandidate& test = candidate_of(taken);
        if (branch.outcome == "any reading") return true;
        if (!test.is_number()) {
            const std::string& word = seen_.empty() ? draw_word(test, standing) : seen_;
            return word == branch.outcome;
        }
        if (seen_.empty()) draw_number(test, standing);
        return (!branch.from || number_ > *branch.from) && (!branch.to || number_ <= *branch.to);
    }

    const std::string& draw_word(const TestCandidate& test, std::size_t standing) {
        const std::vector<double> all =
            word_outcomes(outlook_.circuit, outlook_.job, *outlook_.weighed, test, outlook_.standings.list);
        const auto first = all.begin() + static_cast<std::ptrdiff_t>(standing * test.words.size());
        std::discrete_distribution<std::size_t> words(first, first + static_cast<std::ptrdiff_t>(test.words.size()));
        return seen_ = test.words[words(random_)];
    }

    void draw_number(const TestCandidate& test, std::size_t standing) {
        const Prediction& p = outlook_.standings.list[standing].prediction;
        const double mean = p.mean[test.cell];
        const double own = std::max(p.variance[test.cell] - p.supply_variance[test.cell], 0.0);
        const double sigma = std::hypot(std::sqrt(own), instrument_sigma_at(outlook_.job, test.kind, mean));
        number_ = std::normal_distribution<double>(mean, sigma)(random_);
        std::uniform_real_distribution<double> chance(0, 1);
        const bool probe = test.kind == TestKind::volts && !test.reads_supply;
        if (probe && chance(random_) < test.no_touch) {
            number_ = std::normal_distribution<double>(0, 0.02)(random_);
        } else if (chance(random_) < measured_default("wrong_reading")) {
            number_ =
                std::uniform_real_distribution<double>(0, 14)(random_);  // any outcome; the plan takes them as equal
        }
        seen_ = "number";
    }

    const Outlook& outlook_;
    std::vector<double> weights_;
    std::discrete_distribution<std::size_t> draw_;
    std::mt19937 random_{20};
    std::string seen_;
    double number_{};
};

}  // namespace

TEST_CASE("the plan's minutes and its share of right repairs are those of a simulated technician") {
    const Job job = dead_on_every_speed();
    const MatchOptions options;
    const PlanAnswer plan = plan_tests(solver(), cab_blower(), job, options);
    REQUIRE(plan.tree);
    const Outlook outlook(solver(), cab_blower(), job, options);
    Walk walk(outlook);
    double minutes = 0;
    double right = 0;
    constexpr int vehicles = 20'000;
    double longest = 0;
    for (int i = 0; i < vehicles; ++i) {
        const auto [spent, good] = walk.once(*plan.tree);
        minutes += spent / vehicles;
        right += (good ? 1.0 : 0.0) / vehicles;
        longest = std::max(longest, spent);
    }
    // Rare repairs and rare outcomes are not in the tree: 5 %.
    CHECK(minutes == Approx(plan.expected_minutes).epsilon(0.05));
    CHECK(right == Approx(plan.right).margin(0.05));
    CHECK(right > 0.8);
    CHECK(longest <= plan.worst_minutes + 15);
}

TEST_CASE("a plan ends at repairs, its outcomes sum to one, and no test stands twice on one way") {
    const PlanAnswer plan = plan_tests(solver(), cab_blower(), dead_on_every_speed());
    REQUIRE(plan.tree);
    each_node(*plan.tree, [](const PlanNode& node) {
        if (!node.test) {
            CHECK(node.branches.empty());
            CHECK(node.probability > 0);
            return;
        }
        double sum = 0;
        for (const PlanNode::Branch& branch : node.branches) sum += branch.probability;
        CHECK(sum > 0.9);  // what is rarer than least_shown is left out
        CHECK(sum < 1 + 1e-6);
        CHECK(node.branches.size() >= 1);
    });
    const std::function<void(const PlanNode&, std::set<std::string>)> walk = [&](const PlanNode& node,
                                                                                 std::set<std::string> taken) {
        if (!node.test) return;
        INFO(write_test(cab_blower(), *node.test));
        CHECK(taken.insert(write_test(cab_blower(), *node.test)).second);
        for (const PlanNode::Branch& branch : node.branches) walk(*branch.then, taken);
    };
    walk(*plan.tree, {});
    CHECK(plan.expected_minutes > 0);
    CHECK(plan.expected_minutes <= plan.worst_minutes);
}

TEST_CASE("where the supply is unknown the plan reads it first if other tests gain by it, and says so") {
    const PlanAnswer plan =
        plan_tests(solver(), cab_blower(), job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "fuse F7 good"}));
    REQUIRE(plan.tree);
    const bool reads_it = write_test(cab_blower(), *plan.tree->test).find("B1+ to B1-") != std::string::npos;
    const bool says_so = std::any_of(plan.notes.begin(), plan.notes.end(), [](const std::string& note) {
        return note.find("the supply is unknown") != std::string::npos;
    });
    CHECK(reads_it == says_so);
    CHECK(reads_it == (plan.tree->branches.size() == 1));
}

TEST_CASE("strip-down is paid once on every way") {
    const PlanAnswer plan = plan_tests(
        solver(), cab_blower(), job_of(cab_blower(), {"lo,ml,mh,hi blower slow", "key run, hi B1+ to B1- 14.05V"}));
    REQUIRE(plan.tree);
    // Each of the glovebox's places costs its own minute only once one of them is open.
    int paid_at_all = 0;
    const std::function<void(const PlanNode&, int)> walk = [&](const PlanNode& node, int paid) {
        if (!node.test) return;
        const bool behind_it = write_test(cab_blower(), *node.test).find("C304") != std::string::npos ||
                               write_test(cab_blower(), *node.test).find("C303") != std::string::npos;
        if (behind_it && node.minutes > 4) ++paid;
        CHECK(paid <= 1);
        paid_at_all = std::max(paid_at_all, paid);
        for (const PlanNode::Branch& branch : node.branches) walk(*branch.then, paid);
    };
    walk(*plan.tree, 0);
    CHECK(paid_at_all == 1);
}

namespace {

/// Is the test one control turned through several of its positions?
bool turns_through(const Test& test) {
    return test.state.settings.size() == 1 && test.state.settings.front().positions.size() > 1;
}

struct First {
    std::optional<Test> of_plan;
    std::optional<Test> of_next;
};

First first_of(const std::string& file, const std::vector<std::string>& readings) {
    const JobReading reading = read_job_file(std::string(PROJECT_DIR) + "/scenarios/" + file);
    REQUIRE(reading.job);
    const Job job = readings.empty() ? *reading.job : job_of(*reading.circuit, readings);
    const MatchOptions options;
    const std::shared_ptr<const Weighed> weighed = weigh(solver(), *reading.circuit, job, options);
    const NextAnswer next = next_tests(solver(), *reading.circuit, job, options, weighed);
    const PlanAnswer plan = plan_tests(solver(), *reading.circuit, job, options, weighed);
    REQUIRE(plan.tree);
    First first{plan.tree->test, std::nullopt};
    if (!next.tests.empty()) first.of_next = next.tests.front().test;
    return first;
}

}  // namespace

TEST_CASE("a plan begins with the switch turned through its positions exactly where next does") {
    int begins = 0;
    for (const char* file :
         {"starters/feed-side-pack.toml", "starters/low-side-pack.toml", "starters/module-pwm.toml",
          "starters/brushless.toml", "starters/door-actuator.toml", "starters/two-speed-coil.toml",
          "bookmobile/cab-blower.toml", "bookmobile/rear-blower.toml", "bookmobile/weak-air.job.toml"}) {
        for (const std::vector<std::string>& readings : {std::vector<std::string>{}, {"key run B1+ to B1- 14.1V"}}) {
            INFO(file << " with " << readings.size());
            const First first = first_of(file, readings);
            const bool next_turns = first.of_next && turns_through(*first.of_next);
            const bool plan_turns = first.of_plan && turns_through(*first.of_plan);
            CHECK(plan_turns == next_turns);
            if (next_turns && plan_turns) CHECK(*first.of_plan == *first.of_next);
            begins += next_turns ? 1 : 0;
        }
    }
    CHECK(begins >= 6);
}

TEST_CASE("behind the switch turned through its positions a plan has a way for each thing that may be seen") {
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/starters/feed-side-pack.toml");
    REQUIRE(reading.job);
    const PlanAnswer plan = plan_tests(solver(), *reading.circuit, job_of(*reading.circuit, {}), {});
    REQUIRE(plan.tree);
    REQUIRE(plan.tree->test);
    CHECK(write_test(*reading.circuit, *plan.tree->test).starts_with("lo, ml, mh, hi"));
    CHECK(plan.tree->minutes == 0);
    std::set<std::string> seen;
    double sum = 0;
    for (const PlanNode::Branch& branch : plan.tree->branches) {
        CHECK(seen.insert(branch.outcome).second);
        CHECK(branch.probability >= least_shown);
        sum += branch.probability;
        // None of the positions is looked at by itself again.
        each_node(*branch.then, [&](const PlanNode& node) {
            if (node.test) CHECK_FALSE(std::holds_alternative<LoadTest>(node.test->tested));
        });
    }
    // Patterns that are rarer each are entered and asked anew.
    CHECK(sum > 0.6);
    CHECK(seen.contains("dead"));
    CHECK(std::any_of(seen.begin(), seen.end(), [](const std::string& outcome) {
        return outcome.find("dead in lo, ml, mh") != std::string::npos;
    }));
    // Once it is known how it goes, there is nothing to turn.
    const PlanAnswer known = plan_tests(solver(), *reading.circuit,
                                        job_of(*reading.circuit, {"lo,ml,mh blower dead", "hi blower normal"}), {});
    REQUIRE(known.tree->test);
    CHECK_FALSE(turns_through(*known.tree->test));
}

TEST_CASE("a first test that is given is taken first, whatever it tells, and the rest is the best way from there") {
    // Two groups as likely, parted for sure by a test of 2 minutes; the first one given, of 1 minute, tells nothing.
    SequencingProblem problem;
    problem.weights = {0.5, 0.5};
    problem.groups = {0, 1};
    problem.tests = {{1, {}, 2, {0.5, 0.5, 0.5, 0.5}}, {2, {}, 2, {1, 0, 0, 1}}};
    problem.wrong_minutes = 100;
    CHECK(plan_sequence(problem).root->test == 1);
    CHECK(plan_sequence(problem).cost == Approx(2));
    problem.first = 0;
    const SequencingPlan plan = plan_sequence(problem);
    CHECK(plan.root->test == 0);
    REQUIRE(plan.root->branches.size() == 2);
    CHECK(plan.root->branches.front().then->test == 1);
    CHECK(plan.cost == Approx(3));
    CHECK(plan.root->expected == Approx(3));
}
