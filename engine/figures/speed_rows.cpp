#include "engine/figures/speed_rows.hpp"

#include <cmath>

#include "netlists/phrases/loads.hpp"

namespace voltfall {

std::vector<SpeedRow> speed_rows(Simulator& simulator, const Circuit& circuit, std::span<const Fault> faults) {
    constexpr double least_amps = 0.01;
    std::vector<SpeedRow> rows;
    for (const State& state : default_states(circuit)) {
        const SettleResult sound = settle(simulator, circuit, state, {});
        if (!sound) continue;
        std::optional<Settled> now;
        if (!faults.empty()) {
            if (SettleResult faulted = settle(simulator, circuit, state, faults)) now = *std::move(faulted);
        }
        for (const PartId load : loads_of(circuit)) {
            SpeedRow row{state.label, circuit.part(load).name, load_state(*sound, load, &*sound), std::nullopt};
            if (now) row.now = load_state(*now, load, &*sound);
            const bool runs =
                std::abs(row.sound.amps) > least_amps || (row.now && std::abs(row.now->amps) > least_amps);
            if (runs) rows.push_back(std::move(row));
        }
    }
    return rows;
}

}  // namespace voltfall
