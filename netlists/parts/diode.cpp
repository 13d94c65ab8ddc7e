// Diode, from A (terminal 1) to K (terminal 2).
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"diode", "rated amps", Unit::ampere, 1e-3, 1000},
};

void read(PartReader& reader, Part& part) {
    reader.optional(part, "rated amps", Unit::ampere, 0, "not stated");
    reader.feed(part);
}

std::vector<std::string> terminals(const Part&) {
    return {"1", "2"};
}

void lay(const Part& part, Layout& layout) {
    const Diode healthy{default_value("diode_i_sat"), default_value("diode_n")};
    const BranchId branch = layout.branch({"diode", BranchSort::other}, layout.pin("1"), layout.pin("2"), healthy);
    FaultMode& open = layout.mode({"open", "diode " + part.name + " open"}, FaultClass::load, {ModeFact::lost_contact},
                                  [branch](double, double) { return std::vector<Change>{OpenBranch{branch}}; });
    open.looks = "burnt";
    FaultMode& shorted =
        layout.mode({"shorted", "diode " + part.name + " shorted"}, FaultClass::load, {}, [branch](double, double) {
            return std::vector<Change>{SetLaw{branch, Resistor{default_value("shorted_ohm")}}};
        });
    shorted.looks = "burnt";
}

}  // namespace

constinit const Kind diode_kind{
    .word = "diode",
    .example = "diode",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::by_design,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "A=1 K=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
