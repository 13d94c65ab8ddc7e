#include "engine/figures/limits.hpp"

#include <fmt/format.h>

#include <cmath>

#include "netlists/graph/paths.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::string_view amps_ending = ".amps";
/// The battery's ohms make its posts sag below the EMF that is set; two corrections leave less than a millivolt.
constexpr int supply_corrections = 2;

enum class LimitKind { amps, feed, ground, other };

LimitKind kind_of(const Limit& limit) {
    if (limit.unit == Unit::ampere && lower(limit.key).ends_with(amps_ending)) return LimitKind::amps;
    if (limit.unit == Unit::volt && same_word(limit.key, "feed")) return LimitKind::feed;
    if (limit.unit == Unit::volt && same_word(limit.key, "ground")) return LimitKind::ground;
    return LimitKind::other;
}

/// Is a control in the position that the limit's key names ("hi.amps")?
bool in_position(const Circuit& circuit, const State& state, const Limit& limit) {
    const std::string_view word = std::string_view(limit.key).substr(0, limit.key.size() - amps_ending.size());
    for (const Control& control : circuit.controls) {
        const Part& part = circuit.part(control.part);
        const auto position = part.position_named(word);
        if (position && state.positions[control.part.index] == *position) return true;
    }
    return false;
}

/// The load whose amperes are meant: the only motor, else the only load.
PartId measured_load(const Circuit& circuit) {
    const std::vector<PartId> loads = loads_of(circuit);
    std::vector<PartId> motors;
    for (const PartId load : loads)
        if (circuit.part(load).kind->load == LoadKind::motor) motors.push_back(load);
    if (motors.size() == 1) return motors.front();
    return loads.size() == 1 ? loads.front() : PartId{};
}

double supply_volts(const Settled& settled) {
    const Circuit& circuit = *settled.network.circuit;
    return settled.point.volts[circuit.bus_30.index] - settled.point.volts[circuit.reference.index];
}

/// Settles the state with the posts of the battery at `volts`.
SettleResult settle_at(Simulator& simulator, const Circuit& circuit, State state, std::span<const Fault> faults,
                       double volts) {
    state.supply_volts = volts;
    SettleResult settled = settle(simulator, circuit, state, faults);
    for (int i = 0; i < supply_corrections && settled; ++i) {
        state.supply_volts = *state.supply_volts + volts - supply_volts(*settled);
        settled = settle(simulator, circuit, state, faults);
    }
    return settled;
}

std::optional<double> low_of(const Limit& limit) {
    return limit.low > 0 && limit.low < limit.high ? std::optional(limit.low) : std::nullopt;
}

/// A drop along the feed that is not the load's own doing: packs, resistors and diodes drop volts by design.
double feed_drop(const Settled& settled, PartId load) {
    const Circuit& circuit = *settled.network.circuit;
    double drop = 0;
    for (const BranchId branch : load_path(settled.network, load).feed) {
        const PartId owner = circuit.branch(branch).part;
        if (owner.valid() && drops_by_design(circuit.part(owner))) continue;
        const NetworkBranch& at = settled.network.at(branch);
        drop += std::abs(settled.point.volts[at.a.index] - settled.point.volts[at.b.index]);
    }
    return drop;
}

/// Does the load draw what makes a drop worth measuring?
bool loaded(const Settled& settled, PartId load) {
    const double amps = settled.point.amps[settled.network.circuit->part(load).load_branch.index];
    constexpr double least_amps = 0.1;
    return std::abs(amps) >= least_amps;
}

void add_feeds(std::vector<LimitFigure>& figures, const Limit& limit, const Settled& healthy, const Settled& faulted) {
    const Circuit& circuit = *healthy.network.circuit;
    for (const PartId load : loads_of(circuit)) {
        if (!loaded(healthy, load)) continue;
        figures.push_back({limit.key, "feed of " + circuit.part(load).name, std::nullopt, limit.high, "V",
                           feed_drop(healthy, load), feed_drop(faulted, load)});
    }
}

