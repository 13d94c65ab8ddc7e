#include "engine/figures/repair_reach.hpp"

#include <vector>

#include "netlists/circuit/place.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

std::string place_in(const std::string& repair) {
    return repair.substr(0, repair.find(' '));
}

Circuit::Reach reach_of_repair(const Circuit& circuit, const std::string& named) {
    const std::string repair = place_in(named);
    const std::string_view owner = read_place(repair).owner;
    std::vector<std::string> places = {repair, std::string(owner)};
    for (const Part& part : circuit.parts) {
        if (part.plug.empty()) continue;
        if (same_word(part.name, owner)) places.push_back(part.plug);
        if (same_word(part.plug, owner)) places.push_back(part.name);
    }
    if (const WireId wire = circuit.find_wire(repair); wire.valid())
        for (const WireEnd* end : {&circuit.wire(wire).from, &circuit.wire(wire).to})
            places.push_back(circuit.joint(end->joint).place);
    Circuit::Reach best = circuit.reach_of(repair);
    for (const std::string& place : places) {
        const Circuit::Reach reach = circuit.reach_of(place);
        if (reach.known && (!best.known || reach.minutes < best.minutes)) best = reach;
    }
    return best;
}

std::vector<std::string> replaced_with(const Circuit& circuit, const std::string& repair) {
    for (const auto& [place, words] : circuit.together)
        if (place == repair) return words;
    return {};
}

}  // namespace voltfall
