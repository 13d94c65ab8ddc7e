#include "engine/solve/overlay.hpp"

#include <algorithm>

#include "netlists/circuit/place.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

bool names_condition(const State& state, const std::string& condition) {
    return std::any_of(state.conditions.begin(), state.conditions.end(),
                       [&](const std::string& word) { return same_word(word, condition); });
}

/// A repair takes away what the place has: of a part what it has itself, of a plug its pins and what bridges them, of a
/// wire all its pieces.
bool is_mended_at(const Circuit& circuit, const FaultMode& mode, const std::string& place) {
    const std::string owner(read_place(mode.place).owner);
    if (same_word(mode.place, place) || same_word(mode.repair, place)) return true;
    if (!mode.part.valid() && same_word(owner.substr(0, owner.find(':')), place)) return true;
    const PartId part = circuit.find_part(place);
    const bool device = part.valid() && !only_joins(circuit.part(part));
    return !device && is_cavity_of(mode.place, place);
}

/// `new M1` takes away what M1 itself has; its plug and socket stay as they are. `new C303` takes away what the plug
/// has, its pins and what bridges them; the part behind it stays as it is.
bool is_replaced(const Circuit& circuit, const FaultMode& mode, const State& state) {
    if (mode.is(ModeFact::outside_circuit)) return false;
    const bool in_new_plug = std::any_of(state.new_plugs.begin(), state.new_plugs.end(), [&](const std::string& plug) {
        return same_word(mode.place, plug) || is_cavity_of(mode.place, plug);
    });
    if (in_new_plug) return true;
    const auto is_there = [&](const std::string& place) { return is_mended_at(circuit, mode, place); };
    if (std::any_of(state.mended.begin(), state.mended.end(), is_there)) return true;
    return std::any_of(state.fitted_new.begin(), state.fitted_new.end(), [&](PartId part) {
        const std::string& name = circuit.part(part).name;
        return same_word(mode.place, name) || same_word(mode.repair, name);
    });
}

/// A motor on its dead spot starts again when it is tapped or turned by hand.
bool is_nudged(const FaultMode& mode, const State& state) {
    if (!mode.is(ModeFact::starts_by_hand)) return false;
    return std::any_of(state.handled.begin(), state.handled.end(), [&](const std::string& words) {
        return same_word(words, "tap " + mode.place) || same_word(words, "turn " + mode.place);
    });
}

/// `resistance 40mohm, hot 0.4ohm` is always there, with another size in its condition.
double size_in(const Fault& fault, const State& state) {
    const bool changed = fault.size_in_condition && names_condition(state, fault.condition);
    return changed ? *fault.size_in_condition : fault.size;
}

}  // namespace

bool present(const Circuit& circuit, const Fault& fault, const State& state) {
    if (is_replaced(circuit, *fault.mode, state) || is_nudged(*fault.mode, state)) return false;
    const bool conditional = !fault.condition.empty() && !fault.size_in_condition;
    return !conditional || names_condition(state, fault.condition);
}

void apply_faults(Network& network, std::span<const Fault> faults, const State& state) {
    for (const Fault& fault : faults) {
        if (!present(*network.circuit, fault, state) || !fault.mode->changes) continue;
        network.apply(fault.mode->changes(size_in(fault, state), fault.where));
    }
}

}  // namespace voltfall
