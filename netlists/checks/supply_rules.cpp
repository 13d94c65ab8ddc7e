// Batteries, shorts as drawn, and fuses against the wires they guard.
#include <algorithm>
#include <cmath>

#include "netlists/checks/rules.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/tables/wires.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// Amperes to whole ones, as ratings are printed.
std::string amps_words(double amps) {
    return write_measure(std::floor(amps), Unit::ampere);
}

std::string size_words(const Wire& wire) {
    const Unit unit = wire.standard == WireStandard::awg ? Unit::awg : Unit::square_millimetre;
    return write_measure(wire.size, unit) + (wire.parallel > 1 ? " x" + std::to_string(wire.parallel) : "");
}

double wire_amps(const Wire& wire) {
    return wire_ampacity(wire.area_mm2) * wire.parallel;
}

void check_fuse(const Circuit& circuit, const Part& part, const std::vector<WireId>& guarded, Problems& problems) {
    const auto thinnest = std::min_element(guarded.begin(), guarded.end(), [&](WireId a, WireId b) {
        return wire_amps(circuit.wire(a)) < wire_amps(circuit.wire(b));
    });
    if (thinnest == guarded.end()) return;
    const Wire& wire = circuit.wire(*thinnest);
    const double carries = wire_amps(wire);
    if (part.fuse->rating_amps <= carries) return;
    problems.warning(
        ProblemCode::fuse_above_wire, part.source,
        part.name + " (" + write_measure(part.fuse->rating_amps, Unit::ampere) + ") is larger than wire " + wire.name +
            " behind it allows: " + size_words(wire) + " carries " + amps_words(carries) +
            " at 30C (33 CFR 183.425 table E); a short on it may burn it before " + part.name + " opens",
        "check the size of wire " + wire.name + "; it wants a fuse of " + amps_words(carries) + " or less");
}

std::vector<std::string> things_on(const Circuit& circuit, const std::vector<BranchId>& branches) {
    std::vector<std::string> names;
    for (const BranchId id : branches) {
        const Branch& branch = circuit.branch(id);
        std::string name = branch.place;
        if (branch.wire.valid()) name = "wire " + circuit.wire(branch.wire).name;
        if (branch.part.valid()) name = circuit.part(branch.part).name;
        if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
    }
    return names;
}

void report_short(const Circuit& circuit, const DeadShort& found, Problems& problems) {
    const Part& battery = circuit.part(found.battery);
    SourcePlace place = battery.source;
    const auto wire = std::find_if(found.branches.begin(), found.branches.end(),
                                   [&](BranchId id) { return circuit.branch(id).wire.valid(); });
    if (wire != found.branches.end()) place = circuit.wire(circuit.branch(*wire).wire).source;
    const auto names = things_on(circuit, found.branches);
    const std::string when = found.position.empty() ? "as drawn" : "with " + found.position;
    const std::string way = names.empty() ? "directly" : "through " + listed(names) + " and no load";
    problems.error(
        ProblemCode::dead_short, place, "dead short " + when + ": " + battery.name + "+ reaches battery minus " + way,
        names.empty() ? "wire plus and minus of " + battery.name + " apart"
                      : "check where these end in the diagram: a load, or another terminal, is missing between them");
}

void report_fight(const Circuit& circuit, const Fight& fight, Problems& problems) {
    const Part& first = circuit.part(fight.first);
    const Part& second = circuit.part(fight.second);
    const std::string volts = write_measure(fight.second_volts, Unit::volt);
    if (fight.first_volts < 0) {
        problems.error(ProblemCode::batteries_fight, second.source,
                       second.name + " stands the wrong way round against " + first.name +
                           ": its plus is tied to the minus side, its minus to the plus side",
                       "swap the wires at " + second.name + "+ and " + second.name +
                           "-; where the two are meant in series, " + second.name +
                           "+ must not reach ground without a load");
        return;
    }
    problems.error(ProblemCode::batteries_fight, second.source,
                   second.name + " (" + volts + ") fights " + first.name +
                       ": they are tied side by side where there are already " +
                       write_measure(fight.first_volts, Unit::volt),
                   "batteries side by side need the same volts; for 24V in series wire " + first.name + "+ to " +
                       second.name + "-");
}

