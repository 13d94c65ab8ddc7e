// Where a meter may go on this circuit, and what a measurement is called.
#pragma once

#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/test.hpp"

namespace voltfall {

/// Joints that a probe may touch: open terminals and cavities, not those of a place in [closed], not the part's side of
/// a mated plug.
std::vector<JointId> permitted_joints(const Circuit& circuit);
bool is_permitted(const Circuit& circuit, JointId joint);

/// Two joints with one thing between them, as a person measures a drop.
struct DropPair {
    std::string thing;  ///< what lies between, where it has a name of its own: "C101.4"; empty for a wire
    std::string place;  ///< what must be reached
    JointId red;
    JointId black;

    /// "across C101.4" where that phrase means just these joints, else "F7.2 to C101.4@541".
    VoltsTest test(const Circuit& circuit) const;
};
/// Contacts, plugs, fuses, switch and relay contacts, loads, wires and grounds with a permitted joint on both sides.
std::vector<DropPair> drop_pairs(const Circuit& circuit);

/// Is the place, or the part or connector that it belongs to, forbidden by [closed]?
bool is_closed(const Circuit& circuit, const std::string& place);

/// Does a joint hang on a part with electronics through nothing but wires and contacts? A lamp, lead or load there
/// works on the electronics too.
bool meets_electronics(const Circuit& circuit, JointId joint);

}  // namespace voltfall
