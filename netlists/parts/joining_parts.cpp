// Connector, splice and ground: parts that only join wires. Halves of cavities and legs of splices depend on the
// wires, so the reader of [wires] lays them; a ground lays its own way to the metal.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds connector_figures[] = {
    {"connector", "ways", Unit::way, 1, 500, Counting::whole},
    {"connector", "rated amps", Unit::ampere, 0.01, most_rated_amps},
    {"connector", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

constexpr FigureBounds splice_figures[] = {
    {"splice", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

constexpr FigureBounds ground_figures[] = {
    {"ground", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

void read_connector(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "connector_ohm");
    reader.optional(part, "ways", Unit::way, 0, "not stated");
    reader.rating(part);
}
void read_splice(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "splice_ohm");
}
void read_ground(PartReader& reader, Part& part) {
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "ground_ohm");
}

std::vector<std::string> any_terminal(const Part&) {
    return {};
}

void lay_nothing(const Part&, Layout&) {}

void lay_ground(const Part& part, Layout& layout) {
    Circuit& circuit = layout.circuit();
    const JointId joint = layout.add_joint({part.name, {}, part.name, Access::open, {}});
    Part& own = circuit.parts[layout.part_id().index];
    own.pins[""] = own.harness[""] = joint;
    const BranchId stud = layout.branch({"ground", BranchSort::other}, joint, circuit.metal,
                                        Resistor{part.value("contact ohms")}, contact_sigma());
    layout.contact_modes(part.name, stud, {"ground " + part.name + " off the metal", "poor ground at " + part.name},
                         "rust loose crust");
}

}  // namespace

constinit const Kind connector_kind{
    .word = "connector",
    .example = "connector bulkhead, 8 way",
    .fitting = Fitting::wired,
    .joining = Joining::cavities,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read_connector,
    .terminals = any_terminal,
    .terminal_aliases = "",
    .lay = lay_nothing,
    .figures = connector_figures,
    .free_text = FreeText::anywhere,
};
constinit const Kind splice_kind{
    .word = "splice",
    .example = "splice, heater box",
    .fitting = Fitting::wired,
    .joining = Joining::legs,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read_splice,
    .terminals = any_terminal,
    .terminal_aliases = "",
    .lay = lay_nothing,
    .figures = splice_figures,
    .free_text = FreeText::anywhere,
};
constinit const Kind ground_kind{
    .word = "ground",
    .example = "ground left cowl stud",
    .fitting = Fitting::wired,
    .joining = Joining::metal,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read_ground,
    .terminals = any_terminal,
    .terminal_aliases = "",
    .lay = lay_ground,
    .figures = ground_figures,
    .free_text = FreeText::anywhere,
};

}  // namespace voltfall
