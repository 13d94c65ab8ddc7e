// A chopper averaged over its period: three straight branches.
#pragma once

#include <vector>

#include "netlists/parts/layout.hpp"

namespace voltfall {

/// The averaged chopper of duty d between a supply and a load whose current does not die between pulses: for the share
/// d of the time the load is on the supply through `on_ohms`, for the rest its current free-wheels through a diode of
/// `diode_volts` and the same ohms. Mean load volts are d Vs - (1 - d) Vf - R I, mean supply current is d I (textbook
/// averaging of a buck converter). With g = 1/R that is three branches: g d from the supply to the load, g (1 - d) from
/// the load back, and -g d (1 - d) across the supply, the last two against -Vf.
struct Chopper {
    double on_ohms{};
    double diode_volts{};
};

/// Which branches a chopper drives. The load is switched at its plus (`high`) or at its minus.
struct ChopperBranches {
    BranchId path;   ///< supply side to the switched side of the load
    BranchId wheel;  ///< free-wheel, from there to the other pole
    BranchId cross;  ///< across the supply
};

/// Lays it. `output` is the switched joint of the load.
ChopperBranches lay_chopper(Layout& layout, const Chopper& chopper, bool high, JointId plus, JointId minus,
                            JointId output);

/// The laws of path, wheel and cross at a duty; a duty of nought opens all.
std::vector<Law> chopper_laws(const Chopper& chopper, double duty);

/// Below this a chopper is off: the diode's drop would be more than what is left (ASSUMED).
inline constexpr double least_duty = 0.05;

}  // namespace voltfall
