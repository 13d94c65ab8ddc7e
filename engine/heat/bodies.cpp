#include "engine/heat/bodies.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <variant>

#include "engine/heat/heat_values.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

/// Row W20 holds for wire of this class in this surrounding air, °C.
constexpr double ampacity_class = 105;
constexpr double ampacity_ambient = 30;
/// K over the temperature at which electronics act, at which even those that act late are harmed (ASSUMED).
constexpr double most_over_limit = 25;

/// Contacts of connectors, sockets, splices, switches and relays.
bool is_joint(const Branch& branch) {
    return branch.sort == BranchSort::contact || branch.sort == BranchSort::socket;
}

/// What heats as a joint only by the ohms that a fault adds: a bad spot in a wire, a fuse's poor grip.
bool may_become_joint(const Circuit& circuit, const Branch& branch) {
    if (branch.wire.valid()) return true;
    return branch.part.valid() && circuit.part(branch.part).fuse;
}

double ohms_now(const NetworkBranch& branch) {
    return plain_ohms(branch.law).value_or(0) + branch.added_ohms;
}

double amps_of(const Settled& settled, BranchId branch) {
    const double amps = settled.point.amps[branch.index];
    return std::isfinite(amps) ? std::abs(amps) : 0.0;
}

const Motor* motor_of(const Network& network, BranchId branch) {
    return branch.valid() ? std::get_if<Motor>(&network.at(branch).law) : nullptr;
}

/// A contact's ohms sit in the narrow places where metal meets: they rise by two thirds of what the metal's do with the
/// contact's temperature (Holm's form, textbook), at the current that runs. Watts at 20 °C.
LinearHeat heat_of_joint(double watts, const Body& body) {
    constexpr double per_kelvin = 2.0 / 3 * 0.00393;
    // Up to where plastics have long gone; beyond, the current is no longer the joint's to keep.
    const double most = 0.5 * body.still_air;
    const double grows = std::min(watts * per_kelvin, most);
    return {(watts - 20 * grows + body.still_air * body.ambient) / body.capacity,
            (grows - body.still_air) / body.capacity};
}

/// Does the load's current run through the part in some position?
bool stands_in_way(const Part& part, PartId load, const std::vector<Settled>& healthy) {
    return std::any_of(healthy.begin(), healthy.end(), [&](const Settled& settled) {
        const LoadPath path = load_path(settled.network, load);
        const auto through = [&](BranchId own) {
            return std::find(path.feed.begin(), path.feed.end(), own) != path.feed.end() ||
                   std::find(path.back.begin(), path.back.end(), own) != path.back.end();
        };
        return std::any_of(part.branches.begin(), part.branches.end(), through);
    });
}

bool is_hot(const Circuit& circuit, const Wire& wire) {
    const Care* care = circuit.care_of(wire.name);
    return care != nullptr && std::find(care->words.begin(), care->words.end(), "hot") != care->words.end();
}

/// Copper loss and brush loss, and what shorted coils make of the shaft's power.
double winding_watts(const Motor& motor, double amps, double speed = 0) {
    return amps * amps * motor.armature_ohms + motor.brush_volts * amps + motor.shorted_brake * speed * speed;
}

/// Air that a wheel moves at a speed, over what it moves sound, by the factor on its torque there. With blocked air the
/// torque falls from 1 towards what the wheel takes while it only churns; a fouled wheel takes more and moves less.
double flow_share(double torque_factor) {
    const double churning = default_value("fan_torque_without_flow");
    if (torque_factor >= 1) return 1 / torque_factor;
    return std::max(0.0, (torque_factor - churning) / (1 - churning));
}

}  // namespace

std::string_view body_word(BodyKind kind) {
    switch (kind) {
        case BodyKind::pack:
            return "pack";
        case BodyKind::winding:
            return "winding";
        case BodyKind::joint:
            return "joint";
        case BodyKind::wire:
            return "wire";
        case BodyKind::module:
            return "module";
        case BodyKind::rating:
            return "rating";
    }
    return "";
}

