// A fault made of changes, without a catalogue.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "netlists/circuit/fault_mode.hpp"

namespace voltfall::test {

inline Fault fault_of(const std::string& place, const std::string& words, std::vector<Change> changes,
                      ModeFacts facts = {}) {
    auto mode = std::make_shared<FaultMode>();
    mode->place = place;
    mode->mode = words;
    mode->repair = place;
    mode->facts = facts;
    mode->changes = [changes](double, double) { return changes; };
    Fault fault;
    fault.mode = mode;
    return fault;
}

}  // namespace voltfall::test
