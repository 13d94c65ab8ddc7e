#include "engine/planning/outlook.hpp"
#include "engine/planning/test_minutes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/diagnosis/repair_chances.hpp"
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
        if (leader.mode) predictor.confirm(leader.mode, {leader.best.size, leader.best.where, leader.world()}, states);
    }
}

std::vector<std::string> Outlook::repairs_of(const RepairGroup& group) const {
    struct Visit {
        std::string name;
        double probability;
        double worth;  ///< probability a minute of getting there
    };
    std::vector<Visit> places;
    for (const std::size_t i : group.suspects) {
        if (!suspect(i).mode) continue;
        const std::string name = visited_place(circuit, *suspect(i).mode);
        const double minutes = circuit.reach_of(reach_place(circuit, suspect(i).mode->place)).minutes;
        const double worth = suspect(i).probability / std::max(minutes, 1.0);
        const auto known = std::find_if(places.begin(), places.end(), [&](const Visit& p) { return p.name == name; });
        if (known == places.end()) {
            places.push_back({name, suspect(i).probability, worth});
        } else {
            known->probability += suspect(i).probability;
            known->worth += worth;
        }
    }
    std::erase_if(places, [&](const Visit& p) { return p.probability < worth_naming * group.probability; });
    std::stable_sort(places.begin(), places.end(), [](const Visit& a, const Visit& b) { return a.worth > b.worth; });
    std::vector<std::string> names;
    for (Visit& place : places) names.push_back(std::move(place.name));
    return names;
}

std::string Outlook::repair_of(const RepairGroup& group) const {
    return fmt::format("{}", fmt::join(repairs_of(group), " or "));
}

}  // namespace voltfall
