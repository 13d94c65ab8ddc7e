// Lamp: a hot filament, R = V^2 / W at every voltage.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"lamp", "rated watts", Unit::watt, 0.01, 1000},
    {"lamp", "rated volts", Unit::volt, 1, most_supply},
};

void read(PartReader& reader, Part& part) {
    reader.optional_row(part, "rated watts", Unit::watt, "lamp_watts");
    reader.optional_row(part, "rated volts", Unit::volt, row_at("lamp_rated_volts", reader.circuit().supply));
    reader.feed(part);
    // `lamp 21V`: a slip of the unit, not a lamp of the usual watts for 21 V.
    if (part.parameter("rated volts")->typed && !part.parameter("rated watts")->typed)
        reader.error_of_line(ProblemCode::missing_figure, "'" + part.name + "' says its volts and no watts",
                             "for example lamp 21W @12V");
}

void lay(const Part& part, Layout& layout) {
    const double volts = part.value("rated volts");
    const Resistor filament{volts * volts / part.value("rated watts")};
    const BranchId branch = layout.branch({"filament", BranchSort::other}, "1", "2", filament,
                                          sigma_of(*part.parameter("rated watts"), "tolerance_pack_ohm"));
    layout.circuit().parts[layout.part_id().index].load_branch = branch;
    FaultMode& open = layout.mode({"open", "lamp " + part.name + " burnt out"}, FaultClass::load,
                                  {ModeFact::lost_contact}, opening(branch));
    open.share = 3;
    open.looks = "broken burnt";
    FaultMode& poor = layout.mode({"resistance", "poor contact in the holder of lamp " + part.name}, FaultClass::load,
                                  {ModeFact::poor_contact}, adding_ohms(branch));
    poor.size = resistance_range();
    poor.looks = "crust rust loose";
}

}  // namespace

constinit const Kind lamp_kind{
    .word = "lamp",
    .example = "lamp 21W",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::lamp,
    .load_words = "lamp light bulb",
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "a=1 b=2 +=1 -=2 54=1 55=1 56=1 56a=1 56b=1 57=1 58=1 31=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
