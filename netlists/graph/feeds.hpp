// What feeds what: every load's way from battery plus to battery minus, in every position of every control.
// Found by the graph alone; relays are set by what their coils are tied to. The solver is the authority on volts: a
// relay that is tied to both ends but gets too few volts to pull is shown as pulled here.
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// One thing on a way, named as a fault phrase names it: both halves of a wire, all coils of a pack are one step. The
/// ties of a bus to its fuse and of metal to battery minus are left out.
struct WayStep {
    std::string place;               ///< "542", "C101.4", "R1", "SP1@555"
    std::vector<std::string> roles;  ///< of its branches, in order of the current: "coil 3-4", "limiter", "contact"
    std::vector<BranchId> branches;  ///< in order of the current
    double ohms{0};                  ///< of the branches together, as drawn; diodes count nothing
    bool only_way{false};            ///< opening it alone cuts the load off
};

/// A load's way. `load` is a motor, lamp, clutch or heater, or a relay (its coil).
struct LoadWay {
    PartId load;
    bool complete{false};       ///< current can flow
    std::vector<WayStep> feed;  ///< battery plus to the load; empty where there is none
    std::vector<WayStep> back;  ///< load to battery minus; empty where there is none
    double ohms{0};             ///< of the whole way without the load
};

/// All loads in one position of one control, the other controls off.
struct PositionFeeds {
    PartId control;  ///< invalid where the circuit has no control
    std::size_t position{0};
    std::string label;           ///< "hi"; "S1=hi" where two controls have the word; "key on"
    std::vector<LoadWay> loads;  ///< in the order of the parts
    std::vector<LoadWay> coils;  ///< of the relays, in the order of the parts
    std::vector<PartId> pulled;  ///< relays that are pulled
    bool relays_settled{true};   ///< false: a relay takes its own feed away
};

/// A place on the ways of a load and the positions in which the load's current runs through it.
struct SharedPlace {
    std::string place;
    std::vector<std::string> positions;
    bool every{false};  ///< in every position in which the load works
};

/// One load over all positions.
struct LoadShares {
    PartId load;
    std::vector<std::string> works_in;  ///< labels of the positions with a complete way
    std::vector<SharedPlace> places;    ///< in order of the current, of the first position that shows each
};

struct Feeds {
    std::vector<PositionFeeds> positions;
    std::vector<LoadShares> loads;
    std::vector<JointId> floating_off;  ///< joints that nothing ties to the battery while every control is off
    bool all_positions{true};           ///< false: the circuit is so large that only the first positions were traced
};

/// Traces all feeds: every position of the circuit's controls in turn, then what closes a switch or contact that is no
/// control ("P1=closed"). The key stands at run as soon as one of them is not off, else at on.
Feeds trace_feeds(const Circuit& circuit);

}  // namespace voltfall
