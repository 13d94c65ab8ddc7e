#include "engine/figures/voltage_ladder.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/graph/paths.hpp"

namespace voltfall {

namespace {

/// Joints along a way, each once; those inside parts and wires are left out.
struct Way {
    std::vector<JointId> joints;
    std::size_t load_after{0};
};

class WayWalker {
public:
    WayWalker(const Settled& sound, PartId load) : circuit_(*sound.network.circuit), network_(sound.network) {
        const LoadPath path = load_path(network_, load);
        if (!path.complete) return;
        at_ = circuit_.bus_30;
        add(circuit_.part(circuit_.battery).pins.at("+"));
        add(at_);
        for (const BranchId branch : path.feed) step(branch);
        way_.load_after = way_.joints.size() - 1;
        step(circuit_.part(load).load_branch);
        for (const BranchId branch : path.back) step(branch);
        add(circuit_.reference);
    }
    Way take() { return std::move(way_); }

private:
    void add(JointId joint) {
        if (circuit_.joint(joint).access == Access::inside) return;
        if (std::find(way_.joints.begin(), way_.joints.end(), joint) == way_.joints.end()) way_.joints.push_back(joint);
    }

    /// To the other end of the branch; from its nearer one where the way does not stand at either.
    void step(BranchId branch) {
        const NetworkBranch& on = network_.at(branch);
        if (at_ != on.a && at_ != on.b) add(on.a);
        at_ = at_ == on.b ? on.a : on.b;
        add(at_);
    }

    const Circuit& circuit_;
    const Network& network_;
    JointId at_;
    Way way_;
};

std::vector<std::optional<double>> volts_at(const Settled& settled, const std::vector<JointId>& joints) {
    std::vector<std::optional<double>> volts;
    for (const JointId joint : joints)
        volts.push_back(settled.floats(joint) ? std::nullopt : std::optional(settled.point.volts[joint.index]));
    return volts;
}

bool same_controls(const Circuit& circuit, const State& one, const State& other) {
    return one.unplugged.empty() && one.pulled.empty() && one.leads.empty() &&
           std::all_of(circuit.controls.begin(), circuit.controls.end(), [&](const Control& control) {
               return one.positions[control.part.index] == other.positions[control.part.index];
           });
}

void put_readings(VoltageLadder& ladder, const Circuit& circuit, const State& state, const std::vector<JointId>& joints,
                  const std::vector<Reading>& readings) {
    for (const Reading& reading : readings) {
        const auto* volts = std::get_if<VoltsReading>(&reading.measurement);
        if (volts == nullptr || volts->value.open || volts->value.low != volts->value.high) continue;
        const bool to_minus = volts->black.joints.size() == 1 && volts->black.joints.front() == circuit.reference;
        if (!to_minus || !same_controls(circuit, states_of(circuit, reading.state).front(), state)) continue;
        for (std::size_t i = 0; i < joints.size(); ++i) {
            const auto& red = volts->red.joints;
            if (std::find(red.begin(), red.end(), joints[i]) == red.end()) continue;
            ladder.measured[i] = volts->value.low;
            break;
        }
    }
}

}  // namespace

std::vector<JointId> joints_along(const Settled& settled, PartId load) {
    return WayWalker(settled, load).take().joints;
}

VoltageLadder voltage_ladder(Simulator& simulator, const Circuit& circuit, const State& state, PartId load,
                             std::span<const NamedCase> cases, const std::vector<Reading>& readings) {
    VoltageLadder ladder;
    ladder.load = circuit.part(load).name;
    ladder.state = state.label;
    const SettleResult sound = settle(simulator, circuit, state, {});
    if (!sound) return ladder;
    const Way way = WayWalker(*sound, load).take();
    if (way.joints.size() < 2) return ladder;
    ladder.load_after = way.load_after;
    for (const JointId joint : way.joints) ladder.rungs.push_back(circuit.joint(joint).name);
    ladder.lines.push_back({"sound", volts_at(*sound, way.joints)});
    for (const NamedCase& one : cases) {
        const SettleResult settled = settle(simulator, circuit, state, one.faults);
        if (settled) ladder.lines.push_back({one.name, volts_at(*settled, way.joints)});
    }
    ladder.measured.resize(way.joints.size());
    put_readings(ladder, circuit, state, way.joints, readings);
    return ladder;
}

}  // namespace voltfall
