// A brushless blower or fan with its controller inside: feed, ground and a command.
#include <algorithm>
#include <cmath>

#include "netlists/parts/chopper.hpp"
#include "netlists/parts/command_input.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    VOLTFALL_COMMAND_FIGURES("fan-unit"),
    {"fan-unit", "rated amps", Unit::ampere, 0.05, 500},
    {"fan-unit", "rated volts", Unit::volt, 1, most_supply},
    {"fan-unit", "rated rpm", Unit::rpm, 20, 60000},
    {"fan-unit", "least amps", Unit::ampere, 0.01, 500},
    {"fan-unit", "cut-out", Unit::celsius, 50, 250},
};

void read(PartReader& reader, Part& part) {
    reader.at_may_mark(Unit::volt);
    read_command(reader, part);
    reader.after(part, "least", "least amps", Unit::ampere);
    reader.after_or_row(part, "cuts", "cut-out", Unit::celsius, "fan_cut_out");
    reader.required(part, "rated amps", Unit::ampere);
    reader.optional_row(part, "rated volts", Unit::volt, row_at("motor_volts", reader.circuit().supply));
    reader.optional_row(part, "rated rpm", Unit::rpm, "motor_rpm");
    if (!part.parameter("least amps")) {
        part.parameters.push_back({"least amps", part.value("rated amps") * 0.08, Unit::ampere,
                                   "eight hundredths of the rated amps, ASSUMED", 0, false, false});
    }
    if (part.value("least amps") >= part.value("rated amps")) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "': the amps at the least command are not below the rated ones",
                             "for example " + std::string(part.kind->example));
    }
    reader.feed(part);
}

std::vector<std::string> terminals(const Part&) {
    return {"+", "-", "CMD"};
}

/// The bridge and the windings stand as one motor behind a chopper: a brushless motor's mean volts per turn follow the
/// share of the time that its bridge is on. Its bearing takes little and no brush drops anything.
Motor motor_of(const Part& part, double supply) {
    const double amps = part.value("rated amps");
    const double stall = amps * default_value("motor_stall_factor");
    const double idle = amps * default_value("motor_idle_fraction") / 2;
    Motor motor = motor_from_nameplate({part.value("rated volts"), amps, part.value("rated rpm"), stall, idle, 0});
    motor.inertia = default_value("motor_inertia");
    motor.inductance = default_value(row_at("motor_inductance", supply));
    return motor;
}

double feed_amps(const Motor& motor, double volts, double duty) {
    double memory = 0;
    return duty * motor.flow(BranchState{}, duty * volts, memory).amps;
}

/// The duty at which it draws the amps of the least command: bisection, for amps grow with the duty.
double duty_at(const Motor& motor, double volts, double amps) {
    double low = least_duty;
    double high = 1;
    constexpr int halvings = 60;
    for (int i = 0; i < halvings; ++i) {
        const double middle = (low + high) / 2;
        (feed_amps(motor, volts, middle) < amps ? low : high) = middle;
    }
    return high;
}

/// A held rotor's mean current while the controller tries, gives up and tries again.
Motor held(const Part& part, Motor motor) {
    motor.rotor = Rotor::seized;
    motor.armature_ohms = part.value("rated volts") / (part.value("rated amps") * default_value("fan_retry_share"));
    return motor;
}

/// One of three phases missing: two thirds of the torque for the same current, and more ohms (ASSUMED).
Motor without_phase(Motor motor) {
    constexpr double torque_left = 2.0 / 3;
    motor.armature_ohms *= 2;
    motor.constant *= torque_left;
    motor.fan_torque *= 2;
    return motor;
}

