#include "engine/heat/startup.hpp"

#include <cmath>
#include <numbers>
#include <variant>

#include "engine/solve/fuse_types.hpp"

namespace voltfall {

namespace {

/// Steps no longer than this, seconds: the peak of a fuse's heat and a draughtsman's curve want no more, and 60 s are
/// 6000 steps.
constexpr double longest_step = 0.01;
/// A shaft slower than this stands, rad/s; the friction lets a standing one creep by some thousandths.
constexpr double standing_speed = 0.1;

/// Branches that are followed: windings first, then fuse elements.
struct Watched {
    std::vector<BranchId> windings;
    std::vector<PartId> fuses;

    std::vector<BranchId> branches(const Circuit& circuit) const {
        std::vector<BranchId> all = windings;
        for (const PartId fuse : fuses) all.push_back(circuit.part(fuse).fuse->element);
        return all;
    }
};

Watched watched_in(const Settled& settled) {
    Watched watched;
    const Circuit& circuit = *settled.network.circuit;
    for (std::size_t i = 0; i < circuit.branches.size(); ++i) {
        if (sort_of(settled.network.branches[i].law) == LawSort::motor)
            watched.windings.push_back({static_cast<std::uint32_t>(i)});
    }
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (circuit.parts[i].fuse) watched.fuses.push_back({static_cast<std::uint32_t>(i)});
    }
    return watched;
}

double rpm_of(double radians_per_second) {
    return radians_per_second * 60 / (2 * std::numbers::pi);
}

MotorStart motor_start(const Settled& settled, BranchId winding, const Waveform& amps, const Waveform& speed) {
    MotorStart start;
    start.winding = winding;
    start.name = settled.network.circuit->branch(winding).place;
    const std::size_t peak = amps.peak();
    start.peak_amps = std::abs(amps.values[peak]);
    start.peak_seconds = amps.seconds[peak];
    start.end_amps = std::abs(amps.values.back());
    start.started = std::abs(speed.values.back()) > standing_speed;
    start.end_rpm = start.started ? rpm_of(speed.values.back()) : 0;
    const double settles_at = std::abs(settled.point.speed[winding.index]);
    if (settles_at > standing_speed) {
        start.to_63 = speed.reaches(0.63 * settles_at);
        start.to_95 = speed.reaches(0.95 * settles_at);
    }
    start.amps = thinned(amps, drawn_points);
    return start;
}

FuseStart fuse_start(const Settled& settled, PartId id, const Waveform& amps) {
    const Part& part = settled.network.circuit->part(id);
    const double rating = settled.network.ratings[id.index];
    return {id, part.name, rating, fuse_pulse(type_of(*part.fuse), rating, amps), thinned(amps, drawn_points)};
}

}  // namespace

StartUpResult run_startup(TransientSimulator& simulator, const Settled& settled, double seconds) {
    const Watched watched = watched_in(settled);
    StartUp start{seconds, {}, {}};
    const std::vector<BranchId> branches = watched.branches(*settled.network.circuit);
    if (branches.empty()) return start;
    TransientResult run = simulator.transient(settled.network, {seconds, longest_step, branches});
    if (!run) return tl::unexpected(run.error());
    for (std::size_t i = 0; i < watched.windings.size(); ++i) {
        start.motors.push_back(motor_start(settled, watched.windings[i], {run->seconds, std::move(run->amps[i])},
                                           {run->seconds, std::move(run->speed[i])}));
    }
    for (std::size_t i = 0; i < watched.fuses.size(); ++i) {
        start.fuses.push_back(
            fuse_start(settled, watched.fuses[i], {run->seconds, std::move(run->amps[watched.windings.size() + i])}));
    }
    return start;
}

StartUpResult run_startup(TransientSimulator& simulator, const Circuit& circuit, const State& state,
                          std::span<const Fault> faults, double seconds) {
    const SettleResult settled = settle(simulator, circuit, state, faults);
    if (!settled) return tl::unexpected(settled.error());
    return run_startup(simulator, *settled, seconds);
}

}  // namespace voltfall
