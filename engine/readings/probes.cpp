#include "engine/readings/probes.hpp"

#include <algorithm>
#include <set>

#include "netlists/graph/wired_with.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// The part's side of a plug is inside while the plug is mated.
bool is_behind_plug(const Circuit& circuit, JointId joint) {
    for (const Part& part : circuit.parts) {
        if (part.plug.empty()) continue;
        for (const auto& [terminal, pin] : part.pins) {
            if (pin == joint) return part.harness.at(terminal) != joint;
        }
    }
    return false;
}

}  // namespace

bool is_closed(const Circuit& circuit, const std::string& place) {
    const std::string_view whole = read_place(place).owner;
    return std::any_of(circuit.closed.begin(), circuit.closed.end(), [&](const auto& entry) {
        // `electronic` forbids lamps and loads, not a meter.
        return entry.second != "electronic" && (same_word(entry.first, place) || same_word(entry.first, whole));
    });
}

bool meets_electronics(const Circuit& circuit, JointId joint) {
    std::vector<bool> electronic(circuit.joints.size(), false);
    for (const Part& part : circuit.parts) {
        if (!part.electronics) continue;
        for (const auto& [terminal, pin] : part.pins) electronic[pin.index] = true;
    }
    const std::vector<JointId> joints = wired_with(circuit, joint);
    return std::any_of(joints.begin(), joints.end(), [&](JointId at) { return electronic[at.index]; });
}

bool is_permitted(const Circuit& circuit, JointId id) {
    const Joint& joint = circuit.joint(id);
    // 31 is the metal as a whole: a ground stud or B1- is where a lead can stand.
    if (id == circuit.metal && id != circuit.reference) return false;
    // What the file closes has no open access.
    return joint.access == Access::open && !is_behind_plug(circuit, id);
}

std::vector<JointId> permitted_joints(const Circuit& circuit) {
    std::vector<JointId> joints;
    for (std::size_t i = 0; i < circuit.joints.size(); ++i) {
        const JointId joint{static_cast<std::uint32_t>(i)};
        if (is_permitted(circuit, joint)) joints.push_back(joint);
    }
    return joints;
}

VoltsTest DropPair::test(const Circuit& circuit) const {
    return volts_between(circuit, red, black, thing);
}

std::vector<DropPair> drop_pairs(const Circuit& circuit) {
    std::vector<DropPair> pairs;
    std::set<std::pair<std::uint32_t, std::uint32_t>> seen;
    const auto add = [&](std::string thing, std::string place, JointId red, JointId black) {
        if (red == black) return;
        if (!is_permitted(circuit, red) || !is_permitted(circuit, black)) return;
        if (!seen.insert(std::minmax(red.index, black.index)).second) return;
        pairs.push_back({std::move(thing), std::move(place), red, black});
    };
    for (const Branch& branch : circuit.branches) {
        if (branch.wire.valid() || !branch.part.valid()) continue;
        const Part& part = circuit.part(branch.part);
        // A contact or ground that has a name of its own is measured across; so is a two-ended part.
        const bool named = branch.place != part.name || (part.harness.size() == 2 && part.branches.size() <= 3);
        const std::string place =
            circuit.joint(branch.a).access == Access::open ? circuit.joint(branch.a).place : branch.place;
        add(named && circuit.find_joint(branch.place) != branch.a ? branch.place : std::string(), place, branch.a,
            branch.b);
    }
    for (const Part& part : circuit.parts) {
        if (!part.load_branch.valid() || part.harness.size() != 2) continue;
        const JointId one = part.harness.begin()->second;
        add(part.name, circuit.joints.at(one.index).place, one, part.harness.rbegin()->second);
    }
    for (const Wire& wire : circuit.wires)
        add({}, circuit.joints.at(wire.from.joint.index).place, wire.from.joint, wire.to.joint);
    return pairs;
}

}  // namespace voltfall
