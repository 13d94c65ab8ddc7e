// A control panel or control unit: one output, in volts, in duty or on a bus, by position.
#include <algorithm>

#include "netlists/parts/command_input.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"head", "output", Unit::volt, 0, most_supply},
    {"head", "output", Unit::percent, 0, 1},
    {"head", "output ohms", Unit::ohm, 0.1, 1e6},
};

/// Outputs are parameters of this name, in the order of the positions that give one.
constexpr std::string_view output_name = "output";

std::vector<const Parameter*> outputs_of(const Part& part) {
    std::vector<const Parameter*> found;
    for (const Parameter& parameter : part.parameters) {
        if (parameter.name == output_name) found.push_back(&parameter);
    }
    return found;
}

class PositionLine {
public:
    PositionLine(PartReader& reader, Part& part) : reader_(reader), part_(part) {}

    void take(const Word& word) {
        const auto equals = word.text.find('=');
        const std::string name = word.text.substr(0, equals);
        if (name.empty()) return error(ProblemCode::missing_word, word, "'" + word.text + "' has no position name");
        if (!is_name(name))
            return error(ProblemCode::bad_name, word,
                         "'" + name + "' is no name of a position: letters, digits, _ - / only");
        if (part_.position_named(name))
            return error(ProblemCode::written_twice, word,
                         "position '" + name + "' of '" + part_.name + "' stands twice");
        Position position{name, {}};
        if (equals != std::string::npos) {
            if (!take_output(word, word.text.substr(equals + 1))) return;
            position.contacts = {name};
        }
        part_.positions.push_back(std::move(position));
    }

private:
    void error(ProblemCode code, const Word& word, std::string message) {
        reader_.error(code, reader_.place_of(word), std::move(message),
                      "for example " + std::string(part_.kind->example));
    }

    bool take_output(const Word& word, const std::string& text) {
        const auto measure = parse_measure(text);
        if (!measure || (measure->unit != Unit::volt && measure->unit != Unit::percent)) {
            error(ProblemCode::wrong_unit, word, "'" + word.text + "': the output of a head is in volts or per cent");
            return false;
        }
        const FigureBounds& bounds = figure_bounds(*part_.kind, output_name, measure->unit);
        if (!bounds.holds(measure->value)) {
            error(ProblemCode::figure_out_of_range, word,
                  "'" + word.text + "': an output of a head can be " + bounds.range());
            return false;
        }
        if (unit_ && *unit_ != measure->unit) {
            error(ProblemCode::contradiction, word,
                  "'" + word.text + "': '" + part_.name + "' gives volts in one position and a duty in another");
            return false;
        }
        unit_ = measure->unit;
        part_.parameters.push_back({std::string(output_name), measure->value, measure->unit, "file", 0, true, false});
        return true;
    }

    PartReader& reader_;
    Part& part_;
    std::optional<Unit> unit_;
};

/// `OUT:` or `OUT :`; the name before the colon is the output's terminal. Returns the word that stands there without
/// one: a position.
std::optional<Word> read_output_name(PartReader& reader, Part& part) {
    part.common = "OUT";
    const Word* first = reader.peek();
    if (!first || first->text.find('=') != std::string::npos) return std::nullopt;
    Word word = reader.take();
    if (word.text == ":") return std::nullopt;
    if (word.text.ends_with(':')) {
        part.common = word.text.substr(0, word.text.size() - 1);
        return std::nullopt;
    }
    const Word* colon = reader.peek();
    if (!colon || colon->text != ":") return word;
    reader.take();
    part.common = word.text;
    return std::nullopt;
}

void read(PartReader& reader, Part& part) {
    reader.after_or_row(part, "output", "output ohms", Unit::ohm, "head_output_ohm");
    reader.flag(part, {"bus"});
    const auto position = read_output_name(reader, part);
    PositionLine line(reader, part);
    bool first = !position;
    if (position) line.take(*position);
    while (const Word* word = reader.peek()) {
        if (!first && word->after_comma && word->text.find('=') == std::string::npos) break;
        first = false;
        line.take(reader.take());
    }
    if (part.positions.size() < 2) {
        reader.error_of_line(ProblemCode::wrong_count, "'" + part.name + "' needs at least two positions",
                             "for example " + std::string(part.kind->example));
    }
    if (const auto off = part.position_named("off")) part.rest_position = *off;
}

