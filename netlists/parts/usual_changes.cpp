#include "netlists/parts/usual_changes.hpp"

#include <utility>

#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

ChangesOf always(Change change) {
    return [changes = std::vector<Change>{std::move(change)}](double, double) { return changes; };
}

}  // namespace

ChangesOf opening(BranchId branch) {
    return always(OpenBranch{branch});
}

ChangesOf adding_ohms(BranchId branch) {
    return [branch](double ohms, double) { return std::vector<Change>{AddOhms{branch, ohms}}; };
}

ChangesOf becoming(BranchId branch, Law law) {
    return always(SetLaw{branch, std::move(law)});
}

ChangesOf shorting(BranchId branch) {
    return becoming(branch, Resistor{default_value("shorted_ohm")});
}

ChangesOf shorting(JointId a, JointId b) {
    return always(Connect{a, b, default_value("shorted_ohm")});
}

ChangesOf scaling(BranchId branch, double ohms) {
    return [branch, ohms](double factor, double) {
        return std::vector<Change>{SetLaw{branch, Resistor{ohms * factor}}};
    };
}

ChangesOf holding(BranchId contact, bool closed) {
    return always(HoldContact{contact, closed});
}

ChangesOf staying_in(PartId part, std::size_t position) {
    return always(HoldPosition{part, position});
}

ChangesOf joining(JointId a, JointId b) {
    return [a, b](double ohms, double) { return std::vector<Change>{Connect{a, b, ohms}}; };
}

}  // namespace voltfall
