#include "engine/figures/across_loads.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

#include "netlists/parts/kind.hpp"

namespace voltfall {

namespace {

/// Joints that are one point to a person: what wires, plugs, splices and grounds tie together.
class Points {
public:
    explicit Points(const Circuit& circuit) : of_(circuit.joints.size()) {
        std::iota(of_.begin(), of_.end(), std::size_t{0});
        for (const Branch& branch : circuit.branches) {
            const bool ties = branch.wire.valid() || branch.sort == BranchSort::socket ||
                              branch.sort == BranchSort::tie || joins_only(circuit, branch);
            if (ties) of_[point(branch.a)] = point(branch.b);
        }
    }

    std::size_t point(JointId joint) const {
        std::size_t at = joint.index;
        while (of_[at] != at) at = of_[at];
        return at;
    }

private:
    static bool joins_only(const Circuit& circuit, const Branch& branch) {
        const Part* part = branch.part.valid() ? &circuit.part(branch.part) : nullptr;
        return part && only_joins(*part);
    }

    std::vector<std::size_t> of_;
};

/// Has it two ends and nothing that a person sets, pulls, fuses or feeds from?
bool may_stand_across(const Circuit& circuit, const Part& part, PartId id) {
    return part.pins.size() == 2 && !part.load_branch.valid() && !part.fuse && !part.relay && !only_joins(part) &&
           !circuit.is_control(id) && !has_duty(part, Duty::battery) && !has_duty(part, Duty::acting_contact);
}

}  // namespace

std::vector<std::string> parts_across(const Circuit& circuit, PartId load) {
    const Points points(circuit);
    const auto sides_of = [&](const Part& part) -> std::pair<std::size_t, std::size_t> {
        const std::size_t one = points.point(part.pins.begin()->second);
        const std::size_t other = points.point(part.pins.rbegin()->second);
        return std::pair(std::min(one, other), std::max(one, other));
    };
    std::vector<std::string> names;
    if (circuit.part(load).pins.size() != 2) return names;
    const std::pair<std::size_t, std::size_t> wanted = sides_of(circuit.part(load));
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        const PartId id{static_cast<std::uint32_t>(i)};
        const Part& part = circuit.parts[i];
        if (id == load || !may_stand_across(circuit, part, id)) continue;
        const std::pair<std::size_t, std::size_t> sides = sides_of(part);
        if (sides == wanted && sides.first != sides.second) names.push_back(part.name);
    }
    return names;
}

}  // namespace voltfall
