#include "netlists/parts/command_input.hpp"

#include <algorithm>
#include <string>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Output with the command lost, where the part then limps (ASSUMED: about a third, enough to keep a window clear).
constexpr double limp_share = 0.35;

double between(double value, double from, double to) {
    return (value - from) / (to - from);
}

/// The share along the range; `at` runs from 0 at its lower end to 1 at its upper.
double along(const CommandRange& range, double at) {
    const double share = range.inverse ? 1 - at : at;
    return range.least_share + (1 - range.least_share) * std::clamp(share, 0.0, 1.0);
}

struct TypedRange {
    double low{};
    double high{};
    Unit unit{Unit::none};
};

/// `0.5V-7V`, `0.5-7V`, `7%-94%`.
std::optional<TypedRange> parse_command(const std::string& text) {
    const std::size_t dash = text.find('-', 1);
    if (dash == std::string::npos) return std::nullopt;
    const auto high = parse_measure(text.substr(dash + 1));
    auto low = parse_measure(text.substr(0, dash));
    if (!low || !high) return std::nullopt;
    if (low->unit == Unit::none) {
        low->unit = high->unit;
        if (high->unit == Unit::percent) low->value /= 100;
    }
    if (low->unit != high->unit || (high->unit != Unit::volt && high->unit != Unit::percent)) return std::nullopt;
    return TypedRange{low->value, high->value, high->unit};
}

constexpr std::string_view command_example = "command 0.5V-7V, or command 7%-94% inverse, or command bus";

void keep_range(Part& part, const TypedRange& range, bool typed) {
    const std::string source = typed ? "file" : "usual control voltage, ASSUMED";
    part.parameters.push_back({"command low", range.low, range.unit, source, 0, typed, false});
    part.parameters.push_back({"command high", range.high, range.unit, source, 0, typed, false});
}

void check_range(PartReader& reader, const Word& word, const Part& part, const TypedRange& range) {
    if (range.unit == Unit::percent && range.high > 1) {
        reader.error(ProblemCode::figure_out_of_range, reader.place_of(word),
                     "'" + word.text + "': a duty cannot be above 100 %", "for example command 7%-94%");
    } else if (range.low >= range.high) {
        reader.error(ProblemCode::contradiction, reader.place_of(word),
                     "'" + word.text + "': the command of '" + part.name + "' ends below where it begins",
                     "write the lower figure first; more command for less output is command 7%-94% inverse");
    } else {
        for (const auto& [figure, value] :
             {std::pair{"command low", range.low}, std::pair{"command high", range.high}}) {
            const FigureBounds& bounds = figure_bounds(*part.kind, figure, range.unit);
            if (bounds.holds(value)) continue;
            reader.error(ProblemCode::figure_out_of_range, reader.place_of(word),
                         "'" + word.text + "': " + bounds.name() + " can be " + bounds.range(),
                         "for example " + std::string(command_example));
            return;
        }
    }
}

}  // namespace

double commanded_share(const CommandRange& range, double command, double level) {
    switch (range.by) {
        case CommandBy::volts: {
            const double at = between(command, range.low, range.high);
            constexpr double beyond = 0.1;
            if (at > 1 + beyond) return range.lost_share;
            if (at < -1e-9) return 0;
            return along(range, at);
        }
        case CommandBy::duty: {
            const double duty = level > 0 ? command / level : 0;
            // What drops and pulls shift of the mean volts is no part of the duty (ASSUMED).
            constexpr double within = 0.01;
            if (duty < range.low - within || duty > range.high + within) return range.lost_share;
            return along(range, between(duty, range.low, range.high));
        }
        case CommandBy::bus: {
            const double mean = level > 0 ? command / level : 0;
            if (mean < bus_busy_above || mean > bus_idle_below) return range.lost_share;
            const double at = between(mean, bus_share_at_nought, bus_share_at_full);
            constexpr double asks_for_something = 0.02;
            return at < asks_for_something ? 0 : along(range, at);
        }
    }
    return 0;
}

