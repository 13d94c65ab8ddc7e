// Electronic speed control: a linear stage or a chopper between a motor and its supply, set by a command.
#include <algorithm>
#include <functional>
#include <optional>

#include "netlists/parts/chopper.hpp"
#include "netlists/parts/command_input.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    VOLTFALL_COMMAND_FIGURES("module"),           {"module", "on ohms", Unit::ohm, 1e-4, 1},
    {"module", "diode volts", Unit::volt, 0, 2},  {"module", "least output", Unit::percent, 0, 0.95},
    {"module", "frequency", Unit::hertz, 1, 1e6}, {"module", "fold-back", Unit::celsius, 50, 250},
    {"module", "watts", Unit::watt, 1, 2000},
};

/// `folds 110C`, `60W`: above which temperature a linear stage gives less, and what its heat sink sheds in full air.
void read_fold_back(PartReader& reader, Part& part) {
    const bool folds = reader.after(part, "folds", "fold-back", Unit::celsius);
    reader.optional_row(part, "watts", Unit::watt, "module_watts");
    const bool watts = part.parameters.back().typed;
    if (!folds && !watts) part.parameters.pop_back();
    if (watts && !folds && part.has_flag("linear")) {
        reader.error_of_line(ProblemCode::missing_figure,
                             "'" + part.name + "': " + write_measure(part.value("watts"), Unit::watt) +
                                 " without the temperature at which it folds back",
                             "for example module linear, 60W, folds 110C");
    }
    if ((folds || watts) && !part.has_flag("linear")) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "': watts and a fold-back are figures of a linear stage",
                             "a chopper makes little heat: leave them out");
    }
}

void read(PartReader& reader, Part& part) {
    const std::string way = reader.flag(part, {"linear", "pwm"});
    if (way.empty()) {
        reader.error_of_line(ProblemCode::missing_word, "'" + part.name + "' must say how it controls: linear or pwm",
                             "for example " + std::string(part.kind->example));
    }
    if (const auto side = reader.word_after(part, "side", "side low"); side) {
        if (side->text == "low" || side->text == "high") {
            part.flags.push_back("side " + side->text);
        } else {
            reader.error(ProblemCode::unknown_word, reader.place_of(*side),
                         "'side " + side->text + "' is neither high nor low",
                         "side low where it switches the motor's ground");
        }
    }
    read_command(reader, part);
    reader.after_or_row(part, "on", "on ohms", Unit::ohm, "module_on_ohm");
    reader.after_or_row(part, "diode", "diode volts", Unit::volt, "module_diode_volts");
    reader.after_or(part, "least", "least output", Unit::percent, 0.2,
                    "of full, at the least command: slowest blowers run at about 3 V, ASSUMED");
    reader.optional(part, "frequency", Unit::hertz, 0, "not stated");
    if (!part.parameters.back().typed) part.parameters.pop_back();
    read_fold_back(reader, part);
}

std::vector<std::string> terminals(const Part&) {
    return {"+", "-", "M+", "M-", "CMD"};
}

/// The pins between which it stands, and the motor's two.
struct Pins {
    JointId plus;
    JointId minus;
    JointId level;     ///< volts that a duty is a share of
    JointId switched;  ///< the motor's side of the stage, behind its own contact
    JointId command;   ///< what the electronics see of the command
};

/// The share of full output that volts at `seen_by` ask for; nothing below the volts at which electronics live.
using Asked = std::function<std::optional<double>(std::span<const double> volts)>;

std::vector<JointId> seen_by(const Pins& pins) {
    return {pins.plus, pins.minus, pins.command, pins.level};
}

Asked asked_by(const CommandRange& range, double least_volts) {
    return [range, least_volts](std::span<const double> volts) -> std::optional<double> {
        if (volts[0] - volts[1] < least_volts) return std::nullopt;
        return commanded_share(range, volts[2] - volts[1], volts[3]);
    };
}

/// Volts that a linear stage drops at full command: none beyond its ohms.
Electronics linear_stage(const Asked& asked, const Pins& pins, BranchId path, double siemens) {
    Electronics made;
    made.seen = seen_by(pins);
    made.driven = {path};
    // The figure is the drop in volts; minus one is off.
    constexpr double off = -1;
    made.full = 0;
    made.none = off;
    made.wanted = [asked](std::span<const double> volts) {
        const double share = asked(volts).value_or(0);
        return share > 0 ? (1 - share) * (volts[0] - volts[1]) : off;
    };
    made.laws = [siemens](double drop) { return std::vector<Law>{drop < 0 ? Stage{} : Stage{siemens, drop, true}}; };
    return made;
}

