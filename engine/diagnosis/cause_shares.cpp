#include "engine/diagnosis/cause_shares.hpp"

#include <algorithm>

#include "netlists/circuit/place.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

// No case table counts these, so they are small and ASSUMED. A battery that is the cause of one load's complaint is
// rare.
constexpr double battery_share = 0.03;
constexpr double other_load_of_a_blower = 0.02;  ///< lamps and the like beside the blower: 0 of 36 cases

/// Causes found at joints, in parts where several places are equal, and the joints of a circuit: counted by
/// tests/shares over the 57 confirmed and likely cases. No bridge was among them; half of one is ASSUMED.
constexpr std::array<JointCount, joint_sorts> counted_joints{{
    // found, things
    {13.8, 10.5},  // plug
    {3.2, 6.1},    // seat
    {0.0, 0.7},    // terminal
    {2.1, 1.4},    // ground
    {0.2, 2.9},    // splice
    {0.5, 3.1},    // bridge
}};
/// Weight of the rate of all joints in the rate of one sort, in causes (ASSUMED: a sort seen in no case still fails).
constexpr double weight_of_all_joints = 2;

/// Cases behind the shares of blowers (confirmed ones of the list that the shares were counted in) and of the rest,
/// with the weight of the blower's shares in these.
constexpr double blower_cases = 52;
constexpr double other_cases = 41;

/// Things of a class in the circuits of the cases, on average (tests/shares).
double things_usual(FaultClass fault_class) {
    switch (fault_class) {
        case FaultClass::wire:
            return 10.2;
        case FaultClass::switch_relay:
            return 1.7;
        case FaultClass::fuse_itself:
            return 1.4;
        case FaultClass::joint:
        case FaultClass::motor:
        case FaultClass::pack:
        case FaultClass::battery:
        case FaultClass::load:
        case FaultClass::module:
        case FaultClass::miswired:
        case FaultClass::outside:
            return 1;
    }
    return 1;
}

std::size_t index(FaultClass fault_class) {
    return static_cast<std::size_t>(fault_class);
}
std::size_t index(CircuitPurpose purpose) {
    return static_cast<std::size_t>(purpose);
}

}  // namespace

CircuitPurpose purpose_of(const Circuit& circuit) {
    const bool pack =
        std::any_of(circuit.parts.begin(), circuit.parts.end(), [](const Part& part) { return !part.coils.empty(); });
    const bool called = std::any_of(circuit.controls.begin(), circuit.controls.end(), [](const Control& control) {
        return lower(control.word).find("blower") != std::string::npos;
    });
    return pack || called ? CircuitPurpose::blower : CircuitPurpose::other;
}

JointSort joint_sort(const Circuit& circuit, const FaultMode& mode) {
    if (!mode.part.valid()) return JointSort::terminal;
    const Part& part = circuit.part(mode.part);
    if (joins(part, Joining::metal)) return JointSort::ground;
    if (joins(part, Joining::legs)) return JointSort::splice;
    if (joins(part, Joining::cavities))
        return read_place(mode.place).cavity.empty() ? JointSort::bridge : JointSort::plug;
    if (part.fuse || part.relay) return JointSort::seat;
    if (read_place(mode.place).cavity.empty()) return JointSort::bridge;
    return read_place(mode.place).owner == part.name ? JointSort::terminal : JointSort::plug;
}

CauseShares::CauseShares() : cases_{blower_cases, other_cases}, joints_(counted_joints) {
    struct Row {
        FaultClass fault_class;
        double blower;
        double other;
    };
    const Row rows[] = {
        {FaultClass::joint, default_value("prior_joint"), default_value("prior_other_joint")},
        {FaultClass::motor, default_value("prior_motor"), default_value("prior_other_motor")},
        {FaultClass::pack, default_value("prior_pack"), default_value("prior_other_pack")},
        {FaultClass::wire, default_value("prior_wire"), default_value("prior_other_wire")},
        {FaultClass::switch_relay, default_value("prior_switch_relay"), default_value("prior_other_switch_relay")},
        {FaultClass::fuse_itself, default_value("prior_fuse_itself"), default_value("prior_fuse_itself")},
        {FaultClass::battery, battery_share, battery_share},
        {FaultClass::module, default_value("prior_module_fitted"), default_value("prior_module_fitted")},
        {FaultClass::miswired, default_value("prior_miswired"), default_value("prior_miswired")},
        {FaultClass::load, other_load_of_a_blower, default_value("prior_other_load")},
        {FaultClass::outside, default_value("prior_outside"), default_value("prior_outside")},
    };
    for (const Row& row : rows) {
        share(row.fault_class, CircuitPurpose::blower) = row.blower;
        share(row.fault_class, CircuitPurpose::other) = row.other;
    }
}

const CauseShares& CauseShares::usual() {
    static const CauseShares shares;
    return shares;
}

double& CauseShares::share(FaultClass fault_class, CircuitPurpose purpose) {
    return shares_[index(purpose)][index(fault_class)];
}

double CauseShares::of_class(FaultClass fault_class, CircuitPurpose purpose) const {
    return shares_[index(purpose)][index(fault_class)];
}

double CauseShares::joint_rate(JointSort sort) const {
    double found = 0;
    double things = 0;
    for (const JointCount& joint : joints_) {
        found += joint.found;
        things += joint.things;
    }
    const JointCount& own = joints_[static_cast<std::size_t>(sort)];
    // As many causes of a usual joint are added as their weight says, on as many more things as have them.
    const double usual = found / things;
    return (own.found + weight_of_all_joints) / (own.things + weight_of_all_joints / usual) / found;
}

double CauseShares::of_thing(const Circuit& circuit, const FaultMode& mode, CircuitPurpose purpose) const {
    const double share = of_class(mode.fault_class, purpose);
    if (mode.fault_class == FaultClass::joint) return share * joint_rate(joint_sort(circuit, mode));
    return share / things_usual(mode.fault_class);
}

CauseShares CauseShares::without(const Circuit& circuit, const FaultMode& cause) const {
    CauseShares rest = *this;
    const CircuitPurpose purpose = purpose_of(circuit);
    double& cases = rest.cases_[index(purpose)];
    for (std::size_t i = 0; i < classes; ++i) {
        double& one = rest.shares_[index(purpose)][i];
        const double found = one * cases - (i == index(cause.fault_class) ? 1 : 0);
        one = std::max(found, 0.0) / (cases - 1);
    }
    cases -= 1;
    if (cause.fault_class == FaultClass::joint) {
        double& found = rest.joints_[static_cast<std::size_t>(joint_sort(circuit, cause))].found;
        found = std::max(found - 1, 0.0);
    }
    return rest;
}

}  // namespace voltfall
