#include "engine/figures/speed_rows.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>
#include <utility>

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

std::vector<SpeedRow> telling_rows(const std::vector<SpeedRow>& rows) {
    constexpr double alike = 0.2;  // of a lamp's amperes on a battery that charges, or that a starting motor pulls down
    std::map<std::string, std::pair<double, double>> range;  // least and most amperes, by load
    std::set<std::string> changed;
    std::set<std::string> positions;
    std::map<std::string, std::size_t> runs_in;  // positions, by load: it draws nothing in those without a row
    for (const SpeedRow& row : rows) {
        positions.insert(row.position);
        ++runs_in[row.load];
        const double amps = std::abs(row.sound.amps);
        const auto [known, added] = range.try_emplace(row.load, amps, amps);
        known->second = {std::min(known->second.first, amps), std::max(known->second.second, amps)};
        if (!row.now) continue;
        const bool same = std::abs(std::abs(row.now->amps) - amps) <= alike * amps && row.now->seen == row.sound.seen;
        if (!same) changed.insert(row.load);
    }
    std::vector<SpeedRow> telling;
    std::copy_if(rows.begin(), rows.end(), std::back_inserter(telling), [&](const SpeedRow& row) {
        const auto& [least, most] = range.at(row.load);
        return changed.contains(row.load) || runs_in.at(row.load) < positions.size() || most - least > alike * most;
    });
    return telling.empty() ? rows : telling;
}

}  // namespace voltfall