HeatModel::HeatModel(Simulator& simulator, const Circuit& circuit)
    : circuit_(circuit), winding_rise_(heat_value(circuit, "winding_rise")), contacts_(rated_contacts(circuit)) {
    const std::vector<State> states = default_states(circuit);
    std::vector<SettleCase> cases;
    for (const State& state : states) cases.push_back({&state, {}, {}});
    std::vector<Settled> healthy;
    for (SettleResult& settled : settle_all(simulator, circuit, cases)) {
        if (settled) healthy.push_back(*std::move(settled));
    }
    limiter_modes_.resize(circuit.parts.size());
    for (const ModePtr& mode : circuit.modes) {
        const bool acts =
            mode->is(ModeFact::limiter_open) || mode->is(ModeFact::folds_back) || mode->is(ModeFact::cuts_out);
        if (!acts) continue;
        limiter_modes_.at(circuit.find_part(mode->place).index).push_back(mode);
    }
    add_packs(healthy);
    add_modules(healthy);
    add_windings();
    add_coils();
    add_joints();
    add_wires();
}

double HeatModel::pack_watts(PartId pack, const Settled& settled) const {
    double sum = 0;
    for (const BranchId id : circuit_.part(pack).branches) {
        const Branch& branch = circuit_.branch(id);
        if (branch.sort != BranchSort::pack_coil) continue;
        const double amps = amps_of(settled, id);
        sum += amps * amps * ohms_now(settled.network.at(id));
    }
    return sum;
}

/// The motor whose current is that of the body in every position blows on it; of two that draw the same, as the fans of
/// twin heaters do, the one that the body stands in the way of.
void HeatModel::cool_by_fan(Body& body, const std::vector<Settled>& healthy) const {
    constexpr double same = 1e-3;  // amperes
    const auto in_way = [&](PartId motor) { return stands_in_way(circuit_.part(body.part), motor, healthy); };
    double least = 1e300;
    PartId chosen;
    for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
        const Part& part = circuit_.parts[i];
        if (load_kind_of(part) != LoadKind::motor) continue;
        double difference = 0;
        for (const Settled& settled : healthy) {
            const double through = amps(body, settled);
            if (through > 1e-3) difference += std::abs(through - amps_of(settled, part.load_branch));
        }
        if (difference > least + same) continue;
        if (difference > least - same && (in_way(chosen) || !in_way({i}))) continue;
        least = difference;
        chosen = {i};
        body.fan = part.load_branch;
        body.rated_speed = radians_per_second(part.value("rated rpm"));
    }
}

double HeatModel::airflow(const Body& body, const Settled& settled) const {
    if (!body.fan.valid()) return 0;
    const double speed = std::abs(settled.point.speed[body.fan.index]);
    const Motor* now = motor_of(settled.network, body.fan);
    const Motor& sound = std::get<Motor>(circuit_.branch(body.fan).law);
    const double share = now ? flow_share(now->fan_torque / sound.fan_torque) : 1;
    return std::pow(share * speed / body.rated_speed, heat_value(circuit_, "airflow_exponent"));
}

void HeatModel::shed_in_full_air(Body& body, double conductance) const {
    const double still = heat_value(circuit_, "pack_still_air_share");
    body.still_air = still * conductance;
    body.full_air = (1 - still) * conductance;
    body.capacity = heat_value(circuit_, "pack_seconds") * body.still_air;
}

