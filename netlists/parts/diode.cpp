// Diode, from A (terminal 1) to K (terminal 2).
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
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

void lay(const Part& part, Layout& layout) {
    const Diode healthy{default_value("diode_i_sat"), default_value("diode_n")};
    const BranchId branch = layout.branch({"diode", BranchSort::other}, "1", "2", healthy);
    FaultMode& open = layout.mode({"open", "diode " + part.name + " open"}, FaultClass::load, {ModeFact::lost_contact},
                                  opening(branch));
    open.looks = "burnt";
    FaultMode& shorted =
        layout.mode({"shorted", "diode " + part.name + " shorted"}, FaultClass::load, {}, shorting(branch));
    shorted.looks = "burnt";
}

}  // namespace

constinit const Kind diode_kind = passive_kind({
    .word = "diode",
    .example = "diode",
    .fitting = Fitting::wired,
    .drop = Drop::by_design,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "A=1 K=2",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
