// Solid-state relay: a transistor from 30 to 87 that volts at 86-85 switch on. Nothing moves and nothing clicks.
#include <cmath>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"solid-relay", "rated amps", Unit::ampere, 0.05, 2000},
    {"solid-relay", "on ohms", Unit::ohm, 1e-4, 1},
    {"solid-relay", "input ohms", Unit::ohm, 50, 30e3},
    {"solid-relay", "pull volts", Unit::volt, 0.5, most_supply},
};

void read(PartReader& reader, Part& part) {
    reader.after_or_row(part, "on", "on ohms", Unit::ohm, "module_on_ohm");
    reader.after_or(part, "input", "input ohms", Unit::ohm, 1000, "about 12 mA at 12 V, ASSUMED");
    reader.after_or(part, "pulls", "pull volts", Unit::volt, 4, "ASSUMED");
    reader.optional(part, "rated amps", Unit::ampere, 0, "not stated");
}

std::vector<std::string> terminals(const Part&) {
    return {"30", "85", "86", "87"};
}

void lay(const Part& part, Layout& layout) {
    const std::string& name = part.name;
    const JointId minus = layout.pin("85");
    const JointId plus = layout.pin("86");
    const JointId seen = layout.inner("input");
    const BranchId input =
        layout.branch({"input", BranchSort::signal}, plus, seen, Resistor{default_value("command_series_ohm")});
    layout.branch({"own draw", BranchSort::signal}, seen, minus, Resistor{part.value("input ohms")}, 0.03);
    const Stage on{1 / part.value("on ohms"), 0, true};
    const JointId inside = layout.inner("output");
    const BranchId path = layout.branch({"output", BranchSort::other}, layout.pin("30"), inside, on);
    const BranchId lead = layout.branch({"output lead", BranchSort::other}, inside, layout.pin("87"), Resistor{0});
    Electronics made;
    made.seen = {seen, minus};
    made.driven = {path};
    made.full = 1;
    made.none = 0;
    made.wanted = [pulls = part.value("pull volts")](std::span<const double> volts) {
        return volts[0] - volts[1] >= pulls ? 1.0 : 0.0;
    };
    made.laws = [on](double conducts) { return std::vector<Law>{conducts > 0 ? on : Stage{}}; };
    layout.circuit().parts[layout.part_id().index].electronics = std::move(made);

    const auto mode = [&](ModeWords words, ModeFacts facts, ChangesOf changes, double share) -> FaultMode& {
        FaultMode& row = layout.mode(std::move(words), FaultClass::switch_relay, facts, std::move(changes));
        row.share = share;
        row.looks = "burnt melted";
        return row;
    };
    mode({"dead", "output stage of " + name + " open"}, {ModeFact::may_touch}, opening(path), 1);
    // A transistor that was overloaded melts through and conducts for good (common practice, no source).
    mode({"shorted", "output stage of " + name + " shorted: on for good"}, {}, holding(path, true), 2);
    mode({"input open", "control input of " + name + " open"}, {ModeFact::may_touch}, opening(input), 0.5);
    mode({"resistance", "output stage of " + name + " passes too little"},
         {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(lead), 0.5)
        .size = resistance_range();
}

}  // namespace

constinit const Kind solid_relay_kind = passive_kind({
    .word = "solid-relay",
    .example = "solid-relay 30A, on 5mohm",
    .fitting = Fitting::plugs_in,
    .drop = Drop::none,
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "3=30 2=85 1=86 5=87 88=30 88a=87",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
