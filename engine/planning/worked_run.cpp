#include "engine/planning/worked_run.hpp"

#include <algorithm>

#include "netlists/phrases/loads.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class Worker {
public:
    Worker(const Circuit& circuit, Job job, Technician& technician, const WorkedOptions& options)
        : circuit_(circuit), technician_(technician), options_(options) {
        run_.job = std::move(job);
    }

    WorkedRun work() {
        const std::vector<std::string> plain = words_in("");
        for (const std::string& condition : options_.conditions) {
            if (!run_.condition.empty() || words_in(condition) == plain) continue;
            run_.condition = condition;
        }
        try_every_position();
        if (enough_) return std::move(run_);
        Simulator& simulator = technician_.simulator();
        std::shared_ptr<const Weighed> weighed = weigh(simulator, circuit_, run_.job, options_.match);
        while (true) {
            const NextAnswer next = next_tests(simulator, circuit_, run_.job, options_.match, weighed);
            run_.stop = next.stop;
            // The last reading may have settled it.
            if (run_.stop || run_.steps.size() >= options_.most_steps || !take_first(next)) break;
            if (enough_) return std::move(run_);
            weighed = weigh(simulator, circuit_, run_.job, options_.match);
        }
        run_.answer = match(simulator, circuit_, run_.job, options_.match, *weighed);
        return std::move(run_);
    }

private:
    /// The test in a condition, or as it is where none is named.
    static Test in_condition(Test test, const std::string& condition) {
        auto& made = test.state.conditions;
        if (!condition.empty() && std::find(made.begin(), made.end(), condition) == made.end())
            made.push_back(condition);
        return test;
    }

    /// Every load in every position, in the circuit's order.
    std::vector<Test> watched() const {
        std::vector<Test> tests;
        for (const StatePhrase& state : default_phrases(circuit_)) {
            for (const PartId load : loads_of(circuit_)) tests.push_back({state, LoadTest{load, {}}});
        }
        return tests;
    }

    /// How every load goes in every position under a condition; empty where that cannot be told.
    std::vector<std::string> words_in(const std::string& condition) const {
        std::vector<std::string> words;
        Technician watcher = technician_;
        for (const Test& test : watched()) {
            const auto measured = watcher.measure(in_condition(test, condition));
            words.push_back(measured ? measured->shown : std::string());
        }
        return words;
    }

    /// What works and what does not is free, and it comes first.
    void try_every_position() {
        for (const Test& test : watched()) {
            const auto measured = technician_.measure(in_condition(test, run_.condition));
            if (!measured) continue;
            add_reading(run_.job, measured->reading);
            WorkedStep step;
            step.test.test = measured->test();
            step.measured = *measured;
            keep(std::move(step));
        }
    }

    bool take_first(const NextAnswer& next) {
        for (const TestProposal& proposal : next.tests) {
            if (std::find(taken_.begin(), taken_.end(), proposal.test) != taken_.end()) continue;
            if (options_.allowed && !options_.allowed(proposal)) continue;
            // A test is taken once: a plan does not ask the same thing again.
            taken_.push_back(proposal.test);
            const auto measured = technician_.measure(in_condition(proposal.test, run_.condition));
            if (!measured) continue;
            add_reading(run_.job, measured->reading);
            run_.minutes += proposal.minutes;
            keep({proposal, *measured});
            return true;
        }
        return false;
    }

    void keep(WorkedStep step) {
        run_.steps.push_back(std::move(step));
        if (options_.enough && options_.enough(run_.steps.back())) enough_ = true;
    }

    const Circuit& circuit_;
    Technician& technician_;
    const WorkedOptions& options_;
    WorkedRun run_;
    bool enough_{false};
    std::vector<Test> taken_;  ///< or found to have no answer
};

}  // namespace

WorkedRun work_through(const Circuit& circuit, Job start, Technician& technician, const WorkedOptions& options) {
    return Worker(circuit, std::move(start), technician, options).work();
}

std::optional<std::size_t> repair_rank(const MatchAnswer& answer, const std::string& repair) {
    std::vector<std::pair<std::string, double>> groups;
    for (const Candidate& candidate : answer.candidates) {
        const auto found = std::find_if(groups.begin(), groups.end(),
                                        [&](const auto& group) { return same_word(group.first, candidate.repair); });
        if (found == groups.end())
            groups.emplace_back(candidate.repair, candidate.probability);
        else
            found->second += candidate.probability;
    }
    std::stable_sort(groups.begin(), groups.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
    const auto found =
        std::find_if(groups.begin(), groups.end(), [&](const auto& group) { return same_word(group.first, repair); });
    if (found == groups.end()) return std::nullopt;
    return static_cast<std::size_t>(found - groups.begin());
}

}  // namespace voltfall
