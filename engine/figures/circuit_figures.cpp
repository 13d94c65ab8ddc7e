#include "engine/figures/circuit_figures.hpp"

#include <algorithm>
#include <cmath>

#include "netlists/phrases/loads.hpp"

namespace voltfall {

namespace {

PartId id_of(std::size_t index) {
    return {static_cast<std::uint32_t>(index)};
}

bool contains(const std::vector<PartId>& list, PartId part) {
    return std::find(list.begin(), list.end(), part) != list.end();
}

std::vector<std::string> names_of(const Circuit& circuit, const std::vector<JointId>& joints) {
    std::vector<std::string> names;
    for (const JointId joint : joints)
        if (circuit.joint(joint).access != Access::inside) names.push_back(circuit.joint(joint).name);
    return names;
}

FuseFigures fuse_figures(const Settled& settled, PartId id) {
    const Part& part = settled.network.circuit->part(id);
    const BranchId element = part.fuse->element;
    FuseFigures fuse;
    fuse.name = part.name;
    fuse.rating = settled.network.ratings[id.index];
    fuse.amps = std::abs(settled.point.amps[element.index]);
    fuse.open = !settled.network.conducts(element);
    if (!fuse.open) fuse.seconds = opening_seconds(settled, id);
    return fuse;
}

std::string relay_word(const Settled& settled, PartId part) {
    if (contains(settled.chattering, part)) return "chatters";
    return settled.relay_pulled[part.index] ? "pulled" : "released";
}

void add_points(CircuitFigures& figures, const Settled& settled, const PointChoice& choice) {
    const Circuit& circuit = *settled.network.circuit;
    const auto add = [&](JointId joint) {
        PointFigure point{circuit.joint(joint).name, std::nullopt};
        if (!settled.floats(joint)) point.volts = settled.point.volts[joint.index];
        figures.points.push_back(std::move(point));
    };
    for (const JointId joint : choice.joints) add(joint);
    if (!choice.empty()) return;
    for (std::size_t i = 0; i < circuit.joints.size(); ++i)
        if (circuit.joints[i].access != Access::inside) add({static_cast<std::uint32_t>(i)});
}

void add_wires(CircuitFigures& figures, const Settled& settled, const PointChoice& choice) {
    const Circuit& circuit = *settled.network.circuit;
    const auto add = [&](WireId wire) {
        const WireAmps amps = wire_amps(settled, wire);
        figures.wires.push_back({circuit.wire(wire).name, amps.from, amps.to});
    };
    for (const WireId wire : choice.wires) add(wire);
    if (!choice.empty()) return;
    for (std::size_t i = 0; i < circuit.wires.size(); ++i) add({static_cast<std::uint32_t>(i)});
}

}  // namespace

CircuitFigures figures_of(const Settled& settled, const Settled& healthy, const PointChoice& choice) {
    const Circuit& circuit = *settled.network.circuit;
    CircuitFigures figures;
    for (const PartId load : loads_of(circuit)) {
        const LoadState state = load_state(settled, load, &healthy);
        figures.loads.push_back(
            {circuit.part(load).name, state.volts, state.amps, state.rpm, state.seen, std::string(state.said())});
    }
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (part.fuse) figures.fuses.push_back(fuse_figures(settled, id_of(i)));
        if (part.relay) figures.relays.push_back({part.name, relay_word(settled, id_of(i))});
    }
    add_points(figures, settled, choice);
    add_wires(figures, settled, choice);
    figures.floating = names_of(circuit, settled.floating);
    figures.weak = names_of(circuit, settled.weak);
    for (const PartId relay : settled.holding) figures.holding.push_back(circuit.part(relay).name);
    return figures;
}

}  // namespace voltfall
