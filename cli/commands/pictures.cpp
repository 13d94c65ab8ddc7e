#include "cli/commands/pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/pictures/fuse_drawing.hpp"
#include "cli/pictures/ladder_drawing.hpp"
#include "cli/pictures/speed_drawing.hpp"
#include "cli/pictures/wiring_drawing.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/loads.hpp"

namespace voltfall {

namespace {

double load_amps(const Settled& settled) {
    double amps = 0;
    for (const PartId load : loads_of(*settled.network.circuit))
        amps += std::abs(load_state(settled, load, nullptr).amps);
    return amps;
}

std::string names_of(const Circuit& circuit, const std::vector<Fault>& faults) {
    std::string names;
    for (const Fault& fault : faults) names += (names.empty() ? "" : ", ") + write_fault(circuit, fault);
    return names;
}

/// A drawing for each circuit that has one of these names in it; for all where there is no name.
std::vector<Picture> wirings(WiringCase drawn, const Circuit& circuit, const std::vector<std::string>& concerned) {
    std::vector<Picture> pictures;
    for (std::vector<WireId>& wires : drawings_of(circuit, concerned)) {
        drawn.wires = std::move(wires);
        pictures.push_back(wiring_drawing(drawn));
        pictures.back().title.id += std::to_string(pictures.size());
    }
    if (pictures.empty()) pictures.push_back(wiring_drawing(drawn));
    return pictures;
}

/// The loads whose ladders tell most: those that the faults change, else those that draw most.
std::vector<PartId> telling_loads(const Circuit& circuit, const Settled& sound, const Settled& now) {
    constexpr std::size_t most_loads = 6;
    constexpr double least_change = 0.02;  // of the amperes
    std::vector<PartId> changed;
    std::vector<PartId> running;
    for (const PartId load : loads_of(circuit)) {
        const LoadState was = load_state(sound, load, &sound);
        const LoadState is = load_state(now, load, &sound);
        if (was.seen != is.seen || std::abs(is.amps - was.amps) > least_change * std::abs(was.amps))
            changed.push_back(load);
        running.push_back(load);
    }
    if (!changed.empty()) running = std::move(changed);
    std::stable_sort(running.begin(), running.end(), [&](PartId a, PartId b) {
        return std::abs(load_state(sound, a, &sound).amps) > std::abs(load_state(sound, b, &sound).amps);
    });
    running.resize(std::min(running.size(), most_loads));
    std::sort(running.begin(), running.end());
    return running;
}

}  // namespace

tl::expected<std::vector<Picture>, SolveFailure> sound_wiring(const Console& console, const Circuit& circuit) {
    std::optional<Settled> hardest;
    std::string label;
    for (const State& state : default_states(circuit)) {
        SettleResult settled = settle(console.of_record(), circuit, state, {});
        if (!settled) return tl::unexpected(settled.error());
        if (hardest && load_amps(*settled) <= load_amps(*hardest)) continue;
        hardest = *std::move(settled);
        label = state.label;
    }
    return wirings({&*hardest, label, {}, {}}, circuit, {});
}

std::vector<Picture> fuse_pictures(const Console& console, const Circuit& circuit) {
    std::vector<Picture> pictures;
    for (const FuseCurve& curve : fuse_curves(console.sweep(), circuit, {}))
        pictures.push_back(fuse_drawing(curve, fmt::format("fuse{}", pictures.size() + 1)));
    return pictures;
}

tl::expected<std::vector<Picture>, SolveFailure> case_pictures(const Console& console, const Circuit& circuit,
                                                               const std::vector<Fault>& faults, const State& state) {
    const SettleResult settled = settle(console.of_record(), circuit, state, faults);
    if (!settled) return tl::unexpected(settled.error());
    const std::string name = names_of(circuit, faults);
    std::vector<std::string> suspects;
    for (const Fault& fault : faults) suspects.push_back(fault.mode->place);
    const SettleResult sound = settle(console.of_record(), circuit, state, {});
    if (!sound) return tl::unexpected(sound.error());
    std::vector<Picture> pictures = wirings({&*settled, state.label, name, suspects}, circuit, suspects);
    std::vector<NamedCase> cases;
    if (!faults.empty()) cases.push_back({name, faults});
    for (const PartId load : telling_loads(circuit, *sound, *settled)) {
        const VoltageLadder ladder = voltage_ladder(console.of_record(), circuit, state, load, cases, {});
        if (!ladder.empty()) pictures.push_back(ladder_drawing(ladder));
    }
    pictures.push_back(speed_drawing(telling_rows(speed_rows(console.of_record(), circuit, faults)),
                                     faults.empty() ? "" : "with " + name));
    return pictures;
}

}  // namespace voltfall
