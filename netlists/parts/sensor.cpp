// A sensor of ohms by temperature (NTC), at the temperature at which its ohms are given.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"sensor", "ohms", Unit::ohm, 1, 1e7},
    {"sensor", "at", Unit::celsius, coldest, 500},
};

void read(PartReader& reader, Part& part) {
    reader.after_or(part, "at", "at", Unit::celsius, 25, "usual reference temperature, ASSUMED");
    reader.required(part, "ohms", Unit::ohm);
}

void lay(const Part& part, Layout& layout) {
    const double ohms = part.value("ohms");
    const BranchId element = layout.branch({"element", BranchSort::signal}, "1", "2", Resistor{ohms},
                                           sigma_of(*part.parameter("ohms"), "tolerance_pack_ohm"));
    FaultMode& open = layout.mode({"open", "sensor " + part.name + " open"}, FaultClass::load, {ModeFact::lost_contact},
                                  opening(element));
    open.share = 2;
    FaultMode& shorted =
        layout.mode({"shorted", "sensor " + part.name + " shorted"}, FaultClass::load, {}, shorting(element));
    shorted.share = 0.5;
    FaultMode& drift =
        layout.mode({"drift", "sensor " + part.name + " reads wrong"}, FaultClass::load, {}, scaling(element, ohms));
    drift.size = SizeRange{0.1, 10, 2, Unit::none, true, "ASSUMED"};
}

}  // namespace

constinit const Kind sensor_kind = passive_kind({
    .word = "sensor",
    .example = "sensor 2.2kohm at 25C",
    .fitting = Fitting::wired,
    .drop = Drop::by_design,
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "a=1 b=2",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
