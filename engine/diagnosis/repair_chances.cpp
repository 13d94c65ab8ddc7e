#include "engine/diagnosis/repair_chances.hpp"

#include <algorithm>
#include <map>

#include "engine/readings/rounding.hpp"
#include "netlists/circuit/place.hpp"
#include "netlists/parts/kind.hpp"

namespace voltfall {

namespace {

/// Faults of a place that are told one by one.
constexpr std::size_t most_faults = 6;
/// What has less than this share of its place's chance is not told there.
constexpr double worth_telling = 0.02;

}  // namespace

std::string visited_place(const Circuit& circuit, const FaultMode& mode) {
    if (mode.is(ModeFact::outside_circuit)) return mode.repair;
    const std::string owner(read_place(mode.place).owner);
    if (!mode.part.valid()) return owner.substr(0, owner.find(':'));  // a wire; its pieces are one
    const Part& part = circuit.part(mode.part);
    if (owner != part.name) return owner;  // a plug with a name of its own
    // A fuse is pulled to look at its seat; what plugs in otherwise is one thing and its plug another.
    const bool at_terminals = mode.fault_class == FaultClass::joint && !only_joins(part) && !part.fuse;
    return at_terminals ? part.name + " terminals" : part.name;
}

namespace {

/// Whose minutes count: "M1" of "M1 terminals" and "P1" of "P1 pressure".
std::string reached_with(const Circuit& circuit, const Suspect& suspect, const std::string& place) {
    if (!suspect.mode || !suspect.mode->part.valid()) return place;
    const std::string& part = circuit.part(suspect.mode->part).name;
    return read_place(suspect.mode->place).owner == part ? part : place;
}

}  // namespace

std::vector<RepairChance> repair_chances(const Circuit& circuit, const Weighed& weighed, double least) {
    std::vector<RepairChance> chances;
    std::map<std::string, std::size_t> number;
    // In the order of the ranking, so that equals stand in the catalogue's.
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        const std::string place = suspect.mode ? visited_place(circuit, *suspect.mode) : "nothing";
        const auto [entry, added] = number.try_emplace(place, chances.size());
        if (added) chances.push_back({place, !suspect.mode, reached_with(circuit, suspect, place), 0, {}});
        RepairChance& chance = chances[entry->second];
        chance.probability += suspect.probability;
        if (suspect.probability < worth_telling * chance.probability) continue;
        if (chance.faults.size() < most_faults) chance.faults.push_back(suspect.phrase());
    }
    for (RepairChance& chance : chances) chance.probability = nine_digits(chance.probability);
    std::stable_sort(chances.begin(), chances.end(),
                     [](const RepairChance& a, const RepairChance& b) { return a.probability > b.probability; });
    std::erase_if(chances, [&](const RepairChance& chance) { return chance.probability < least; });
    return chances;
}

}  // namespace voltfall
