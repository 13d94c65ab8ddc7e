#include "engine/readings/handling.hpp"

#include <algorithm>
#include <string>

#include "engine/readings/word_evidence.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

template <class Meets>
bool any_end(const Circuit& circuit, WireId wire, const Meets& meets) {
    if (!wire.valid()) return false;
    const Wire& ends = circuit.wire(wire);
    return meets(&ends.from) || meets(&ends.to);
}

}  // namespace

bool is_handled_at(const Circuit& circuit, const FaultMode& mode, std::string_view words) {
    const std::size_t verb = std::min(words.find(' '), words.size());
    const std::string place(words.substr(std::min(words.find_first_not_of(' ', verb), words.size())));
    if (sits_at(circuit, mode, place)) return true;
    const bool at_end_of_it = any_end(circuit, circuit.find_wire(place), [&](const WireEnd* end) {
        return sits_at(circuit, mode, circuit.joints.at(end->joint.index).place);
    });
    return at_end_of_it || any_end(circuit, circuit.find_wire(mode.place), [&](const WireEnd* end) {
               return same_word(circuit.joints.at(end->joint.index).place, place);
           });
}

}  // namespace voltfall
