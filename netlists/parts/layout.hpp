// What a kind lays into the circuit: joints, branches, fault modes. One Layout a circuit.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// What a fault mode is called: the words of its phrase, and one plain sentence that names the thing.
struct ModeWords {
    std::string words;  ///< "limiter open"
    std::string plain;  ///< "thermal limiter of R1 open"
};

/// Wires that touch each other, and cavities of one connector or plug with water or dirt between them.
ModeWords wire_bridge_words(const std::string& wire, const std::string& other);
ModeWords cavity_bridge_words(const std::string& place, const std::string& first, const std::string& second);

/// The two plain sentences of a contact: when it does not touch, and when it has ohms.
struct ContactPlain {
    std::string open;
    std::string poor;
};

/// What a branch is called within its place, and what it is to other rooms.
struct BranchRole {
    std::string words;  ///< "coil 1-2"
    BranchSort sort;
};

class Layout {
public:
    explicit Layout(Circuit& circuit) : circuit_(circuit) {}

    /// The part that is being laid; set by the reader before it calls the kind. Invalid while wires are.
    void begin(PartId part) { part_ = part; }
    PartId part_id() const { return part_; }
    Circuit& circuit() { return circuit_; }

    /// Is the terminal used by a wire or a feed?
    bool used(std::string_view terminal) const;
    void mark_used(PartId part, std::string_view terminal);

    /// The joint inside the part at a terminal. Where the part plugs in, or `[plugs]` names a connector, a socket
    /// contact is laid between it and the wire side, with its own fault modes, the first time it is asked for.
    JointId pin(std::string_view terminal);
    /// A joint that no probe reaches.
    JointId inner(std::string_view name);

    BranchId branch(BranchRole role, JointId a, JointId b, Law law, double tolerance = 0);
    /// As above, between two terminals: the joint of the first comes into being before the second's, so that the
    /// order of joints is the same whichever compiler orders the arguments of a call.
    BranchId branch(BranchRole role, std::string_view from, std::string_view to, Law law, double tolerance = 0);
    /// As `branch`, for a branch that a fault phrase calls by a place of its own ("C101.4", "SP1@555").
    BranchId branch_at(std::string_view place, BranchRole role, JointId a, JointId b, Law law, double tolerance = 0);

    /// Declares a fault mode of the part (place = its name, repair = its name); returned to be refined. `facts` is all
    /// that other rooms know of it beside its changes.
    FaultMode& mode(ModeWords words, FaultClass fault_class, ModeFacts facts, ChangesOf changes);
    /// `open` and `resistance` of one branch of class `joint` under a place of its own, which is also what is repaired.
    void contact_modes(std::string_view place, BranchId branch, ContactPlain plain, std::string_view looks);
    /// Declares a mode at a place of its own, in or at the part being laid.
    FaultMode& mode_at(std::string_view place, ModeWords words, FaultClass fault_class, ModeFacts facts,
                       ChangesOf changes);

    /// Sockets without a plug of their own name: their wire side is called by the first wire on it ("F7.2@541").
    const std::vector<JointId>& sockets_without_wire() const { return sockets_without_wire_; }
    /// Names such a joint. Returns false for any other joint, and from the second wire on.
    bool name_socket(JointId joint, std::string_view wire);

    JointId add_joint(Joint joint);
    BranchId add_branch(Branch branch);

private:
    Circuit& circuit_;
    PartId part_;
    std::vector<std::pair<PartId, std::string>> used_;
    std::vector<JointId> sockets_without_wire_;
};

/// Ranges of sizes shared by the kinds, from the defaults table.
SizeRange resistance_range();
SizeRange contact_to_metal_range(double usual);
SizeRange factor_range(std::string_view range_row, std::string_view usual_row);

/// One sigma of a contact's ohms, as the natural logarithm of a factor (`tolerance_contact_factor`).
double contact_sigma();
/// One sigma of a typed or default tolerance: a third of it.
double sigma_of(const Parameter& parameter, std::string_view default_row);

}  // namespace voltfall
