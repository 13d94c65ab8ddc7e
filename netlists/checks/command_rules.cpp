// Commands: a control input without a wire, a panel's output that its module cannot read, a lamp on a command wire.
#include <algorithm>

#include "netlists/checks/rules.hpp"
#include "netlists/graph/wired_with.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr std::string_view input = "CMD";
constexpr std::string_view output_name = "output";

bool has_input(const Part& part) {
    return part.pins.count(std::string(input)) > 0 || (part.electronics && !canonical_terminal(part, input).empty());
}

/// What a part gives on its output, by position.
struct PositionOutput {
    const Position* position;
    const Parameter* output;
};

std::vector<PositionOutput> outputs_of(const Part& part) {
    std::vector<const Position*> giving;
    for (const Position& position : part.positions) {
        if (!position.contacts.empty()) giving.push_back(&position);
    }
    std::vector<PositionOutput> found;
    for (const Parameter& parameter : part.parameters) {
        if (parameter.name == output_name && found.size() < giving.size())
            found.push_back({giving[found.size()], &parameter});
    }
    return found;
}

bool holds(const Part& part, JointId joint) {
    return std::any_of(part.pins.begin(), part.pins.end(), [&](const auto& pin) { return pin.second == joint; });
}

/// A position whose output the input takes for no command.
/// Returns false where the next positions would say the same again.
bool check_position(const Part& head, const PositionOutput& at, const Part& module, Problems& problems) {
    const Parameter& output = *at.output;
    const Parameter& low = *module.parameter("command low");
    const Parameter& high = *module.parameter("command high");
    const std::string gives =
        "position " + at.position->name + " of " + head.name + " gives " + write_measure(output.value, output.unit);
    const std::string reads =
        module.name + " reads " + write_measure(low.value, low.unit) + " to " + write_measure(high.value, high.unit);
    const double beyond = 0.1 * (high.value - low.value);
    if (output.unit != low.unit) {
        const bool volts = output.unit == Unit::volt;
        problems.error(ProblemCode::commands_differ, head.source, gives + ", but " + reads,
                       std::string("write both in ") + (volts ? "volts" : "per cent") + ", for example command " +
                           (volts ? "0.5V-4.5V" : "10%-90%") + " in the line of " + module.name + ", or both in " +
                           (volts ? "per cent" : "volts"));
        return false;
    } else if (output.value > high.value + beyond) {
        problems.warning(ProblemCode::commands_differ, head.source, gives + ", but " + reads,
                         "more than that is no command to it");
    } else if (output.value < low.value && output.value > 0) {
        problems.warning(ProblemCode::commands_differ, head.source, gives + ", but " + reads,
                         "less than that is off, or no command to it");
    }
    return true;
}

void check_pair(const Part& head, const Part& module, Problems& problems) {
    if (head.has_flag("bus") != module.has_flag("bus")) {
        const Part& talks = head.has_flag("bus") ? head : module;
        const Part& other = head.has_flag("bus") ? module : head;
        problems.error(ProblemCode::commands_differ, other.source,
                       talks.name + " talks on a bus wire, " + other.name + " does not",
                       "write bus in both lines: command bus, and bus behind the positions of the panel");
        return;
    }
    if (module.has_flag("bus") || !module.parameter("command low")) return;
    for (const PositionOutput& at : outputs_of(head)) {
        if (!check_position(head, at, module, problems)) break;
    }
}

/// What takes more current than a signal has: a lamp, a coil, a motor.
bool is_load(const Part& part) {
    return part.load_branch.valid() && !part.electronics;
}

void check_wire(const Circuit& circuit, const Part& module, Problems& problems) {
    const auto pin = module.harness.find(std::string(input));
    if (pin == module.harness.end()) return;
    const std::vector<JointId> joints = wired_with(circuit, pin->second);
    for (const Part& part : circuit.parts) {
        if (&part == &module) continue;
        const bool there = std::any_of(joints.begin(), joints.end(), [&](JointId joint) { return holds(part, joint); });
        if (!there) continue;
        if (!outputs_of(part).empty()) check_pair(part, module, problems);
        if (is_load(part) && !part.relay) {
            problems.error(ProblemCode::load_on_command_wire, part.source,
                           part.name + " hangs on the command wire of " + module.name + ", which carries a signal only",
                           "take its wire off: a load there pulls the command down");
        }
    }
}

}  // namespace

void check_commands(const Circuit& circuit, const WiredTerminals& ends, Problems& problems) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!has_input(part) || ends.untouched({i})) continue;
        if (!ends.has_wire({i}, input)) {
            problems.error(ProblemCode::no_command_wire, part.source,
                           part.name + " has no command wire: " + terminal_name(part, input) + " is bare",
                           "add a wire from the panel's output to " + terminal_name(part, input));
        } else {
            check_wire(circuit, part, problems);
        }
    }
}

}  // namespace voltfall
