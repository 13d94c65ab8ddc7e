// Zener diode, A (terminal 1) and K (terminal 2): a diode from A to K, and from K to A once its volts are reached.
#include <cmath>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"zener", "zener volts", Unit::volt, 1, 200},
    {"zener", "zener ohms", Unit::ohm, 0.01, 1e4},
};

/// Data sheets of small zeners give their volts at this current (common practice, no source), amperes.
constexpr double test_amps = 5e-3;

void read(PartReader& reader, Part& part) {
    reader.required(part, "zener volts", Unit::volt);
    reader.optional(part, "zener ohms", Unit::ohm, 10, "slope of a small zener of 5 to 24 V, ASSUMED");
}

void lay(const Part& part, Layout& layout) {
    const JointId anode = layout.pin("1");
    const JointId cathode = layout.pin("2");
    const Diode junction{default_value("diode_i_sat"), default_value("diode_n")};
    const BranchId forward = layout.branch({"diode", BranchSort::other}, anode, cathode, junction);
    // The way back: a junction that blocks until the volts behind it are passed. What it drops itself at the test
    // current is part of the zener's volts.
    const double drop = junction.emission * diode_thermal_volts() * std::log1p(test_amps / junction.saturation_amps);
    const double ohms = part.value("zener ohms");
    const JointId inside = layout.inner("breakdown");
    const BranchId gate = layout.branch({"breakdown", BranchSort::other}, cathode, inside, junction);
    layout.branch({"volts", BranchSort::other}, inside, anode,
                  Stage{1 / ohms, part.value("zener volts") - drop - test_amps * ohms, true});
    FaultMode& open =
        layout.mode({"open", "zener " + part.name + " open"}, FaultClass::load, {}, [forward, gate](double, double) {
            return std::vector<Change>{OpenBranch{forward}, OpenBranch{gate}};
        });
    open.looks = "burnt cracked";
    FaultMode& shorted =
        layout.mode({"shorted", "zener " + part.name + " shorted"}, FaultClass::load, {}, shorting(forward));
    shorted.looks = "burnt";
    shorted.share = 2;  // an overload melts the junction together before it parts (common practice, no source)
}

}  // namespace

constinit const Kind zener_kind = passive_kind({
    .word = "zener",
    .example = "zener 24V",
    .fitting = Fitting::wired,
    .drop = Drop::by_design,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "A=1 K=2",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
