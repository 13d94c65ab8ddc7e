#include "netlists/graph/separate_circuits.hpp"

#include <map>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/parts/kind.hpp"

namespace voltfall {

std::vector<std::vector<WireId>> separate_circuits(const Circuit& circuit) {
    const auto ties = [&](const WireEnd& end) {
        return end.part.valid() && end.part != circuit.battery && !joins(circuit.part(end.part), Joining::metal);
    };
    DisjointSets sets(circuit.parts.size());
    for (const Wire& wire : circuit.wires) {
        if (ties(wire.from) && ties(wire.to)) sets.join(wire.from.part.index, wire.to.part.index);
    }
    // Straps between poles and grounds come together behind the last part's number.
    const std::size_t straps = circuit.parts.size();
    std::vector<std::vector<WireId>> circuits;
    std::map<std::size_t, std::size_t> number_of;
    for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) {
        const Wire& wire = circuit.wires[i];
        const std::size_t set = ties(wire.from) ? sets.set_of(wire.from.part.index)
                                : ties(wire.to) ? sets.set_of(wire.to.part.index)
                                                : straps;
        const auto [known, added] = number_of.try_emplace(set, circuits.size());
        if (added) circuits.emplace_back();
        circuits[known->second].push_back({i});
    }
    return circuits;
}

}  // namespace voltfall
