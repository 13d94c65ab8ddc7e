#include "engine/planning/outlook.hpp"
#include "engine/planning/test_minutes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/diagnosis/repair_chances.hpp"
#include "engine/diagnosis/suspect_trials.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/planning/idle_tests.hpp"

namespace voltfall {

namespace {

/// A place that has less of what a group shares is not named beside the others.
constexpr double worth_naming = 0.05;

}  // namespace

Outlook::Outlook(Simulator& simulator_, const Circuit& circuit_, const Job& job_, const MatchOptions& options_,
                 std::shared_ptr<const Weighed> weighed_)
    : simulator(simulator_),
      circuit(circuit_),
      job(job_),
      options(options_),
      weighed(std::move(weighed_)),
      future(future_of(simulator_, circuit_, job_, *weighed)),
      predictor(simulator_, future.questions, options_.dictionary),
      standings(standings_of(simulator_, circuit_, *weighed, future, predictor, options_)),
      dangers(simulator_, circuit_, job_, *weighed, future, standings),
      reached(reached_places(circuit_, job_)) {
    std::vector<bool> forbidden;
    for (const TestCandidate& test : future.tests) forbidden.push_back(dangers.forbids(test));
    replace_forbidden_tests(future, forbidden);
    std::erase_if(future.tests,
                  [&](const TestCandidate& test) { return dangers.forbids(test) || repeats_known_amps(test); });
    // Places in the list have moved.
    for (TestCandidate& test : future.tests) test.read_in.reset();
}

bool Outlook::repeats_known_amps(const TestCandidate& test) const {
    constexpr double same_amps = 0.1;  // the last digit of a clamp
    if (test.kind != TestKind::clamp || test.idle) return false;
    return std::any_of(future.known_amps.begin(), future.known_amps.end(), [&](std::size_t known) {
        if (future.questions.cells[known].state != test.state) return false;
        return std::all_of(standings.list.begin(), standings.list.end(), [&](const Standing& standing) {
            return std::abs(standing.prediction.mean[known] - standing.prediction.mean[test.cell]) < same_amps;
        });
    });
}

std::vector<std::string> Outlook::cautions(const TestCandidate& test) const {
    std::vector<std::string> lines = cautions_of(circuit, job, test, future.questions.states[test.state].state);
    if (const auto safe = dangers.safe_time(test)) lines.push_back(safe_time_caution(*safe));
    return lines;
}

bool Outlook::is_supply_unknown(const TestCandidate& test) const {
    return !future.questions.supplies[future.questions.states[test.state].supply].told;
}

double Outlook::bits(const TestCandidate& test, SupplyKnown supply) const {
    return bits_of(circuit, job, *weighed, test, standings, supply);
}

void Outlook::confirm(std::span<const std::size_t> tests, std::span<const std::size_t> suspects) const {
    std::set<std::size_t> asked;
    for (const std::size_t test : tests) {
        if (future.tests[test].is_number()) asked.insert(future.tests[test].state);
    }
    if (asked.empty()) return;
    const std::vector<std::size_t> states(asked.begin(), asked.end());
    predictor.confirm(nullptr, {}, states);
    for (const std::size_t i : suspects) {
        const Suspect& leader = suspect(i);
        if (leader.mode) predictor.confirm(leader.mode, SuspectTrials(circuit, leader, 1).list.front(), states);
    }
}

namespace {

/// Places that one visit mends, with what speaks for each.
class Visits {
public:
    explicit Visits(const Circuit& circuit) : circuit_(circuit) {}

    void add(const FaultMode& mode, double probability) {
        const std::string name = visited_place(circuit_, mode);
        const double minutes = circuit_.reach_of(reach_place(circuit_, mode.place)).minutes;
        const double worth = probability / std::max(minutes, 1.0);
        const auto known = std::find_if(visits_.begin(), visits_.end(), [&](const Visit& v) { return v.name == name; });
        if (known == visits_.end()) {
            visits_.push_back({name, probability, worth});
        } else {
            known->probability += probability;
            known->worth += worth;
        }
    }

    bool has(const FaultMode& mode) const {
        const std::string name = visited_place(circuit_, mode);
        return std::any_of(visits_.begin(), visits_.end(), [&](const Visit& v) { return v.name == name; });
    }

    /// Those that have a fair share of `all`; the most probable a minute stands first.
    std::vector<std::string> names(double all) && {
        std::erase_if(visits_, [&](const Visit& v) { return v.probability < worth_naming * all; });
        std::stable_sort(visits_.begin(), visits_.end(),
                         [](const Visit& a, const Visit& b) { return a.worth > b.worth; });
        std::vector<std::string> names;
        for (Visit& visit : visits_) names.push_back(std::move(visit.name));
        return names;
    }

private:
    struct Visit {
        std::string name;
        double probability;
        double worth;  ///< probability a minute of getting there
    };
    const Circuit& circuit_;
    std::vector<Visit> visits_;
};

}  // namespace

std::vector<std::vector<std::string>> Outlook::repairs_of(const RepairGroup& group) const {
    const bool pair = suspect(group.suspects.front()).is_pair();
    Visits first(circuit);
    Visits second(circuit);
    for (const std::size_t i : group.suspects) {
        const Suspect& one = suspect(i);
        if (!one.mode) continue;
        const double chance = weighed->chance(i);
        if (!one.is_pair()) {
            first.add(*one.mode, chance);
            continue;
        }
        // What the pairs of a group have in common stands on one side.
        const bool turned = second.has(*one.mode) || first.has(*one.second->mode);
        first.add(turned ? *one.second->mode : *one.mode, chance);
        second.add(turned ? *one.mode : *one.second->mode, chance);
    }
    std::vector<std::vector<std::string>> repairs;
    if (auto names = std::move(first).names(group.probability); !names.empty()) repairs.push_back(std::move(names));
    if (!pair) return repairs;
    repairs.push_back(std::move(second).names(group.probability));
    if (chance_at(repairs.back()) > chance_at(repairs.front())) std::swap(repairs.front(), repairs.back());
    return repairs;
}

std::string Outlook::repair_of(const RepairGroup& group) const {
    std::vector<std::string> steps;
    for (const std::vector<std::string>& places : repairs_of(group))
        steps.push_back(fmt::format("{}", fmt::join(places, " or ")));
    return fmt::format("{}", fmt::join(steps, " and "));
}

double Outlook::chance_at(const std::vector<std::string>& places) const {
    return weighed->chance_of([&](const FaultMode& mode) {
        return std::find(places.begin(), places.end(), visited_place(circuit, mode)) != places.end();
    });
}

}  // namespace voltfall