/// Motor and controller are one part, renewed together: all its faults are of one class, or it would count twice.
void motor_modes(const Part& part, Layout& layout, BranchId winding, const Motor& healthy) {
    const std::string& name = part.name;
    const auto becomes = [&](ModeWords words, ModeFacts facts, Motor motor, double share) -> FaultMode& {
        FaultMode& mode = layout.mode(std::move(words), FaultClass::module, facts, becoming(winding, motor));
        mode.share = share;
        return mode;
    };
    becomes({"seized", name + " seized: it tries, gives up and tries again"}, {ModeFact::rubs}, held(part, healthy), 3)
        .looks = "debris wet rust";
    becomes({"phase-missing", "one phase of " + name + " missing"}, {ModeFact::uneven, ModeFact::may_touch},
            without_phase(healthy), 1);
    FaultMode& drag = layout.mode({"drag", name + " drags (dry bearing)"}, FaultClass::module, {ModeFact::rubs},
                                  [=](double factor, double) {
                                      Motor slow = healthy;
                                      slow.friction_torque += (factor - 1) * slow.constant * part.value("rated amps");
                                      return std::vector<Change>{SetLaw{winding, slow}};
                                  });
    drag.size = factor_range("range_drag", "drag_factor");
    drag.looks = "wet rust";
    FaultMode& blocked = layout.mode({"blocked-air", "air way of " + name + " blocked"}, FaultClass::module,
                                     {ModeFact::air_side, ModeFact::air_blocked}, [=](double factor, double) {
                                         Motor light = healthy;
                                         light.fan_torque *= factor;
                                         return std::vector<Change>{SetLaw{winding, light}};
                                     });
    blocked.size = factor_range("range_blocked_air", "blocked_air_factor");
    blocked.share = 0.5;
    blocked.looks = "debris";
}

void controller_modes(const std::string& name, Layout& layout, const Electronics& controller) {
    std::vector<Change> opened;
    for (const BranchId branch : controller.driven) opened.emplace_back(OpenBranch{branch});
    FaultMode& dead = layout.mode({"dead", "controller in " + name + " dead"}, FaultClass::module,
                                  {ModeFact::may_touch}, [opened](double, double) { return opened; });
    dead.share = 4;
    dead.looks = "burnt melted wet";
    FaultMode& cuts =
        layout.mode({"cuts-out", "controller in " + name + " cuts out once it is warm"}, FaultClass::module,
                    {ModeFact::only_sometimes}, [opened](double, double) { return opened; });
    cuts.share = 1;  // ASSUMED: no case counts it
    cuts.looks = "burnt debris wet";
    const BranchId first = controller.driven.front();
    FaultMode& full = layout.mode({"full-on", "controller in " + name + " runs full in every position"},
                                  FaultClass::module, {ModeFact::may_touch}, holding(first, true));
    full.share = 1;
    // What a sound one does that has become too hot, until it has cooled; no fault to look for.
    FaultMode& hot = layout.mode({"too-hot", name + " is too hot and has cut out"}, FaultClass::module,
                                 {ModeFact::cuts_out}, [opened](double, double) { return opened; });
    hot.catalogued = false;
}

void lay(const Part& part, Layout& layout) {
    const JointId plus = layout.pin("+");
    const JointId minus = layout.pin("-");
    const JointId output = layout.inner("bridge");
    const Motor healthy = motor_of(part, layout.circuit().supply);
    const Chopper chopper{default_value("module_on_ohm"), 0};
    const ChopperBranches laid = lay_chopper(layout, chopper, true, plus, minus, output);
    const BranchId winding = layout.branch({"winding", BranchSort::other}, output, minus, healthy,
                                           sigma_of(*part.parameter("rated amps"), "tolerance_motor_amps"));
    CommandRange range = command_range(part);
    range.least_share = duty_at(healthy, part.value("rated volts"), part.value("least amps"));
    const CommandWire command = lay_command(part, layout, plus, minus);
    Electronics controller;
    controller.seen = {plus, minus, command.inside, layout.circuit().bus_30};
    controller.driven = {laid.path, laid.wheel, laid.cross};
    controller.full = 1;
    controller.wanted = [range, live = least_working_volts(layout.circuit())](std::span<const double> volts) {
        return volts[0] - volts[1] < live ? 0.0 : commanded_share(range, volts[2] - volts[1], volts[3]);
    };
    controller.laws = [chopper](double duty) { return chopper_laws(chopper, duty); };
    controller_modes(part.name, layout, controller);
    Part& own = layout.circuit().parts[layout.part_id().index];
    own.load_branch = winding;
    own.electronics = std::move(controller);
    motor_modes(part, layout, winding, healthy);
}

}  // namespace

constinit const Kind fan_unit_kind{
    .word = "fan-unit",
    .example = "fan-unit 25A @13.5V, 3500rpm, least 2A, command 10%-90%, open command off",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::motor,
    .load_words = "blower fan motor",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "1=+ 2=- 3=CMD B+=+ GND=- 15=+ 30=+ 31=-",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
