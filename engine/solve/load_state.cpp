// What a person sees of a load.
#include <cmath>
#include <functional>
#include <numbers>
#include <variant>

#include "engine/solve/settled.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// A lamp or heater below this share of its healthy power counts as dead; ASSUMED.
constexpr double dead_power = 0.05;
/// Below this share of its healthy volts a lamp is dim, a heater weak; ASSUMED.
constexpr double weak_volts = 0.8;
/// Below this share of its rated volts a filament is not seen to glow (common practice, no source).
constexpr double visible_volts = 0.15;
/// A motor that nobody has switched on creeps below this share of its nameplate speed and runs above it; ASSUMED.
constexpr double creeps_below = 0.25;

LoadKind load_kind(const Settled& settled, const Part& part) {
    if (part.kind) return part.kind->load;
    return sort_of(settled.network.at(part.load_branch).law) == LawSort::motor ? LoadKind::motor : LoadKind::heater;
}

/// The pins, where they are called 1 and 2; else the ends of the load itself.
double pin_volts(const Settled& settled, const Part& part) {
    const auto one = part.pins.find("1");
    const auto two = part.pins.find("2");
    if (one != part.pins.end() && two != part.pins.end()) {
        return settled.point.volts[one->second.index] - settled.point.volts[two->second.index];
    }
    const NetworkBranch& branch = settled.network.at(part.load_branch);
    return settled.point.volts[branch.a.index] - settled.point.volts[branch.b.index];
}

double rpm_of(double radians_per_second) {
    return radians_per_second * 60 / (2 * std::numbers::pi);
}

/// Works or not, where there is nothing between.
LoadSeen on_or_off(bool works, bool works_healthy) {
    if (!works) return works_healthy ? LoadSeen::dead : LoadSeen::off;
    return works_healthy ? LoadSeen::normal : LoadSeen::runs;
}

LoadSeen motor_seen(const LoadState& now, const std::optional<double>& healthy_rpm) {
    static const double usual_rpm = default_value("motor_rpm");
    static const double dead_share = default_value("dead_below");
    static const double slow_below = default_value("slow_below");
    static const double fast_above = default_value("fast_above");
    const double rpm = *now.rpm;
    const double rated = now.rated_rpm.value_or(usual_rpm);
    const double dead_below = dead_share * rated;
    const bool turns = std::abs(rpm) >= dead_below;
    const double healthy = healthy_rpm ? std::abs(*healthy_rpm) : rated;
    if (!turns || healthy < dead_below) {
        const LoadSeen seen = on_or_off(turns, healthy >= dead_below);
        return seen == LoadSeen::runs && std::abs(rpm) < creeps_below * rated ? LoadSeen::creeps : seen;
    }
    if (!healthy_rpm) return LoadSeen::normal;
    if (std::abs(rpm) < slow_below * healthy) return LoadSeen::slow;
    return std::abs(rpm) > fast_above * healthy ? LoadSeen::fast : LoadSeen::normal;
}

/// A clutch pulls as a relay does: by its current times its healthy ohms. With its gap worn wide it needs more of them.
bool clutch_pulls(const Settled& settled, PartId id, const LoadState& state) {
    const Part& part = settled.network.circuit->part(id);
    const Parameter* ohms = part.parameter("coil ohms");
    const Parameter* pulls = part.parameter("pull volts");
    const double volts = ohms ? std::abs(state.amps) * ohms->value : std::abs(state.volts);
    return volts >= settled.network.pull_factors[id.index] * (pulls ? pulls->value : default_value("clutch_pulls_12"));
}

/// The share of its full volts at which a lamp or heater works: of a lamp by its watts, because its holder may have
/// taken some of the volts; 0 where no current flows.
double share_of_full(const Settled& settled, const Part& part, const LoadState& state) {
    constexpr double nothing = 1e-6;  // watts; what leaks through an open contact lights nothing
    const double watts = std::abs(state.volts * state.amps);
    if (watts < nothing) return 0;
    if (const Parameter* rated = part.parameter("rated watts")) return std::sqrt(watts / rated->value);
    return std::abs(state.volts) / settled.network.circuit->supply;
}

/// A lamp is lit or warm by its own volts; beside a healthy one that works, by its share of that one's work.
LoadSeen filament_seen(LoadKind kind, const LoadState& now, const LoadState* healthy,
                       const std::function<double(const LoadState&)>& share) {
    const double seen_above = kind == LoadKind::lamp ? visible_volts : std::sqrt(dead_power);
    if (healthy && share(*healthy) < seen_above) {
        if (share(now) < seen_above) return LoadSeen::off;
        return kind == LoadKind::lamp && share(now) < weak_volts ? LoadSeen::glows : LoadSeen::runs;
    }
    if (!healthy) return share(now) < seen_above ? LoadSeen::dead : LoadSeen::normal;
    const double watts = std::abs(now.volts * now.amps);
    if (watts < dead_power * std::abs(healthy->volts * healthy->amps)) return LoadSeen::dead;
    if (std::abs(now.volts) >= weak_volts * std::abs(healthy->volts)) return LoadSeen::normal;
    return kind == LoadKind::lamp ? LoadSeen::dim : LoadSeen::weak;
}

LoadState measured(const Settled& settled, const Part& part, LoadKind kind) {
    LoadState state;
    state.kind = kind;
    state.volts = pin_volts(settled, part);
    state.amps = settled.point.amps[part.load_branch.index];
    if (kind != LoadKind::motor) return state;
    state.rpm = rpm_of(settled.point.speed[part.load_branch.index]);
    if (const Parameter* plate = part.parameter("rated rpm")) state.rated_rpm = plate->value;
    return state;
}

}  // namespace

LoadState load_state(const Settled& settled, PartId load, const Settled* healthy) {
    const Part& part = settled.network.circuit->part(load);
    const LoadKind kind = load_kind(settled, part);
    LoadState now = measured(settled, part, kind);
    std::optional<LoadState> then;
    if (healthy) then = measured(*healthy, part, kind);
    switch (kind) {
        case LoadKind::motor:
            now.seen = motor_seen(now, then ? then->rpm : std::nullopt);
            break;
        case LoadKind::clutch:
            now.seen = on_or_off(clutch_pulls(settled, load, now), !then || clutch_pulls(*healthy, load, *then));
            break;
        case LoadKind::none:
        case LoadKind::lamp:
        case LoadKind::heater:
            now.seen = filament_seen(kind, now, then ? &*then : nullptr,
                                     [&](const LoadState& state) { return share_of_full(settled, part, state); });
            break;
    }
    return now;
}

}  // namespace voltfall
