#include "engine/readings/place_heat.hpp"

#include <algorithm>
#include <cmath>

#include "engine/heat/heat_values.hpp"
#include "netlists/phrases/places.hpp"

namespace voltfall {

namespace {

/// A place harms itself within this many kelvin about the temperature at which its plastic softens (ASSUMED: the K/W of
/// a housing is known within a factor of two).
constexpr double softening_width = 25;

double ohms_of(const NetworkBranch& branch) {
    return plain_ohms(branch.law).value_or(0) + branch.added_ohms;
}

}  // namespace

PlaceHeat heat_at(const Circuit& circuit, const Settled& settled, const std::string& place) {
    PlaceHeat heat;
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (!sits_there(circuit, branch, place)) continue;
        const double amps = settled.point.amps[i];
        if (!std::isfinite(amps) || sort_of(settled.network.branches[i].law) == LawSort::motor) continue;
        const double watts = amps * amps * ohms_of(settled.network.branches[i]);
        if (branch.sort == BranchSort::pack_coil)
            heat.coils += watts;
        else
            heat.joint = std::max(heat.joint, watts);
    }
    return heat;
}

double rise_of(const Circuit& circuit, const Settled& settled, const std::string& place) {
    const PlaceHeat heat = heat_at(circuit, settled, place);
    // A pack stands `pack_rise` above its air at about 40 W (reference parts 2.4: 40 W and 41 W healthy); a contact has
    // its own K/W.
    constexpr double pack_watts_at_rise = 40;
    return std::max(heat.joint * heat_value(circuit, "joint_kelvin_per_watt"),
                    heat.coils * heat_value(circuit, "pack_rise") / pack_watts_at_rise);
}

double softening_chance(const WordContext& c, const std::string& place) {
    const Circuit& circuit = *c.questions.circuit;
    const double limit = heat_value(circuit, "joint_limit") - heat_value(circuit, "ambient_air");
    double most = 0;
    for (std::size_t s = 0; s < c.solved.courses.size(); ++s) {
        // What has opened since no longer heats: the course's first moments count.
        if (!c.solved.courses[s]) continue;
        const double rise =
            heat_at(circuit, c.solved.courses[s]->faulted, place).joint * heat_value(circuit, "joint_kelvin_per_watt");
        most = std::max(most, 1 / (1 + std::exp(-(rise - limit) / softening_width)));
    }
    return most;
}

}  // namespace voltfall
