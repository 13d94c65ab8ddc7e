#include "cli/commands/pictures.hpp"

#include <fmt/format.h>

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

}  // namespace

tl::expected<Picture, SolveFailure> sound_wiring(const Console& console, const Circuit& circuit) {
    std::optional<Settled> hardest;
    std::string label;
    for (const State& state : default_states(circuit)) {
        SettleResult settled = settle(console.of_record(), circuit, state, {});
        if (!settled) return tl::unexpected(settled.error());
        if (hardest && load_amps(*settled) <= load_amps(*hardest)) continue;
        hardest = *std::move(settled);
        label = state.label;
    }
    return wiring_drawing({&*hardest, label, {}, {}});
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
    std::vector<Picture> pictures{wiring_drawing({&*settled, state.label, name, suspects})};
    std::vector<NamedCase> cases;
    if (!faults.empty()) cases.push_back({name, faults});
    for (const PartId load : loads_of(circuit)) {
        const VoltageLadder ladder = voltage_ladder(console.of_record(), circuit, state, load, cases, {});
        if (!ladder.empty()) pictures.push_back(ladder_drawing(ladder));
    }
    pictures.push_back(
        speed_drawing(speed_rows(console.of_record(), circuit, faults), faults.empty() ? "" : "with " + name));
    return pictures;
}

}  // namespace voltfall
