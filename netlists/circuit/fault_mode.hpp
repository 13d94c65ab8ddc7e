// What can fail, and what that does to the branches: the fault catalogue's rows.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "netlists/circuit/ids.hpp"
#include "netlists/circuit/mode_facts.hpp"
#include "netlists/laws/laws.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

/// Another law for a branch (a dragging motor, a drifted coil, a weak battery).
struct SetLaw {
    BranchId branch;
    Law law;
};
/// Ohms in series with a branch, whatever its law.
struct AddOhms {
    BranchId branch;
    double ohms;
};
/// The branch no longer conducts.
struct OpenBranch {
    BranchId branch;
};
/// A path between two joints that should not be there. Zero is not allowed.
struct Connect {
    JointId a;
    JointId b;
    double ohms;
};
/// A contact that stays as it is, whatever switch, key or relay does.
struct HoldContact {
    BranchId branch;
    bool closed;
};
/// A switch or key that stays in a position.
struct HoldPosition {
    PartId part;
    std::size_t position;
};
/// The middle joint of a wire stands at this share of its length from the first-written end.
struct PlaceMiddle {
    WireId wire;
    double share;
};
/// A branch end that sits on another joint (swapped wires).
struct MoveEnd {
    BranchId branch;
    bool first_end;
    JointId joint;
};
/// Another fuse in the holder.
struct FitFuse {
    PartId part;
    double rating_amps;
};
/// A clutch that needs so many times its own pull volts: its air gap has worn wide.
struct PullHarder {
    PartId part;
    double factor;
};

using Change = std::variant<SetLaw, AddOhms, OpenBranch, Connect, HoldContact, HoldPosition, PlaceMiddle, MoveEnd,
                            FitFuse, PullHarder>;

/// Which class of causes a mode belongs to; the engine weighs classes.
enum class FaultClass { joint, motor, pack, wire, switch_relay, fuse_itself, battery, load, module, miswired, outside };

/// The size a mode can have. `low` to `high` is what matching searches.
struct SizeRange {
    double low{};
    double high{};
    double usual{};  ///< when a phrase gives none
    Unit unit{Unit::none};
    bool logarithmic{true};
    std::string source;
    std::string_view figure{};  ///< row of the table of bounds; empty for the one of its unit
};

/// How a mode is built from its size and place. `size` is meaningless where the mode has none; `where` is a
/// share of the wire's length, meaningful where `along_wire`.
using ChangesOf = std::function<std::vector<Change>(double size, double where)>;

/// One row of the catalogue: this thing can fail in this way.
struct FaultMode {
    std::string place;      ///< "C101.4", "R1", "542", "F7.1", "SP1@555"
    PartId part;            ///< the part that it sits in or at; invalid for a wire's
    std::string mode;       ///< "resistance", "coil 1-2 open", "limiter open", "chafe", "bridge 555"
    std::string head;       ///< words before the place, for phrases such as `swapped 541 555`; else empty
    std::string at;         ///< terminal that ends `mode`, as in `short-to-case at 2`; else empty
    std::string at_unsaid;  ///< terminal meant where a phrase names none, of a thing with rows `at` others
    std::string plain;      ///< as a technician says it: "thermal limiter of R1 open", "poor contact in C101.4"
    ModeFacts facts;
    FaultClass fault_class{FaultClass::joint};
    std::optional<SizeRange> size;
    bool along_wire{false};
    double share{1};        ///< relative weight among the modes of its thing
    bool catalogued{true};  ///< false: a phrase may name it, matching does not search it
    std::string repair;     ///< what is repaired or replaced: "M1", "C101.4", "542"
    std::string looks;      ///< what a person may see at the place, words of `look`: "melted burnt crust"
    ChangesOf changes;

    bool is(ModeFact fact) const { return facts.has(fact); }
    /// The phrase without size: "C101.4 resistance".
    std::string phrase() const;
    /// `mode` without its `at`: "short-to-case".
    std::string_view words_without_at() const;
};

using ModePtr = std::shared_ptr<const FaultMode>;

/// A fault: a row of the catalogue (or one built on demand) with its size and place.
struct Fault {
    std::shared_ptr<const FaultMode> mode;
    double size{};
    double where{0.5};
    std::string condition;                    ///< "hot", "bump" …: present only when a state says so; empty = always
    std::optional<double> size_in_condition;  ///< `resistance 40mohm, hot 0.4ohm`
};

}  // namespace voltfall
