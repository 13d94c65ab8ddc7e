#include "tests/tools/probing.hpp"

#include <algorithm>
#include <map>
#include <optional>

#include "engine/diagnosis/priors.hpp"
#include "engine/planning/sequencing.hpp"
#include "engine/planning/test_candidates.hpp"
#include "engine/planning/test_minutes.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall {

namespace {

/// Branches and joints that a change touches.
void touched_by(const Change& change, std::vector<BranchId>& branches, std::vector<JointId>& joints) {
    std::visit(
        [&](const auto& one) {
            using Kind = std::decay_t<decltype(one)>;
            if constexpr (requires { one.branch; }) branches.push_back(one.branch);
            if constexpr (std::is_same_v<Kind, Connect>) joints.push_back(one.a);
        },
        change);
}

PartId first_load(const Circuit& circuit) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const BranchId load = circuit.parts[i].load_branch;
        if (load.valid() && !circuit.parts[i].relay) return {i};
    }
    return {};
}

}  // namespace

ProbedPath::ProbedPath(const Circuit& circuit) : circuit_(circuit) {
    const PartId load = first_load(circuit);
    const SettleResult settled = settle(testing::solver(), circuit, default_states(circuit).back(), {});
    if (!load.valid() || !settled) return;
    const LoadPath path = load_path(settled->network, load);
    std::vector<BranchId> way = path.feed;
    way.push_back(circuit.part(load).load_branch);
    way.insert(way.end(), path.back.begin(), path.back.end());
    const Priors priors = priors_of(circuit, Job{});
    sections_.emplace_back();
    for (std::size_t i = 0; i < way.size(); ++i) {
        if (way[i].index >= circuit.branches.size()) continue;
        sections_.back().branches.push_back(way[i]);
        sections_.back().has_load |= way[i] == circuit.part(load).load_branch;
        if (i + 1 == way.size() || way[i + 1].index >= circuit.branches.size()) continue;
        const Branch& here = circuit.branch(way[i]);
        const Branch& next = circuit.branch(way[i + 1]);
        const JointId joint = here.a == next.a || here.a == next.b ? here.a : here.b;
        if (circuit.joint(joint).access != Access::open || joint == circuit.reference) continue;
        joints_.push_back(joint);
        sections_.emplace_back();
    }
    for (std::size_t m = 0; m < circuit.modes.size(); ++m) {
        if (const auto section = section_of(*circuit.modes[m])) sections_[*section].prior += priors.modes[m];
    }
    plan_best();
}

std::optional<std::size_t> ProbedPath::section_of(const FaultMode& mode) const {
    std::vector<BranchId> branches;
    std::vector<JointId> joints;
    if (!mode.changes) return std::nullopt;
    for (const Change& change : mode.changes(mode.size ? mode.size->usual : 0, 0.5))
        touched_by(change, branches, joints);
    for (std::size_t s = 0; s < sections_.size(); ++s) {
        for (const BranchId id : sections_[s].branches) {
            if (std::find(branches.begin(), branches.end(), id) != branches.end()) return s;
            for (const JointId joint : joints) {
                if (circuit_.branch(id).a == joint || circuit_.branch(id).b == joint) return s;
            }
        }
    }
    return std::nullopt;
}

/// Minutes of volts at a joint, strip-down that is still to do included.
double ProbedPath::paid(std::size_t joint, std::vector<std::string>& reached) const {
    TestCandidate test;
    test.places = {circuit_.joint(joints_[joint]).place};
    double minutes = default_value("minutes_volts");
    for (const Opening& opening : openings_of(circuit_, test, reached)) minutes += opening.minutes;
    add_reached(circuit_, reach_place(circuit_, test.places.front()), reached);
    return minutes;
}

/// The load's two ends, then joint by joint towards the post behind which the fault lies.
double ProbedPath::walk_out(std::size_t section) const {
    std::vector<std::string> reached;
    std::size_t load = 0;
    while (load + 1 < sections_.size() && !sections_[load].has_load) ++load;
    double minutes = 0;
    if (load > 0) {
        minutes += paid(load - 1, reached);
        if (section < load) {
            for (std::size_t j = load - 1; j > section; --j) minutes += paid(j - 1, reached);
            if (section > 0 && section + 1 == load) minutes += paid(section - 1, reached);
            return minutes;
        }
    }
    if (load < joints_.size()) minutes += paid(load, reached);
    for (std::size_t j = load + 1; j <= section && j < joints_.size(); ++j) minutes += paid(j, reached);
    return minutes;
}

double ProbedPath::halve(std::size_t section) const {
    std::vector<std::string> reached;
    std::size_t first = 0;
    std::size_t last = sections_.size() - 1;
    double minutes = 0;
    while (first < last) {
        const std::size_t joint = (first + last) / 2;
        minutes += paid(joint, reached);
        if (section <= joint)
            last = joint;
        else
            first = joint + 1;
    }
    return minutes;
}

void ProbedPath::plan_best() {
    SequencingProblem problem;
    problem.exact_up_to = 24;
    std::map<std::string, std::size_t> openings;
    for (std::size_t s = 0; s < sections_.size(); ++s) {
        problem.weights.push_back(std::max(sections_[s].prior, 1e-6));
        problem.groups.push_back(s);
    }
    for (std::size_t j = 0; j < joints_.size(); ++j) {
        SequencingTest test;
        test.minutes = default_value("minutes_volts");
        test.outcomes = 2;
        TestCandidate candidate;
        candidate.places = {circuit_.joint(joints_[j]).place};
        for (const Opening& opening : openings_of(circuit_, candidate, {})) {
            const auto [entry, added] = openings.try_emplace(opening.name, openings.size());
            if (added) problem.opening_minutes.push_back(opening.minutes);
            test.openings.push_back(entry->second);
        }
        for (std::size_t s = 0; s < sections_.size(); ++s) {
            test.likelihood.push_back(s <= j ? 1 : 0);
            test.likelihood.push_back(s <= j ? 0 : 1);
        }
        problem.tests.push_back(std::move(test));
    }
    const SequencingPlan plan = plan_sequence(problem);
    for (std::size_t s = 0; s < sections_.size(); ++s) {
        double minutes = 0;
        const SequencingNode* node = plan.root.get();
        while (node && node->test) {
            minutes += node->minutes;
            const std::size_t outcome = s <= *node->test ? 0 : 1;
            const SequencingNode* then = nullptr;
            for (const SequencingNode::Branch& branch : node->branches) {
                if (branch.outcome == outcome) then = branch.then.get();
            }
            node = then;
        }
        best_.push_back(minutes);
    }
}

ProbingMinutes ProbedPath::minutes_for(std::size_t section) const {
    return {walk_out(section), halve(section), best_[section]};
}

}  // namespace voltfall