void HeatModel::add_packs(const std::vector<Settled>& healthy) {
    for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
        const Part& part = circuit_.parts[i];
        if (part.coils.empty()) continue;
        Body body;
        body.kind = BodyKind::pack;
        body.name = part.name;
        body.part = {i};
        body.limiter = !part.limiters.empty();
        body.harmed_at = heat_value(circuit_, "pack_limit");
        body.limit = body.limiter ? part.limiters.front().opens_at.value : body.harmed_at;
        body.ambient = heat_value(circuit_, "ambient_air");
        cool_by_fan(body, healthy);
        // G = Gmost x (still + (1 - still) x flow) with Gmost such that the hottest healthy position stands `pack_rise`
        // above the air.
        const double still = heat_value(circuit_, "pack_still_air_share");
        double most = 0;
        for (const Settled& settled : healthy) {
            const double flow = still + (1 - still) * airflow(body, settled);
            most = std::max(most, pack_watts(body.part, settled) / flow);
        }
        const double conductance = most / heat_value(circuit_, "pack_rise");
        if (!(conductance > 0)) continue;
        shed_in_full_air(body, conductance);
        bodies_.push_back(body);
    }
}

void HeatModel::add_modules(const std::vector<Settled>& healthy) {
    for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
        const Part& part = circuit_.parts[i];
        const Parameter* folds = part.parameter("fold-back");
        if (!folds) continue;
        Body body;
        body.kind = BodyKind::module;
        body.name = part.name;
        body.part = {i};
        body.branch = part.electronics.value().driven.front();
        body.limiter = true;
        body.limit = folds->value;
        body.harmed_at = std::max(default_value("module_limit"), body.limit + most_over_limit);
        body.ambient = heat_value(circuit_, "ambient_air");
        cool_by_fan(body, healthy);
        shed_in_full_air(body, part.value("watts") / (body.limit - body.ambient));
        bodies_.push_back(body);
    }
}

void HeatModel::add_windings() {
    for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
        const Part& part = circuit_.parts[i];
        if (load_kind_of(part) != LoadKind::motor) continue;
        const Motor& motor = std::get<Motor>(circuit_.branches.at(part.load_branch.index).law);
        Body body;
        body.kind = BodyKind::winding;
        body.name = part.name + " winding";
        body.part = {i};
        body.branch = part.load_branch;
        body.limit = heat_value(circuit_, "winding_limit");
        body.ambient = heat_value(circuit_, "ambient_air");
        body.fan = part.load_branch;
        body.rated_speed = radians_per_second(part.value("rated rpm"));
        const double conductance = winding_watts(motor, part.value("rated amps")) / winding_rise_;
        const double still = heat_value(circuit_, "winding_still_air_share");
        body.still_air = still * conductance;
        body.full_air = (1 - still) * conductance;
        body.capacity = heat_value(circuit_, "winding_seconds") * conductance;
        body.harmed_at = body.limit;
        if (const Parameter* cuts_out = part.parameter("cut-out")) {
            body.limiter = true;
            body.limit = cuts_out->value;
        }
        bodies_.push_back(body);
    }
}

void HeatModel::add_coils() {
    for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
        const Part& part = circuit_.parts[i];
        if (load_kind_of(part) != LoadKind::clutch) continue;
        Body body;
        body.kind = BodyKind::winding;
        body.name = part.name + " coil";
        body.part = {i};
        body.branch = part.load_branch;
        body.limit = heat_value(circuit_, "winding_limit");
        body.ambient = heat_value(circuit_, "ambient_air");
        const double volts = circuit_.supply;
        body.still_air = volts * volts / part.value("coil ohms") / heat_value(circuit_, "coil_rise");
        body.capacity = heat_value(circuit_, "coil_seconds") * body.still_air;
        bodies_.push_back(body);
    }
}

void HeatModel::add_joints() {
    const double conductance = 1 / heat_value(circuit_, "joint_kelvin_per_watt");
    for (std::uint32_t i = 0; i < circuit_.branches.size(); ++i) {
        const Branch& branch = circuit_.branches[i];
        if (!is_joint(branch) && !may_become_joint(circuit_, branch)) continue;
        Body body;
        body.kind = BodyKind::joint;
        body.name = branch.wire.valid() ? branch.place + " bad spot" : branch.place;
        body.branch = {i};
        body.limit = heat_value(circuit_, "joint_limit");
        body.ambient = heat_value(circuit_, "ambient_air");
        body.still_air = conductance;
        body.capacity = heat_value(circuit_, "joint_seconds") * conductance;
        bodies_.push_back(body);
    }
}

