// Regulated supply of sensors (a 5 V reference): its volts up to a current limit, none where its own feed is lost.
#include <cmath>

#include "netlists/parts/command_input.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"source", "output volts", Unit::volt, 0.5, 15},
    {"source", "limit amps", Unit::ampere, 1e-3, 5},
};

/// Ohms at its pin (ASSUMED).
constexpr double output_ohms = 0.2;
/// A limit as a source of volts this many times the output's, behind ohms: its amperes hardly move with the output's.
constexpr double stiffness = 1000;
/// Behind these siemens the volts stand while they take the limit's amperes.
constexpr double held_siemens = 1000;
/// A junction much sharper than a real one holds the output at its volts until the limit takes over.
constexpr double sharpness = 0.05;

void read(PartReader& reader, Part& part) {
    reader.after_or(part, "limit", "limit amps", Unit::ampere, 0.05, "a sensor supply's own limit, ASSUMED");
    reader.required(part, "output volts", Unit::volt);
}

std::vector<std::string> terminals(const Part&) {
    return {"+", "-", "OUT"};
}

Electronics regulator(JointId plus, JointId minus, const std::vector<BranchId>& driven, std::vector<Law> alive,
                      double live) {
    Electronics made;
    made.seen = {plus, minus};
    made.driven = driven;
    made.full = 1;
    made.none = 0;
    made.wanted = [live](std::span<const double> volts) { return volts[0] - volts[1] < live ? 0.0 : 1.0; };
    made.laws = [alive = std::move(alive)](double lives) {
        return lives > 0 ? alive : std::vector<Law>(alive.size(), Stage{});
    };
    return made;
}

void modes(const std::string& name, Layout& layout, BranchId output, JointId pin, JointId minus) {
    FaultMode& dead =
        layout.mode({"dead", name + " gives no volts"}, FaultClass::module, {ModeFact::may_touch}, opening(output));
    dead.share = 2;
    dead.looks = "burnt wet";
    FaultMode& weak = layout.mode({"weak", name + " gives way under its sensors"}, FaultClass::module,
                                  {ModeFact::may_touch}, adding_ohms(output));
    weak.size = SizeRange{10, 1e4, 330, Unit::ohm, true, "ASSUMED"};
    FaultMode& low = layout.mode({"output shorted-low", "output of " + name + " shorted to its ground inside"},
                                 FaultClass::module, {ModeFact::may_touch}, shorting(pin, minus));
    low.share = 0.5;
}

void lay(const Part& part, Layout& layout) {
    const JointId plus = layout.used("+") ? layout.pin("+") : layout.circuit().bus_30;
    const JointId minus = layout.used("-") ? layout.pin("-") : layout.circuit().metal;
    const JointId pin = layout.pin("OUT");
    const double volts = part.value("output volts");
    const double limit = part.value("limit amps");
    layout.branch({"own draw", BranchSort::signal}, plus, minus, Resistor{default_value("electronics_draw_ohm")});
    const JointId held = layout.inner("held");
    const JointId level = layout.inner("level");
    const Diode clamp{default_value("diode_i_sat"), sharpness};
    const double drop = sharpness * diode_thermal_volts() * std::log1p(limit / 2 / clamp.saturation_amps);
    const Stage current{limit / (stiffness * volts - volts), stiffness * volts, true};
    const Stage reference{held_siemens, volts - drop, true};
    const BranchId driver = layout.branch({"limit", BranchSort::signal}, held, minus, current);
    layout.branch({"clamp", BranchSort::signal}, held, level, clamp);
    const BranchId at_volts = layout.branch({"level", BranchSort::signal}, level, minus, reference);
    const BranchId output = layout.branch({"output", BranchSort::signal}, held, pin, Resistor{output_ohms});
    layout.circuit().parts[layout.part_id().index].electronics =
        regulator(plus, minus, {driver, at_volts}, {current, reference}, least_working_volts(layout.circuit()));
    modes(part.name, layout, output, pin, minus);
}

}  // namespace

constinit const Kind source_kind = passive_kind({
    .word = "source",
    .example = "source 5V, limit 50mA",
    .fitting = Fitting::plugs_in,
    .drop = Drop::by_design,
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "B+=+ GND=- REF=OUT 15=+ 30=+ 31=-",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
