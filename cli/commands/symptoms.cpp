#include "cli/commands/symptoms.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include "cli/commands/circuit_figures.hpp"
#include "cli/views/figures.hpp"
#include "engine/diagnosis/worker_pool.hpp"
#include "engine/solve/ngspice_session.hpp"

namespace voltfall {

namespace {

constexpr std::size_t sizes_of_a_mode = 5;
/// Jobs solved between two reports of progress: long enough to keep the workers busy.
constexpr std::size_t jobs_a_round = 240;

/// Words cross from a worker as their place in this list.
constexpr std::array<std::string_view, 10> seen_words = {"normal", "dead", "slow",     "fast",     "runs",
                                                         "dim",    "weak", "standing", "chatters", "no solution"};
constexpr std::string_view no_solution = "no solution";

double number_of_word(std::string_view word) {
    const auto at = std::find(seen_words.begin(), seen_words.end(), word);
    if (at == seen_words.end()) throw std::logic_error("no number for what a driver sees: " + std::string(word));
    return static_cast<double>(at - seen_words.begin());
}

std::string word_of_number(double number) {
    return std::string(seen_words[static_cast<std::size_t>(number)]);
}

/// One fault to be solved in all states.
struct Case {
    Fault fault;
    ListedFault listed;
};

std::vector<Case> cases_of(const Circuit& circuit) {
    std::vector<Case> cases;
    for (const ModePtr& mode : circuit.modes) {
        if (!mode->catalogued) continue;
        Fault fault;
        fault.mode = mode;
        if (!mode->size) {
            cases.push_back({fault, {mode->phrase(), std::nullopt, Unit::none, true, true}});
            continue;
        }
        const std::vector<double> sizes = sizes_tried(*mode->size);
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            fault.size = sizes[i];
            cases.push_back({fault, {mode->phrase(), sizes[i], mode->size->unit, i == 0, i + 1 == sizes.size()}});
        }
    }
    return cases;
}

/// What is solved: the states with their healthy circuits, the loads that a driver notices, the fuses.
class Bench {
public:
    static tl::expected<Bench, SolveFailure> set_up(Simulator& simulator, const Circuit& circuit, std::span<const State> states) {
        Bench bench(simulator, circuit, states);
        for (const State& state : states) {
            SettleResult settled = settle(simulator, circuit, state, {});
            if (!settled) return tl::unexpected(settled.error());
            bench.healthy_.push_back(*std::move(settled));
        }
        return bench;
    }

    /// Numbers of one case: a word a load in every state, then a flag a fuse.
    std::size_t width() const { return states_.size() * loads_.size() + fuses_.size(); }

    void solve(std::span<const Fault> faults, std::span<double> out) const {
        std::fill(out.begin(), out.end(), 0.0);
        for (std::size_t s = 0; s < states_.size(); ++s) {
            const auto words = out.subspan(s * loads_.size(), loads_.size());
            const CourseResult course = run_course(simulator_, circuit_, states_[s], faults);
            if (!course) {
                std::fill(words.begin(), words.end(), number_of_word(no_solution));
                continue;
            }
            for (std::size_t l = 0; l < loads_.size(); ++l)
                words[l] = number_of_word(load_state(course->end(), loads_[l], &healthy_[s]).seen);
            for (std::size_t f = 0; f < fuses_.size(); ++f)
                if (std::find(course->opened.begin(), course->opened.end(), fuses_[f]) != course->opened.end())
                    out[states_.size() * loads_.size() + f] = 1;
        }
    }

    Symptom symptom(std::span<const double> numbers) const {
        Symptom symptom;
        for (std::size_t s = 0; s < states_.size(); ++s) {
            std::string text;
            for (std::size_t l = 0; l < loads_.size(); ++l) {
                const std::string word = word_of_number(numbers[s * loads_.size() + l]);
                if (l > 0) text += ", ";
                text += loads_.size() == 1 ? word : circuit_.part(loads_[l]).name + " " + word;
            }
            symptom.seen.emplace_back(states_[s].label, text);
        }
        for (std::size_t f = 0; f < fuses_.size(); ++f)
            if (numbers[states_.size() * loads_.size() + f] != 0)
                symptom.fuses.push_back(circuit_.part(fuses_[f]).name);
        return symptom;
    }

private:
    Bench(Simulator& simulator, const Circuit& circuit, std::span<const State> states)
        : simulator_(simulator), circuit_(circuit), states_(states), loads_(noticed_loads(circuit)) {
        for (std::size_t i = 0; i < circuit.parts.size(); ++i)
            if (circuit.parts[i].fuse) fuses_.push_back({static_cast<std::uint32_t>(i)});
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    std::span<const State> states_;
    std::vector<PartId> loads_;
    std::vector<PartId> fuses_;
    std::vector<Settled> healthy_;
};

void put_into_group(std::vector<SymptomGroup>& groups, Symptom symptom, ListedFault fault) {
    for (SymptomGroup& group : groups)
        if (group.symptom == symptom) {
            group.faults.push_back(std::move(fault));
            return;
        }
    groups.push_back({std::move(symptom), {std::move(fault)}});
}

}  // namespace

std::vector<double> sizes_tried(const SizeRange& range) {
    std::vector<double> sizes;
    for (std::size_t i = 0; i < sizes_of_a_mode; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(sizes_of_a_mode - 1);
        const double size = range.logarithmic && range.low > 0 ? range.low * std::pow(range.high / range.low, share)
                                                               : range.low + (range.high - range.low) * share;
        sizes.push_back(range.logarithmic ? significant(size, 2) : significant(size, 3));
    }
    return sizes;
}

tl::expected<Symptom, SolveFailure> healthy_symptom(Simulator& simulator, const Circuit& circuit, std::span<const State> states) {
    const auto bench = Bench::set_up(simulator, circuit, states);
    if (!bench) return tl::unexpected(bench.error());
    std::vector<double> numbers(bench->width());
    bench->solve({}, numbers);
    return bench->symptom(numbers);
}

std::vector<SymptomGroup> group_by_symptom(Simulator& simulator, const Circuit& circuit, std::span<const State> states,
                                           const Symptom& healthy, int workers, const ProgressReport& report) {
    const auto bench = Bench::set_up(simulator, circuit, states);
    if (!bench) throw std::logic_error("the healthy circuit was solved before and is not now");
    const std::vector<Case> cases = cases_of(circuit);
    std::vector<SymptomGroup> groups;
    for (std::size_t first = 0; first < cases.size(); first += jobs_a_round) {
        const std::size_t count = std::min(jobs_a_round, cases.size() - first);
        const std::vector<double> numbers =
            run_jobs(count, bench->width(), workers, [&](std::size_t job, std::span<double> out) {
                bench->solve(std::span(&cases[first + job].fault, 1), out);
            });
        for (std::size_t i = 0; i < count; ++i)
            put_into_group(groups, bench->symptom(std::span(numbers).subspan(i * bench->width(), bench->width())),
                           cases[first + i].listed);
        report(first + count, cases.size());
    }
    std::stable_partition(groups.begin(), groups.end(),
                          [&](const SymptomGroup& group) { return group.symptom != healthy; });
    return groups;
}

}  // namespace voltfall