void read_command(PartReader& reader, Part& part) {
    // `open command off` before `command RANGE`: the word behind `open` is that of the first.
    std::string lost = "off";
    if (const auto open = reader.word_after(part, "open", "open command off"); open) {
        if (!same_word(open->text, "command")) {
            reader.error(ProblemCode::unknown_word, reader.place_of(*open),
                         "'open " + open->text + "' is not known of '" + part.name + "'",
                         "write open command off, full or limp");
        } else if (const auto word = reader.flag(part, {"full", "limp", "off"}); !word.empty()) {
            lost = word;
        } else {
            reader.error(ProblemCode::missing_word, reader.place_of(*open),
                         "what '" + part.name + "' does with its command open is missing",
                         "write open command off, full or limp");
        }
    }
    part.flags.push_back("lost " + lost);
    reader.flag(part, {"inverse"});
    if (const auto pull = reader.word_after(part, "pulls", "pulls up"); pull) {
        if (same_word(pull->text, "up") || same_word(pull->text, "down")) {
            part.flags.push_back("pulls " + lower(pull->text));
        } else {
            reader.error(ProblemCode::unknown_word, reader.place_of(*pull),
                         "'pulls " + pull->text + "' is neither up nor down", "pulls up");
        }
    }
    reader.after_or(part, "input", "input ohms", Unit::ohm, 20e3, "a control input's pull, ASSUMED");
    const auto word = reader.word_after(part, "command", command_example);
    if (word && same_word(word->text, "bus")) {
        part.flags.emplace_back("bus");
        return;
    }
    std::optional<TypedRange> range;
    if (word) range = parse_command(word->text);
    if (word && !range) {
        reader.error(ProblemCode::no_figure, reader.place_of(*word), "'" + word->text + "' is no range of a command",
                     "for example " + std::string(command_example));
    }
    if (range) check_range(reader, *word, part, *range);
    keep_range(part, range.value_or(TypedRange{0.5, 4.5, Unit::volt}), range.has_value());
}

CommandRange command_range(const Part& part) {
    CommandRange range;
    if (part.has_flag("bus")) {
        range.by = CommandBy::bus;
    } else {
        const Parameter& low = *part.parameter("command low");
        range.by = low.unit == Unit::percent ? CommandBy::duty : CommandBy::volts;
        range.low = low.value;
        range.high = part.value("command high");
    }
    range.inverse = part.has_flag("inverse");
    range.lost_share = part.has_flag("lost full") ? 1.0 : part.has_flag("lost limp") ? limp_share : 0.0;
    return range;
}

CommandWire lay_command(const Part& part, Layout& layout, JointId plus, JointId minus) {
    const JointId pin = layout.pin("CMD");
    const JointId inside = layout.inner("command");
    const BranchId input =
        layout.branch({"input", BranchSort::signal}, pin, inside, Resistor{default_value("command_series_ohm")});
    layout.branch({"own draw", BranchSort::signal}, plus, minus, Resistor{default_value("electronics_draw_ohm")});
    // Volts by which the part tells that nothing drives the wire: towards the supply where an open command is not
    // simply off, else towards ground.
    const bool up = part.has_flag("pulls up") || (!part.has_flag("pulls down") && !part.has_flag("lost off"));
    layout.branch({"pull", BranchSort::signal}, up ? plus : minus, inside, Resistor{part.value("input ohms")}, 0.03);
    FaultMode& deaf = layout.mode({"no-command-seen", part.name + " does not see its command"}, FaultClass::module,
                                  {ModeFact::may_touch}, opening(input));
    deaf.share = 1;
    const auto shorted = [&](const std::string& way, const std::string& plain, JointId to) {
        FaultMode& mode = layout.mode({"command shorted-" + way, "command of " + part.name + " shorted " + plain},
                                      FaultClass::module, {ModeFact::may_touch}, shorting(pin, to));
        mode.share = 0.1;
        mode.looks = "wet crust";
    };
    shorted("low", "to its ground inside", minus);
    shorted("high", "to its feed inside", plus);
    return {inside, input};
}

double least_working_volts(const Circuit& circuit) {
    return default_value(row_at("electronics_live", circuit.supply));
}

}  // namespace voltfall
