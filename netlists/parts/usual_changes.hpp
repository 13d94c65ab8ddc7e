// What the usual faults do to one branch. Each is a mode's `changes`; `size` is the mode's.
#pragma once

#include "netlists/circuit/fault_mode.hpp"

namespace voltfall {

/// It no longer conducts.
ChangesOf opening(BranchId branch);
/// It has `size` ohms more, in series.
ChangesOf adding_ohms(BranchId branch);
/// It has another law.
ChangesOf becoming(BranchId branch, Law law);
/// It is next to copper (`shorted_ohm` of the defaults).
ChangesOf shorting(BranchId branch);
/// Two joints are next to each other's copper.
ChangesOf shorting(JointId a, JointId b);
/// It has `size` times these ohms.
ChangesOf scaling(BranchId branch, double ohms);
/// A contact that stays as it is.
ChangesOf holding(BranchId contact, bool closed);
/// A switch, key or head that stays in a position.
ChangesOf staying_in(PartId part, std::size_t position);
/// A path of `size` ohms between two joints.
ChangesOf joining(JointId a, JointId b);

}  // namespace voltfall
