// One pass over the positions of all switches: what is fed, grounded, guarded or shorted in any of them.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "netlists/graph/poles.hpp"

namespace voltfall {

/// Whether current can reach a load or coil, over all positions looked at.
struct EndsSeen {
    bool first_plus{false};  ///< the branch's first joint was tied to battery plus in some position
    bool first_minus{false};
    bool second_plus{false};
    bool second_minus{false};
    bool across{false};  ///< current could flow in some position

    bool plus() const { return first_plus || second_plus; }
    bool minus() const { return first_minus || second_minus; }
};

/// A way from a battery's plus to its minus that meets no load.
struct DeadShort {
    PartId battery;
    std::string position;  ///< "S1 at hi"; empty as drawn
    std::vector<BranchId> branches;
};

/// Two batteries whose volts do not agree where they are tied together.
struct Fight {
    PartId first;
    PartId second;
    double first_volts{};  ///< that the first (and what is in series with it) gives between the ties
    double second_volts{};
};

struct Survey {
    std::vector<EndsSeen> loads;               ///< by part: its load branch
    std::vector<EndsSeen> coils;               ///< by part: its relay coil
    std::vector<std::vector<WireId>> guarded;  ///< by part: wires that a short behind this fuse meets before a load
    std::vector<DeadShort> shorts;             ///< the first found of each battery
    std::vector<Fight> fights;
    /// The pole of every joint with every contact closed, for what needs three switches together; empty where singles
    /// and pairs of positions were all there is.
    std::vector<Pole> all_closed;

    /// Could current flow between these joints with every contact closed? False where `all_closed` is empty.
    bool could_flow(JointId a, JointId b) const;
};

/// Tries the drawing at rest, every position of every switch, key and contact with the others at rest, then, while
/// some load or coil has no way yet, pairs of positions. Relays are set by the graph. A large circuit gets fewer
/// positions.
Survey survey_positions(const Circuit& circuit);

/// Calls `look` with each network that the survey tries and the words for its position, singles before pairs. `look`
/// returns false to stop. Returns false when there were too many to try.
enum class Setting { at_rest, single, pair };
bool each_position(const Circuit& circuit,
                   const std::function<bool(const Network&, const Reach&, Setting, const std::string&)>& look);

/// Ties of a load that runs in series with others: walks through other loads too. By part; only the wanted ones are
/// looked at.
std::vector<EndsSeen> ends_through_loads(const Circuit& circuit, const std::vector<PartId>& wanted);

/// Everything that could be closed stands closed: for questions about what is wired at all.
Network all_closed(const Circuit& circuit);

}  // namespace voltfall
