// Potentiometer: a track between 1 and 2, and a wiper W on it.
#include <algorithm>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"pot", "track ohms", Unit::ohm, 1, 1e7},
    {"pot", "wiper at", Unit::percent, 0, 1},
};

void read(PartReader& reader, Part& part) {
    reader.after_or(part, "at", "wiper at", Unit::percent, 0.5, "the middle, ASSUMED");
    reader.required(part, "track ohms", Unit::ohm);
}

std::vector<std::string> terminals(const Part&) {
    return {"1", "W", "2"};
}

void lay(const Part& part, Layout& layout) {
    // At an end of the track a little of it is left on the other side (ASSUMED: half a per cent).
    constexpr double least_share = 0.005;
    const double at = std::min(std::max(part.value("wiper at"), least_share), 1 - least_share);
    const double track = part.value("track ohms");
    const double sigma = sigma_of(*part.parameter("track ohms"), "tolerance_pack_ohm");
    const JointId on_track = layout.inner("track");
    const BranchId first =
        layout.branch({"track 1-W", BranchSort::signal}, layout.pin("1"), on_track, Resistor{track * at}, sigma);
    const BranchId second =
        layout.branch({"track W-2", BranchSort::signal}, on_track, layout.pin("2"), Resistor{track * (1 - at)}, sigma);
    const BranchId wiper = layout.branch({"wiper", BranchSort::contact}, on_track, layout.pin("W"), Resistor{0});
    const auto opens = [&](const std::string& words, const std::string& plain, BranchId branch, double share) {
        FaultMode& mode = layout.mode({words, plain + " of " + part.name + " open"}, FaultClass::switch_relay,
                                      {ModeFact::may_touch}, opening(branch));
        mode.share = share;
    };
    opens("wiper open", "wiper", wiper, 2);
    opens("track 1-W open", "track between 1 and W", first, 1);
    opens("track W-2 open", "track between W and 2", second, 1);
    FaultMode& poor = layout.mode({"wiper resistance", "poor wiper in " + part.name}, FaultClass::switch_relay,
                                  {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(wiper));
    poor.size = SizeRange{100, 1e6, 1e4, Unit::ohm, true, "ASSUMED"};
}

}  // namespace

constinit const Kind pot_kind = passive_kind({
    .word = "pot",
    .example = "pot 10kohm at 50%",
    .fitting = Fitting::wired,
    .drop = Drop::by_design,
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "",
    .lay = lay,
    .figures = figures,
});

}  // namespace voltfall