void HeatModel::add_wires() {
    for (const Wire& wire : circuit_.wires) {
        const double area = wire.area_mm2 * wire.parallel;
        Body body;
        body.kind = BodyKind::wire;
        body.name = wire.name;
        body.limit = wire_class(circuit_, wire) + heat_value(circuit_, "wire_overload_margin");
        body.ambient = heat_value(circuit_, is_hot(circuit_, wire) ? "ambient_hot" : "ambient_wire");
        body.ohms_metre = wire.ohms / wire.length.value;
        body.area_mm2 = area;
        // Rth from the ampacity: Ir^2 R(class) = G (class - ambient) (reference parts 5.2).
        const double amps = wire_ampacity(wire.area_mm2) * wire.parallel * bundle_factor(wire.bundle);
        body.still_air = amps * amps * body.ohms_metre * copper_temperature_factor(ampacity_class) /
                         (ampacity_class - ampacity_ambient);
        body.capacity = copper_joule_per_metre_mm2 * area * heat_value(circuit_, "insulation_heat_factor");
        for (const BranchId half : {wire.first_half, wire.second_half}) {
            body.branch = half;
            bodies_.push_back(body);
        }
    }
    for (Body& body : bodies_) {
        if (!body.limiter && body.kind != BodyKind::pack) body.harmed_at = body.limit;
    }
}

double HeatModel::watts(const Body& body, const Settled& settled) const {
    const Network& network = settled.network;
    switch (body.kind) {
        case BodyKind::pack:
            return pack_watts(body.part, settled);
        case BodyKind::winding: {
            const Motor* motor = motor_of(network, body.branch);
            const double amps = amps_of(settled, body.branch);
            return motor ? winding_watts(*motor, amps, settled.point.speed[body.branch.index])
                         : amps * amps * ohms_now(network.at(body.branch));
        }
        case BodyKind::joint: {
            const NetworkBranch& branch = network.at(body.branch);
            const double amps = amps_of(settled, body.branch);
            return amps * amps * (is_joint(circuit_.branch(body.branch)) ? ohms_now(branch) : branch.added_ohms);
        }
        case BodyKind::wire: {
            const double amps = amps_of(settled, body.branch);
            return amps * amps * (ohms_now(network.at(body.branch)) - network.at(body.branch).added_ohms);
        }
        case BodyKind::module: {
            const NetworkBranch& stage = network.at(body.branch);
            const double volts = settled.point.volts[stage.a.index] - settled.point.volts[stage.b.index];
            const double watts = volts * settled.point.amps[body.branch.index];
            return std::isfinite(watts) ? std::max(0.0, watts) : 0;
        }
        case BodyKind::rating:
            return 0;
    }
    return 0;
}

double HeatModel::amps(const Body& body, const Settled& settled) const {
    if (body.kind != BodyKind::pack) return amps_of(settled, body.branch);
    double most = 0;
    for (const BranchId id : circuit_.part(body.part).branches) {
        if (circuit_.branch(id).sort == BranchSort::pack_coil) most = std::max(most, amps_of(settled, id));
    }
    return most;
}

LinearHeat HeatModel::heat(const Body& body, const Settled& settled) const {
    if (body.kind == BodyKind::wire) {
        return heat_of_wire(amps_of(settled, body.branch), body.ohms_metre, body.capacity, body.still_air,
                            body.ambient);
    }
    const double conductance = body.still_air + body.full_air * airflow(body, settled);
    if (body.kind == BodyKind::joint) return heat_of_joint(watts(body, settled), body);
    return heat_of_body(watts(body, settled), body.capacity, conductance, body.ambient);
}

}  // namespace voltfall
