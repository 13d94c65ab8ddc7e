// A kind that the program does not have, added as a kind is: this file, and its row in the table below.
#include "netlists/parts/kind.hpp"
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds toy_figures[]{{"buzzer", "ohms", Unit::ohm, 0.1, 1000}};

void read(PartReader& reader, Part& part) {
    reader.required(part, "ohms", Unit::ohm);
    reader.feed(part);
}

std::vector<std::string> terminals(const Part&) {
    return {"1", "2"};
}

void lay(const Part& part, Layout& layout) {
    const double ohms = part.value("ohms");
    const BranchId reed =
        layout.branch({"reed", BranchSort::other}, layout.pin("1"), layout.pin("2"), Resistor{ohms}, 0.03);
    layout.circuit().parts[layout.part_id().index].load_branch = reed;
    FaultMode& mute = layout.mode({"mute", "buzzer " + part.name + " mute"}, FaultClass::load, {ModeFact::may_touch},
                                  [reed](double, double) { return std::vector<Change>{OpenBranch{reed}}; });
    mute.looks = "burnt";
    FaultMode& stiff = layout.mode({"stiff-reed", "reed of buzzer " + part.name + " stiff"}, FaultClass::load,
                                   {ModeFact::rubs}, [reed, ohms](double factor, double) {
                                       return std::vector<Change>{SetLaw{reed, Resistor{ohms * factor}}};
                                   });
    stiff.size = SizeRange{1.2, 20, 3, Unit::none, true, "made up for a test"};
}

constinit const Kind buzzer_kind{
    .word = "buzzer",
    .example = "buzzer 6ohm",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::lamp,
    .load_words = "buzzer",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "+=1 -=2",
    .lay = lay,
    .figures = toy_figures,
};

}  // namespace

/// This program's table of kinds: the buzzer's row, and those it takes to feed one.
std::span<const Kind> kinds() {
    static const std::vector<Kind> table{battery_kind,   fuse_kind,   switch_kind,
                                         connector_kind, ground_kind, buzzer_kind};
    return table;
}

}  // namespace voltfall
