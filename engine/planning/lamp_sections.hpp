// A lamp in the fuse's seat: where a short lies, by the millivolts of each section.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/readings/probes.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// With a lamp in place of the blown fuse a short draws the lamp's current only, and it shows as millivolts in every
/// section between the lamp and the short, none beyond it: the last section that shows any leads to the place, without
/// cutting anything.
struct LampSections {
    std::string fuse;
    std::vector<DropPair> sections;  ///< from the fuse on
    struct Short {
        std::string fault;  ///< "542 chafe 10mohm"
        double lamp_volts{};
        std::vector<double> millivolts;  ///< by section
    };
    std::vector<Short> shorts;
};

/// For the first fuse of the state that a lamp stands in: a chafe in the middle of every wire behind it that a short
/// meets before a load, and every load shorted to its case. Nothing where the state has no lamp or nothing lies behind
/// it.
std::optional<LampSections> lamp_sections(Simulator& simulator, const Circuit& circuit, const State& state);

}  // namespace voltfall
