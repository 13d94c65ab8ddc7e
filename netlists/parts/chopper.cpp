#include "netlists/parts/chopper.hpp"

namespace voltfall {

std::vector<Law> chopper_laws(const Chopper& chopper, double duty) {
    if (duty < least_duty) return {Stage{}, Stage{0, 0, false}, Stage{0, 0, false}};
    const double siemens = 1 / chopper.on_ohms;
    // All three run from plus to minus of what they lie across; at the low side the load's switched joint is the plus
    // end of the path and the minus end of the wheel.
    const double wheel_emf = -chopper.diode_volts;
    return {Stage{siemens * duty, 0, true}, Stage{siemens * (1 - duty), wheel_emf, false},
            Stage{-siemens * duty * (1 - duty), wheel_emf, false}};
}

ChopperBranches lay_chopper(Layout& layout, const Chopper& chopper, bool high, JointId plus, JointId minus,
                            JointId output) {
    const std::vector<Law> full = chopper_laws(chopper, 1);
    ChopperBranches laid;
    laid.path = high ? layout.branch({"output", BranchSort::other}, plus, output, full[0])
                     : layout.branch({"output", BranchSort::other}, output, minus, full[0]);
    laid.wheel = high ? layout.branch({"free-wheel", BranchSort::signal}, output, minus, full[1])
                      : layout.branch({"free-wheel", BranchSort::signal}, plus, output, full[1]);
    laid.cross = layout.branch({"averaging", BranchSort::signal}, plus, minus, full[2]);
    return laid;
}

}  // namespace voltfall
