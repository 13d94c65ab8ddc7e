#include "engine/planning/worked_run.hpp"

#include <algorithm>
#include <set>

#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
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
        const std::string plain = words_in("");
        for (const std::string& condition : options_.conditions) {
            if (!run_.condition.empty() || words_in(condition) == plain) continue;
            run_.condition = condition;
        }
        try_every_position();
        while (run_.steps.size() < options_.most_steps) {
            const NextAnswer next = next_tests(technician_.simulator(), circuit_, run_.job, options_.match);
            run_.stop = next.stop;
            if (run_.stop || !take_first(next)) break;
        }
        run_.answer = match(technician_.simulator(), circuit_, run_.job, options_.match);
        return std::move(run_);
    }

private:
    std::optional<Reading> read(const std::string& phrase) const { return read(phrase, run_.condition); }
    std::optional<Reading> read(const std::string& phrase, const std::string& condition) const {
        Problems problems;
        const std::string lead = condition.empty() ? "" : condition + ", ";
        return read_test_phrase(TypedText::argument("test", lead + phrase), circuit_, problems);
    }

    /// How every load goes in every position under a condition, as one text.
    std::string words_in(const std::string& condition) const {
        std::string words;
        Technician watcher = technician_;
        for (const State& state : default_states(circuit_)) {
            for (const PartId load : loads_of(circuit_)) {
                const auto test = read(state.label + "  " + circuit_.part(load).name, condition);
                const auto measured = test ? watcher.measure(*test) : tl::unexpected(CannotMeasure{});
                words += measured ? measured->value + " " : "? ";
            }
        }
        return words;
    }

    bool add(const Measured& measured) {
        Problems problems;
        const std::size_t before = run_.job.readings.size();
        add_reading(run_.job, circuit_, TypedText::argument("reading", measured.reading), problems);
        return run_.job.readings.size() > before;
    }

    /// What works and what does not is free, and it comes first.
    void try_every_position() {
        for (const State& state : default_states(circuit_)) {
            for (const PartId load : loads_of(circuit_)) {
                auto test = read(state.label + "  " + circuit_.part(load).name);
                if (!test || !std::holds_alternative<LoadReading>(test->measurement)) continue;
                const auto measured = technician_.measure(*test);
                if (!measured || !add(*measured)) continue;
                WorkedStep step;
                step.test.test = measured->test;
                step.measured = *measured;
                run_.steps.push_back(std::move(step));
            }
        }
    }

    bool take_first(const NextAnswer& next) {
        for (const TestProposal& proposal : next.tests) {
            if (refused_.contains(proposal.test)) continue;
            if (options_.allowed && !options_.allowed(proposal)) continue;
            const auto test = read(proposal.test);
            const auto measured =
                test ? technician_.measure(*test) : tl::unexpected(CannotMeasure{"it cannot be read"});
            if (!measured || !add(*measured)) {
                refused_.insert(proposal.test);
                continue;
            }
            run_.minutes += proposal.minutes;
            WorkedStep step{proposal, *measured};
            // A test is taken once: a plan does not ask the same thing again.
            refused_.insert(proposal.test);
            run_.steps.push_back(std::move(step));
            return true;
        }
        return false;
    }

    const Circuit& circuit_;
    Technician& technician_;
    const WorkedOptions& options_;
    WorkedRun run_;
    std::set<std::string> refused_;
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
