// One coil: a ballast, a heated seat, a defogger.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"resistor", "ohms", Unit::ohm, 1e-4, 1e8},
    {"resistor", "rated watts", Unit::watt, 1e-3, 1e5},
};

void read(PartReader& reader, Part& part) {
    reader.required(part, "ohms", Unit::ohm);
    reader.optional(part, "rated watts", Unit::watt, 0, "not stated");
    reader.feed(part);
}

void lay(const Part& part, Layout& layout) {
    const Resistor healthy{part.value("ohms")};
    const BranchId coil = layout.branch({"coil", BranchSort::other}, "1", "2", healthy,
                                        sigma_of(*part.parameter("ohms"), "tolerance_pack_ohm"));
    layout.circuit().parts[layout.part_id().index].load_branch = coil;
    FaultMode& open = layout.mode({"open", "resistor " + part.name + " open"}, FaultClass::load,
                                  {ModeFact::lost_contact}, opening(coil));
    open.share = 3;
    open.looks = "burnt cracked";
    FaultMode& drift = layout.mode({"drift", "resistor " + part.name + " has changed its ohms"}, FaultClass::load, {},
                                   scaling(coil, healthy.ohms));
    drift.size = factor_range("range_drift", "drift_factor");
    FaultMode& poor = layout.mode({"resistance", "poor contact in resistor " + part.name}, FaultClass::load,
                                  {ModeFact::poor_contact}, adding_ohms(coil));
    poor.size = resistance_range();
    poor.catalogued = false;  // the same as drift
}

}  // namespace

constinit const Kind resistor_kind{
    .word = "resistor",
    .example = "resistor 0.6ohm 250W",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::by_design,
    .load = LoadKind::heater,
    .load_words = "heater",
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "a=1 b=2 31=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
