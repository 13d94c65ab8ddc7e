#include "netlists/phrases/test.hpp"

namespace voltfall {

const Leads* leads_of(const Tested& tested) {
    if (const auto* volts = std::get_if<VoltsTest>(&tested)) return volts;
    if (const auto* ohms = std::get_if<OhmsTest>(&tested)) return ohms;
    if (const auto* lamp = std::get_if<LampTest>(&tested)) return lamp;
    return std::get_if<BeepTest>(&tested);
}

Leads* leads_of(Tested& tested) {
    return const_cast<Leads*>(leads_of(static_cast<const Tested&>(tested)));
}

std::vector<PartId> contacts_moved(const Circuit& circuit, const QuantityTest& test) {
    if (test.part.valid()) return {test.part};
    std::vector<PartId> contacts;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const auto& quantity = circuit.parts[i].moved_by;
        if (!quantity || quantity->unit != Unit::pascal) continue;
        const GasSide side = quantity->closes_above ? GasSide::low : GasSide::high;
        if (test.side == GasSide::both || test.side == side) contacts.push_back({i});
    }
    return contacts;
}

}  // namespace voltfall