void add_grounds(std::vector<LimitFigure>& figures, const Limit& limit, const Settled& healthy,
                 const Settled& faulted) {
    const Circuit& circuit = *healthy.network.circuit;
    for (const Part& part : circuit.parts) {
        if (!joins(part, Joining::metal)) continue;
        const JointId joint = part.harness.at("");
        if (healthy.floats(joint)) continue;
        const double rest = faulted.floats(joint) ? 0 : std::abs(faulted.point.volts[joint.index]);
        figures.push_back({limit.key, "ground " + part.name, std::nullopt, limit.high, "V",
                           std::abs(healthy.point.volts[joint.index]), rest});
    }
}

tl::expected<void, SolveFailure> add_amps(Simulator& simulator, std::vector<LimitFigure>& figures,
                                          const Circuit& circuit, const Limit& limit, const State& state,
                                          std::span<const Fault> faults) {
    const PartId load = measured_load(circuit);
    if (!load.valid() || !in_position(circuit, state, limit)) return {};
    const Part& part = circuit.part(load);
    const Parameter* nameplate = part.parameter("rated volts");
    const double volts = limit.at_volts > 0 ? limit.at_volts : nameplate != nullptr ? nameplate->value : 0;
    const auto amps = [&](const Settled& settled) { return std::abs(settled.point.amps[part.load_branch.index]); };
    const auto settled_at = [&](std::span<const Fault> laid) {
        return volts > 0 ? settle_at(simulator, circuit, state, laid, volts) : settle(simulator, circuit, state, laid);
    };
    const SettleResult healthy = settled_at({});
    if (!healthy) return tl::unexpected(healthy.error());
    const SettleResult faulted = settled_at(faults);
    if (!faulted) return tl::unexpected(faulted.error());
    const std::string at = volts > 0 ? fmt::format(" at {:g} V", volts) : "";
    figures.push_back({limit.key, part.name + at, low_of(limit), limit.high, "A", amps(*healthy), amps(*faulted)});
    return {};
}

}  // namespace

tl::expected<std::vector<LimitFigure>, SolveFailure> check_limits(Simulator& simulator, const Circuit& circuit,
                                                                  const State& state, std::span<const Fault> faults,
                                                                  const Settled& healthy, const Settled& faulted) {
    std::vector<LimitFigure> figures;
    for (const Limit& limit : circuit.limits) {
        switch (kind_of(limit)) {
            case LimitKind::amps:
                if (const auto added = add_amps(simulator, figures, circuit, limit, state, faults); !added)
                    return tl::unexpected(added.error());
                break;
            case LimitKind::feed:
                add_feeds(figures, limit, healthy, faulted);
                break;
            case LimitKind::ground:
                add_grounds(figures, limit, healthy, faulted);
                break;
            case LimitKind::other:
                break;
        }
    }
    return figures;
}

const Limit* amps_limit(const Circuit& circuit, const State& state, PartId load) {
    if (measured_load(circuit) != load) return nullptr;
    for (const Limit& limit : circuit.limits)
        if (kind_of(limit) == LimitKind::amps && in_position(circuit, state, limit)) return &limit;
    return nullptr;
}

tl::expected<double, SolveFailure> sound_amps_at(Simulator& simulator, const Circuit& circuit, const State& state,
                                                 PartId load, double volts) {
    const SettleResult sound = settle_at(simulator, circuit, state, {}, volts);
    if (!sound) return tl::unexpected(sound.error());
    return std::abs(sound->point.amps[circuit.part(load).load_branch.index]);
}

std::optional<double> drop_limit(const Circuit& circuit, std::string_view key) {
    for (const Limit& limit : circuit.limits) {
        const LimitKind kind = kind_of(limit);
        if ((kind == LimitKind::feed || kind == LimitKind::ground) && same_word(limit.key, key)) return limit.high;
    }
    return std::nullopt;
}

std::vector<std::string> limits_not_checked(const Circuit& circuit) {
    std::vector<std::string> lines;
    for (const Limit& limit : circuit.limits) {
        const LimitKind kind = kind_of(limit);
        if (kind == LimitKind::other)
            lines.push_back(fmt::format("{} ({} {}): not a figure of this solution", limit.key,
                                        fmt::format("{:g}", limit.high), unit_name(limit.unit)));
        else if (kind == LimitKind::amps && !measured_load(circuit).valid())
            lines.push_back(fmt::format("{}: several loads, and the key names none of them", limit.key));
    }
    return lines;
}

}  // namespace voltfall