/// A running engine lifts the volts: a charging voltage below rest is a slip, for a generator that does not charge is a
/// fault and no figure of the circuit.
void check_charging(const Part& battery, Problems& problems) {
    const double rest = battery.value("rest volts");
    const double charging = battery.value("charging volts");
    if (charging >= rest) return;
    problems.error(ProblemCode::contradiction, battery.source,
                   battery.name + " charges at " + write_measure(charging, Unit::volt) + ", below its rest of " +
                       write_measure(rest, Unit::volt),
                   "write the volts of a sound generator; " + battery.name + " not-charging is the fault");
}

/// A thousandth forgotten: a starter battery has some milliohms inside (common practice, no source), a battery of a
/// test bench a tenth of an ohm.
void check_inner_ohms(const Part& battery, Problems& problems) {
    constexpr double most = 0.3;
    const double ohms = battery.value("ohms");
    if (ohms <= most) return;
    problems.warning(
        ProblemCode::contradiction, battery.source,
        battery.name + " has " + write_measure(ohms, Unit::ohm) + " inside: 10A take " +
            write_measure(10 * ohms, Unit::volt) + " of its " + write_measure(battery.value("rest volts"), Unit::volt),
        "a starter battery has 3mohm to 20mohm; did you mean " + write_measure(ohms / 1000, Unit::ohm) + "?");
}

/// What pulls in at more volts than the vehicle has never does, or only while the engine charges.
void check_pull(const Part& battery, const Part& part, Problems& problems) {
    const Parameter* pull = part.parameter("pull volts");
    if (pull == nullptr || !pull->typed || pull->value <= battery.value("rest volts")) return;
    const bool never = pull->value > battery.value("charging volts");
    const std::string message =
        part.name + " pulls in at " + write_measure(pull->value, Unit::volt) +
        (never ? ", more than the vehicle has" : ", more than " + battery.name + " has at rest");
    const std::string advice = "a relay or clutch usually pulls in at about 60% of the supply";
    if (never) return problems.error(ProblemCode::contradiction, part.source, message, advice);
    problems.warning(ProblemCode::contradiction, part.source, message, advice);
}

/// One battery alone gives the vehicle's volts: 12.6 V in a 24 V system, or the other way round, is a slip in one of
/// the two. Two of 12 V in series are a 24 V supply.
void check_battery_volts(const Circuit& circuit, Problems& problems) {
    constexpr double least_share = 0.75;  // a flat lead-acid battery rests above 11 V of 12 (common practice)
    constexpr double most_share = 1.5;
    const auto is_battery = [](const Part& part) { return has_duty(part, Duty::battery); };
    if (std::count_if(circuit.parts.begin(), circuit.parts.end(), is_battery) != 1) return;
    const Part& battery = *std::find_if(circuit.parts.begin(), circuit.parts.end(), is_battery);
    const double rest = battery.value("rest volts");
    check_charging(battery, problems);
    check_inner_ohms(battery, problems);
    for (const Part& part : circuit.parts) check_pull(battery, part, problems);
    if (rest >= least_share * circuit.supply && rest <= most_share * circuit.supply) return;
    const std::string other = circuit.supply > 18 ? "12V" : "24V";
    problems.error(ProblemCode::contradiction, battery.source,
                   battery.name + " rests at " + write_measure(rest, Unit::volt) + " in a system of " +
                       write_measure(circuit.supply, Unit::volt),
                   "write supply = \"" + other + "\" at the top of the file, or the volts of the battery as they are");
}

}  // namespace

void check_supply(const Circuit& circuit, const Survey& survey, Problems& problems) {
    for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
        if (circuit.parts[i].fuse) check_fuse(circuit, circuit.parts[i], survey.guarded[i], problems);
    }
    check_battery_volts(circuit, problems);
    for (const DeadShort& found : survey.shorts) report_short(circuit, found, problems);
    for (const Fight& fight : survey.fights) report_fight(circuit, fight, problems);
}

}  // namespace voltfall
