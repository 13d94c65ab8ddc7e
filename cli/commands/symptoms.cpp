#include "cli/commands/symptoms.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "cli/commands/circuit_figures.hpp"
#include "cli/views/figures.hpp"
#include "engine/solve/jobs.hpp"

namespace voltfall {

namespace {

constexpr std::size_t sizes_of_a_mode = 5;
/// Modes solved between two reports of progress: long enough to keep the workers busy.
constexpr std::size_t modes_a_round = 64;
constexpr std::string_view no_solution = "no solution";

/// One mode of the catalogue at the sizes tried.
struct Case {
    std::vector<Fault> faults;
    std::vector<ListedFault> listed;
};

std::vector<Case> cases_of(const Circuit& circuit) {
    std::vector<Case> cases;
    for (const ModePtr& mode : circuit.modes) {
        if (!mode->catalogued) continue;
        Case& one = cases.emplace_back();
        Fault fault;
        fault.mode = mode;
        if (!mode->size) {
            one.faults.push_back(fault);
            one.listed.push_back({mode->phrase(), std::nullopt, Unit::none, true, true});
            continue;
        }
        const std::vector<double> sizes = sizes_tried(*mode->size);
        for (std::size_t i = 0; i < sizes.size(); ++i) {
            fault.size = sizes[i];
            one.faults.push_back(fault);
            one.listed.push_back({mode->phrase(), sizes[i], mode->size->unit, i == 0, i + 1 == sizes.size()});
        }
    }
    return cases;
}

/// What is solved: the states with their healthy circuits, the loads that a driver notices, the fuses.
class Bench {
public:
    static tl::expected<Bench, SolveFailure> set_up(Simulator& simulator, const Circuit& circuit,
                                                    std::span<const State> states) {
        Bench bench(simulator, circuit, states);
        for (const State& state : states) {
            SettleResult settled = settle(simulator, circuit, state, {});
            if (!settled) return tl::unexpected(settled.error());
            bench.healthy_.push_back(*std::move(settled));
        }
        return bench;
    }

    /// What each list of faults would show, the lists being much alike: the sizes of one mode.
    std::vector<SymptomPattern> symptoms(std::span<const std::span<const Fault>> lists) const {
        std::vector<SymptomPattern> symptoms(lists.size());
        std::vector<std::vector<PartId>> opened(lists.size());
        for (std::size_t s = 0; s < states_.size(); ++s) {
            std::vector<SettleCase> cases;
            for (const auto& faults : lists) cases.push_back({&states_[s], faults, {}});
            const std::vector<CourseResult> courses = run_courses(simulator_, circuit_, cases);
            for (std::size_t i = 0; i < lists.size(); ++i) {
                symptoms[i].seen.emplace_back(states_[s].label, words(courses[i], s));
                if (courses[i]) opened[i].insert(opened[i].end(), courses[i]->opened.begin(), courses[i]->opened.end());
            }
        }
        for (std::size_t i = 0; i < lists.size(); ++i) {
            for (const PartId fuse : fuses_) {
                if (std::find(opened[i].begin(), opened[i].end(), fuse) != opened[i].end())
                    symptoms[i].fuses.push_back(circuit_.part(fuse).name);
            }
        }
        return symptoms;
    }

private:
    Bench(Simulator& simulator, const Circuit& circuit, std::span<const State> states)
        : simulator_(simulator), circuit_(circuit), states_(states), loads_(noticed_loads(circuit)) {
        for (std::size_t i = 0; i < circuit.parts.size(); ++i)
            if (circuit.parts[i].fuse) fuses_.push_back({static_cast<std::uint32_t>(i)});
    }

    /// "slow", or "M1 slow, A1 dead" where the circuit has several loads.
    std::string words(const CourseResult& course, std::size_t state) const {
        std::string text;
        for (const PartId load : loads_) {
            const std::string word(course ? word_of(load_state(course->end(), load, &healthy_[state]).seen)
                                          : std::string_view(no_solution));
            if (!text.empty()) text += ", ";
            text += loads_.size() > 1 ? circuit_.part(load).name + " " + word : word;
        }
        return text;
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    std::span<const State> states_;
    std::vector<PartId> loads_;
    std::vector<PartId> fuses_;
    std::vector<Settled> healthy_;
};

void put_into_group(std::vector<SymptomGroup>& groups, SymptomPattern symptom, ListedFault fault) {
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

tl::expected<SymptomPattern, SolveFailure> healthy_symptom(Simulator& simulator, const Circuit& circuit,
                                                           std::span<const State> states) {
    const auto bench = Bench::set_up(simulator, circuit, states);
    if (!bench) return tl::unexpected(bench.error());
    const std::span<const Fault> none;
    return bench->symptoms(std::span(&none, 1)).front();
}

std::vector<SymptomGroup> group_by_symptom(Simulator& simulator, const Circuit& circuit, std::span<const State> states,
                                           const SymptomPattern& healthy, int workers, const ProgressReport& report) {
    const auto bench = Bench::set_up(simulator, circuit, states);
    if (!bench) throw std::logic_error("the healthy circuit was solved before and is not now");
    const std::vector<Case> cases = cases_of(circuit);
    std::vector<SymptomGroup> groups;
    for (std::size_t first = 0; first < cases.size(); first += modes_a_round) {
        const std::size_t count = std::min(modes_a_round, cases.size() - first);
        std::vector<std::vector<SymptomPattern>> symptoms(count);
        run_jobs(count, workers, [&](std::size_t job) {
            std::vector<std::span<const Fault>> lists;
            for (const Fault& fault : cases[first + job].faults) lists.emplace_back(&fault, 1);
            symptoms[job] = bench->symptoms(lists);
        });
        for (std::size_t job = 0; job < count; ++job) {
            const Case& one = cases[first + job];
            for (std::size_t i = 0; i < one.listed.size(); ++i)
                put_into_group(groups, std::move(symptoms[job][i]), one.listed[i]);
        }
        report("solving", first + count, cases.size());
    }
    std::stable_partition(groups.begin(), groups.end(),
                          [&](const SymptomGroup& group) { return group.symptom != healthy; });
    return groups;
}

}  // namespace voltfall
