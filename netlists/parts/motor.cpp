// Brushed blower or fan motor with its fan.
#include "netlists/parts/motor.hpp"

#include <algorithm>
#include <numbers>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

double radians_per_second(double rpm) {
    return rpm * 2 * std::numbers::pi / 60;
}

Motor motor_from_nameplate(const Nameplate& plate) {
    const double speed = radians_per_second(plate.rpm);
    Motor motor;
    motor.brush_volts = plate.brush_volts;
    motor.brush_soft_amps = default_value("brush_soft_amps");
    motor.armature_ohms = (plate.volts - plate.brush_volts) / plate.stall_amps;
    motor.constant = (plate.volts - plate.brush_volts - plate.amps * motor.armature_ohms) / speed;
    motor.friction_torque = motor.constant * plate.idle_amps;
    motor.fan_torque = (motor.constant * plate.amps - motor.friction_torque) / (speed * speed);
    return motor;
}

namespace {

constexpr FigureBounds figures[] = {
    {"motor", "rated amps", Unit::ampere, 0.01, 2000}, {"motor", "rated volts", Unit::volt, 1, most_supply},
    {"motor", "rated rpm", Unit::rpm, 20, 60000},      {"motor", "stall amps", Unit::ampere, 0.02, 10000},
    {"motor", "idle amps", Unit::ampere, 0, 1000},     {"motor", "brush volts", Unit::volt, 0, 5},
    {"motor", "inertia", Unit::inertia, 1e-8, 100},    {"motor", "inductance", Unit::henry, 1e-7, 1},
};

void check_nameplate(PartReader& reader, Part& part) {
    const double amps = part.value("rated amps");
    const std::string running = write_measure(amps, Unit::ampere);
    if (part.value("stall amps") <= amps) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "': stall " + write_measure(part.value("stall amps"), Unit::ampere) +
                                 " is not above the running " + running,
                             "stall is the current with the shaft held, about 4 times running; winding ohms give it, "
                             "not the running amps");
    }
    if (part.value("idle amps") >= amps) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "': idle " + write_measure(part.value("idle amps"), Unit::ampere) +
                                 " is not below the running " + running,
                             "idle is the current with no fan on the shaft, about a tenth of running");
    }
    if (part.value("brush volts") >= part.value("rated volts")) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "': brush volts are not below the rated volts", "brush 1.0V");
    }
}

void read(PartReader& reader, Part& part) {
    reader.at_may_mark(Unit::volt);
    reader.after(part, "stall", "stall amps", Unit::ampere);
    reader.after(part, "idle", "idle amps", Unit::ampere);
    reader.after_or_row(part, "brush", "brush volts", Unit::volt, "motor_brush_volts");
    reader.after_or_row(part, "inertia", "inertia", Unit::inertia, "motor_inertia");
    reader.after_or_row(part, "inductance", "inductance", Unit::henry,
                        row_at("motor_inductance", reader.circuit().supply));
    reader.required(part, "rated amps", Unit::ampere);
    reader.optional_row(part, "rated volts", Unit::volt, row_at("motor_volts", reader.circuit().supply));
    reader.optional_row(part, "rated rpm", Unit::rpm, "motor_rpm");
    const double amps = part.value("rated amps");
    const auto derived = [&](std::string_view name, std::string_view row) {
        if (part.parameter(name)) return;
        Parameter parameter = default_parameter(name, Unit::ampere, row);
        parameter.value *= amps;
        part.parameters.push_back(parameter);
    };
    derived("stall amps", "motor_stall_factor");
    derived("idle amps", "motor_idle_fraction");
    reader.feed(part);
    check_nameplate(reader, part);
}

/// The same motor with its friction such that at the nameplate's volts it draws `factor` times the rated current (dry
/// bearing). It turns slower then: w = (V - Vb - f I Ra) / K, and what the fan no longer takes the friction does.
Motor dragging(Motor motor, double rated_volts, double rated_amps, double factor) {
    const double amps = factor * rated_amps;
    const double speed = std::max(0.0, (rated_volts - motor.brush_volts - amps * motor.armature_ohms) / motor.constant);
    motor.friction_torque = motor.constant * amps - motor.fan_torque * speed * speed;
    return motor;
}

Motor with_fan_torque(Motor motor, double factor) {
    motor.fan_torque *= factor;
    return motor;
}

/// A share of the coils shorted upon themselves. What is left has its share of ohms and constant. The shorted ones turn
/// in the field as generators on their own ohms: of N coils in two paths one has 2 K w / N volts and 4 Ra / N ohms, so
/// all of a share x take x (K w)^2 / Ra from the shaft (DERIVED from the textbook lap winding; their inductance, the
/// teeth's saturation and the coil that a brush bridges are left out).
Motor with_turns(Motor motor, double factor) {
    motor.shorted_brake += (1 - factor) * motor.constant * motor.constant / motor.armature_ohms;
    motor.armature_ohms *= factor;
    motor.constant *= factor;
    motor.inductance *= factor * factor;
    return motor;
}

Motor seized(Motor motor) {
    motor.rotor = Rotor::seized;
    return motor;
}