std::vector<std::string> terminals(const Part& part) {
    return {"+", "-", part.common};
}

/// Volts of a position at the head's own supply.
double output_volts(const Parameter& output, bool bus, double supply) {
    if (output.unit == Unit::volt) return output.value;
    const double share =
        bus ? bus_share_at_nought + (bus_share_at_full - bus_share_at_nought) * output.value : output.value;
    return share * supply;
}

constexpr double source_siemens = 1;  // its ohms stand in the output

void modes(const Part& part, Layout& layout, BranchId output, JointId pin, JointId minus) {
    const std::string& name = part.name;
    FaultMode& none = layout.mode({"no-command", name + " gives no command"}, FaultClass::switch_relay,
                                  {ModeFact::may_touch}, opening(output));
    none.share = 2;
    FaultMode& weak = layout.mode({"weak-driver", "output of " + name + " is weak"}, FaultClass::switch_relay,
                                  {ModeFact::may_touch}, adding_ohms(output));
    weak.size = SizeRange{1e3, 1e5, 22e3, Unit::ohm, true, "ASSUMED"};
    weak.share = 0.5;
    FaultMode& low = layout.mode({"output shorted-low", "output of " + name + " shorted to its ground inside"},
                                 FaultClass::switch_relay, {ModeFact::may_touch}, shorting(pin, minus));
    low.share = 0.5;
    const PartId id = layout.part_id();
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        FaultMode& stuck =
            layout.mode({"stuck " + part.positions[i].name,
                         name + " gives the command of " + part.positions[i].name + " in every position"},
                        FaultClass::switch_relay, {ModeFact::may_touch}, staying_in(id, i));
        stuck.share = 0.3;
    }
}

void lay(const Part& part, Layout& layout) {
    const JointId pin = layout.pin(part.common);
    const JointId minus = layout.used("-") ? layout.pin("-") : layout.circuit().metal;
    const JointId plus = layout.used("+") ? layout.pin("+") : layout.circuit().bus_30;
    layout.branch({"own draw", BranchSort::signal}, plus, minus, Resistor{default_value("electronics_draw_ohm")});
    const JointId inside = layout.inner("output");
    const BranchId output =
        layout.branch({"output", BranchSort::signal}, inside, pin, Resistor{part.value("output ohms")});
    Part& own = layout.circuit().parts[layout.part_id().index];
    std::vector<Parameter> outputs;
    Electronics made;
    const std::vector<const Parameter*> stated = outputs_of(part);
    for (std::size_t i = 0; i < part.positions.size(); ++i) {
        const std::string& name = part.positions[i].name;
        if (part.positions[i].contacts.empty() || outputs.size() >= stated.size()) continue;
        const Parameter* volts = stated[outputs.size()];
        const JointId level = layout.inner("level " + name);
        own.contacts[name] =
            layout.branch({"position " + name, BranchSort::signal}, level, inside, Contact{0, i == part.rest_position});
        made.driven.push_back(layout.branch({"level " + name, BranchSort::signal}, level, minus,
                                            Stage{source_siemens, volts->value, true}));
        outputs.push_back(*volts);
    }
    const bool bus = part.has_flag("bus");
    made.seen = {plus, minus};
    // An output in volts asks only whether the head lives: no figure that has to be followed.
    const double full = layout.circuit().supply;
    const bool shares = !outputs.empty() && outputs.front().unit == Unit::percent;
    made.full = full;
    made.wanted = [full, shares, live = least_working_volts(layout.circuit())](std::span<const double> volts) {
        const double supply = volts[0] - volts[1];
        if (supply < live) return 0.0;
        return shares ? supply : full;
    };
    made.laws = [outputs, bus](double supply) {
        std::vector<Law> laws;
        for (const Parameter& typed : outputs)
            laws.emplace_back(supply > 0 ? Stage{source_siemens, output_volts(typed, bus, supply), true} : Stage{});
        return laws;
    };
    if (!made.driven.empty()) own.electronics = std::move(made);
    modes(part, layout, output, pin, minus);
}

}  // namespace

constinit const Kind head_kind{
    .word = "head",
    .example = "head OUT: off=0V lo=2.1V hi=6.9V",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::control,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "B+=+ GND=- 15=+ 30=+ 31=-",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
