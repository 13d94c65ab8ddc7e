// The answer of `show`: what feeds what, what is shared, which values nobody typed.
#pragma once

#include <string>
#include <vector>

#include "engine/solve/simulator.hpp"
#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct ShownStep {
    std::string place;
    std::vector<std::string> roles;
    double ohms{};
    bool only_way{false};  ///< opening it alone cuts the load off
};

/// The way of a load or of a relay's coil.
struct ShownWay {
    std::string load;
    bool complete{false};
    double ohms{};
    std::vector<ShownStep> feed;
    std::vector<ShownStep> back;
};

struct ShownPosition {
    std::string label;
    std::vector<ShownWay> loads;
    std::vector<ShownWay> coils;
    std::vector<std::string> pulled;
    bool relays_settled{true};
};

struct ShownShare {
    std::string place;
    std::vector<std::string> positions;
    bool every{false};
};

struct ShownLoad {
    std::string load;
    std::vector<std::string> works_in;
    std::vector<ShownShare> places;
    std::vector<std::string> across;  ///< parts that stand across it: a diode
};

/// A value that the file does not say.
struct ShownDefault {
    std::string name;  ///< "contact"
    double value{};
    Unit unit{Unit::none};
    std::string source;
    std::vector<std::string> used_by;

    /// A modelling choice with no published value behind it.
    bool assumed() const { return source.find("ASSUMED") != std::string::npos; }
};

struct ShowAnswer {
    std::string circuit;
    std::string note;
    std::vector<ShownPosition> positions;
    std::vector<ShownLoad> loads;
    std::vector<std::string> floating_off;
    std::vector<std::string> contacts;  ///< moved by pressure or heat, as they stand in every position: "T1=closed"
    std::vector<ShownDefault> defaults;
    std::vector<ShownDefault> guesses;  ///< values written with ~
};

/// Traces every load's way in each position and collects the values that the file leaves to defaults and guesses. The
/// simulator is asked only where electronics decide what works.
ShowAnswer overview_of(Simulator& simulator, const Circuit& circuit);

}  // namespace voltfall