void mechanical_modes(const Part& part, Layout& layout, BranchId winding, const Motor& healthy) {
    const std::string& name = part.name;
    const double rated_volts = part.value("rated volts");
    const double rated_amps = part.value("rated amps");
    // Shares follow the confirmed cases: worn or open 6, seized 4, drawing too much 2 of 12.
    FaultMode& stuck = layout.mode({"seized", "rotor of " + name + " stuck"}, FaultClass::motor, {ModeFact::rubs},
                                   becoming(winding, seized(healthy)));
    stuck.share = 4;
    stuck.looks = "debris wet rust";
    FaultMode& drag = layout.mode(
        {"drag", name + " drags (dry bearing)"}, FaultClass::motor, {ModeFact::rubs}, [=](double factor, double) {
            return std::vector<Change>{SetLaw{winding, dragging(healthy, rated_volts, rated_amps, factor)}};
        });
    drag.size = factor_range("range_drag", "drag_factor");
    drag.size->figure = "drag factor";
    drag.share = 1;
    drag.looks = "wet rust";
    FaultMode& fouled = layout.mode({"fouled", "fan of " + name + " fouled"}, FaultClass::motor,
                                    {ModeFact::rubs, ModeFact::air_side}, [=](double factor, double) {
                                        return std::vector<Change>{SetLaw{winding, with_fan_torque(healthy, factor)}};
                                    });
    fouled.size = factor_range("range_fouled", "drag_factor");
    fouled.share = 0.7;
    fouled.looks = "debris";
    FaultMode& blocked = layout.mode({"blocked-air", "air way of " + name + " blocked"}, FaultClass::motor,
                                     {ModeFact::air_side, ModeFact::air_blocked}, [=](double factor, double) {
                                         return std::vector<Change>{SetLaw{winding, with_fan_torque(healthy, factor)}};
                                     });
    blocked.size = factor_range("range_blocked_air", "blocked_air_factor");
    blocked.share = 0.5;
    blocked.looks = "debris";
}

void electrical_modes(const std::string& name, Layout& layout, BranchId winding, const Motor& healthy) {
    const auto opens = opening(winding);
    FaultMode& open = layout.mode({"open", name + " open inside (winding or brushes)"}, FaultClass::motor,
                                  {ModeFact::lost_contact, ModeFact::may_touch}, opens);
    open.share = 3;
    FaultMode& spot =
        layout.mode({"dead-spot", name + " sometimes stops on a dead spot of its commutator"}, FaultClass::motor,
                    {ModeFact::uneven, ModeFact::may_touch, ModeFact::only_sometimes, ModeFact::starts_by_hand}, opens);
    spot.share = 1;
    const auto adds = adding_ohms(winding);
    FaultMode& worn = layout.mode({"worn-brushes", "brushes of " + name + " worn"}, FaultClass::motor,
                                  {ModeFact::uneven, ModeFact::may_touch}, adds);
    worn.size = factor_range("range_worn_brushes", "worn_brush_ohm");
    worn.share = 2;
    FaultMode& poor = layout.mode({"resistance", "poor contact inside " + name}, FaultClass::motor,
                                  {ModeFact::poor_contact, ModeFact::may_touch}, adds);
    poor.size = resistance_range();
    poor.catalogued = false;  // the same as worn brushes
    FaultMode& turns = layout.mode({"shorted-turns", "shorted turns in " + name}, FaultClass::motor, {ModeFact::uneven},
                                   [=](double factor, double) {
                                       return std::vector<Change>{SetLaw{winding, with_turns(healthy, factor)}};
                                   });
    // Of a dozen coils one or two at first; with half of them shorted it hardly turns.
    turns.size = SizeRange{0.5, 0.95, default_value("motor_shorted_turns"), Unit::none, false, "ASSUMED"};
    turns.share = 0.5;
    turns.looks = "burnt";
}

/// Terminal 1 is meant where a phrase names none.
void case_modes(const std::string& name, Layout& layout) {
    const JointId metal = layout.circuit().metal;
    const std::string words = "short-to-case";
    const std::string plain = "winding of " + name + " touches the case near terminal ";
    const auto to_metal = [&](ModeWords called, JointId pin) -> FaultMode& {
        FaultMode& mode =
            layout.mode(std::move(called), FaultClass::motor, {ModeFact::winding_to_case}, joining(pin, metal));
        mode.size = contact_to_metal_range(default_value("case_ohm"));
        mode.share = 0.3;
        mode.looks = "burnt";
        return mode;
    };
    to_metal({words, plain + "1"}, layout.pin("1")).at_unsaid = "1";
    to_metal({words + " at 2", plain + "2"}, layout.pin("2")).at = "2";
}

void lay(const Part& part, Layout& layout) {
    Motor healthy =
        motor_from_nameplate({part.value("rated volts"), part.value("rated amps"), part.value("rated rpm"),
                              part.value("stall amps"), part.value("idle amps"), part.value("brush volts")});
    healthy.inertia = part.value("inertia");
    healthy.inductance = part.value("inductance");
    const double sigma = sigma_of(*part.parameter("rated amps"), "tolerance_motor_amps");
    const BranchId winding = layout.branch({"winding", BranchSort::other}, "1", "2", healthy, sigma);
    layout.circuit().parts[layout.part_id().index].load_branch = winding;
    electrical_modes(part.name, layout, winding, healthy);
    mechanical_modes(part, layout, winding, healthy);
    case_modes(part.name, layout);
}

}  // namespace

constinit const Kind motor_kind{
    .word = "motor",
    .example = "motor 20A @13.5V, 3500rpm, stall 80A",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::motor,
    .load_words = "blower fan motor",
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "+=1 -=2 plus=1 minus=2 33=1 32=2 53=1 31=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