Electronics chopping_stage(const Asked& asked, const Pins& pins, const ChopperBranches& laid, const Chopper& chopper) {
    Electronics made;
    made.seen = seen_by(pins);
    made.driven = {laid.path, laid.wheel, laid.cross};
    made.full = 1;
    made.none = 0;
    made.wanted = [asked](std::span<const double> volts) { return asked(volts).value_or(0); };
    made.laws = [chopper](double duty) { return chopper_laws(chopper, duty); };
    return made;
}

void output_modes(const std::string& name, Layout& layout, const std::vector<BranchId>& driven, BranchId output) {
    const auto change = [&](ModeWords words, std::vector<Change> changes, double share) -> FaultMode& {
        FaultMode& mode = layout.mode(std::move(words), FaultClass::module, {ModeFact::may_touch},
                                      [changes = std::move(changes)](double, double) { return changes; });
        mode.share = share;
        mode.looks = "burnt melted wet";
        return mode;
    };
    std::vector<Change> opened;
    for (const BranchId branch : driven) opened.emplace_back(OpenBranch{branch});
    change({"dead", name + " gives nothing (dead)"}, opened, 4);
    change({"full-on", "output stage of " + name + " shorted: full in every position"},
           {HoldContact{driven.front(), true}}, 3);
    FaultMode& weak = layout.mode({"weak", "output stage of " + name + " passes too little"}, FaultClass::module,
                                  {ModeFact::may_touch}, adding_ohms(output));
    weak.size = resistance_range();
    weak.share = 1;
    weak.looks = "burnt melted wet";
    FaultMode& fades = layout.mode({"fades", name + " gives less once it is warm"}, FaultClass::module,
                                   {ModeFact::only_sometimes}, adding_ohms(output));
    fades.size = factor_range("range_fades", "fades_ohm");
    fades.share = 1;  // ASSUMED: no case counts it
    fades.looks = "burnt debris";
}

/// What a sound stage does that has reached its fold-back temperature; no fault to look for.
void fold_back_mode(const Part& part, Layout& layout, BranchId path) {
    if (!part.parameter("fold-back")) return;
    FaultMode& folded = layout.mode({"folded-back", part.name + " is too hot and gives less"}, FaultClass::module,
                                    {ModeFact::folds_back}, adding_ohms(path));
    folded.size = SizeRange{1e-2, 1e3, 1, Unit::ohm, true, "ohms in series with the stage, ASSUMED"};
    folded.catalogued = false;
}

void lay(const Part& part, Layout& layout) {
    const bool high = !part.has_flag("side low");
    const JointId plus = layout.pin("+");
    const JointId minus = layout.pin("-");
    const JointId motor = layout.pin(high ? "M+" : "M-");
    // The motor's other terminal is the supply's pin carried through, where it is wired at all.
    if (const std::string_view through = high ? "M-" : "M+"; layout.used(through)) {
        layout.branch({"bar " + std::string(through), BranchSort::other}, high ? minus : plus, layout.pin(through),
                      Resistor{0});
    }
    const JointId switched = layout.inner("output");
    const BranchId output = layout.branch({"output lead", BranchSort::other}, high ? switched : motor,
                                          high ? motor : switched, Resistor{0});
    const CommandRange range = [&] {
        CommandRange read = command_range(part);
        read.least_share = part.value("least output");
        return read;
    }();
    const CommandWire command = lay_command(part, layout, plus, minus);
    const double ohms = part.value("on ohms");
    const Pins pins{plus, minus, layout.circuit().bus_30, switched, command.inside};
    const Asked asked = asked_by(range, least_working_volts(layout.circuit()));
    Part& own = layout.circuit().parts[layout.part_id().index];
    if (part.has_flag("linear")) {
        const BranchId path = layout.branch({"output", BranchSort::other}, high ? plus : switched,
                                            high ? switched : minus, Stage{1 / ohms, 0, true});
        own.electronics = linear_stage(asked, pins, path, 1 / ohms);
        fold_back_mode(part, layout, path);
    } else {
        const Chopper chopper{ohms, part.value("diode volts")};
        const ChopperBranches laid = lay_chopper(layout, chopper, high, plus, minus, switched);
        own.electronics = chopping_stage(asked, pins, laid, chopper);
    }
    output_modes(part.name, layout, own.electronics->driven, output);
}

}  // namespace

constinit const Kind module_kind{
    .word = "module",
    .example = "module linear, side low, command 0.5V-7V, open command off",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::by_design,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "B+=+ GND=- C=CMD 15=+ 30=+ 31=-",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
