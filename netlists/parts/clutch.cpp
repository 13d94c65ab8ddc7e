// A/C clutch or any solenoid coil.
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"clutch", "coil ohms", Unit::ohm, 0.05, 1e5},
    {"clutch", "pull volts", Unit::volt, 0.1, most_supply},
};

void read(PartReader& reader, Part& part) {
    const double supply = reader.circuit().supply;
    reader.put_for("with", "");
    reader.put_for("coil", "");
    reader.after_or_row(part, "pulls", "pull volts", Unit::volt, row_at("clutch_pulls", supply));
    reader.optional_row(part, "coil ohms", Unit::ohm, row_at("clutch_ohm", supply));
    reader.flag(part, {"diode"});
    reader.flag(part, {"thermal-link"});
    reader.feed(part);
}

/// A link that melts when a clutch that slips has heated the coil's housing; it does not come back.
void lay_thermal_link(const std::string& name, Layout& layout, JointId behind) {
    const BranchId link = layout.branch({"thermal link", BranchSort::other}, behind, layout.pin("2"),
                                        Resistor{default_value("limiter_ohm")});
    FaultMode& open =
        layout.mode({"thermal-link open", "thermal link in the coil of " + name + " open: look for why it slipped"},
                    FaultClass::load, {}, opening(link));
    open.share = 1.5;
    open.looks = "burnt";
}

void lay(const Part& part, Layout& layout) {
    const double ohms = part.value("coil ohms");
    const bool has_link = part.has_flag("thermal-link");
    const JointId behind = has_link ? layout.inner("thermal link") : layout.pin("2");
    const BranchId coil = layout.branch({"coil", BranchSort::other}, layout.pin("1"), behind, Resistor{ohms},
                                        sigma_of(*part.parameter("coil ohms"), "tolerance_pack_ohm"));
    if (has_link) lay_thermal_link(part.name, layout, behind);
    layout.circuit().parts[layout.part_id().index].load_branch = coil;
    FaultMode& open = layout.mode({"coil open", "coil of " + part.name + " open"}, FaultClass::load, {}, opening(coil));
    open.share = 3;
    open.looks = "burnt";
    FaultMode& turns = layout.mode({"coil shorted-turns", "shorted turns in the coil of " + part.name},
                                   FaultClass::load, {}, scaling(coil, ohms));
    turns.size = SizeRange{0.05, 0.9, default_value("shorted_turns_factor"), Unit::none, false, "ASSUMED"};
    turns.looks = "burnt";
    // It pulls in late or not at all, most of all hot, and does once its hub is pushed in. The pull goes with the
    // square of volts by gap, so that the volts grow with the gap; one of three times the new one was measured
    // (scenarios/cases/later, L10).
    const PartId id = layout.part_id();
    FaultMode& gap =
        layout.mode({"gap", "air gap of " + part.name + " worn wide: it hardly pulls in"}, FaultClass::load,
                    {ModeFact::may_touch, ModeFact::starts_by_hand}, [id](double factor, double) {
                        return std::vector<Change>{PullHarder{id, factor}};
                    });
    gap.size = SizeRange{1.2, 4, default_value("gap_factor"), Unit::none, true, "ASSUMED"};
    gap.share = 2;
    if (!part.has_flag("diode")) return;
    const Diode diode{default_value("diode_i_sat"), default_value("diode_n")};
    const BranchId across = layout.branch({"diode", BranchSort::other}, "2", "1", diode);
    FaultMode& shorted = layout.mode({"diode shorted", "suppression diode of " + part.name + " shorted"},
                                     FaultClass::load, {}, shorting(across));
    shorted.share = 0.3;
}

}  // namespace

constinit const Kind clutch_kind{
    .word = "clutch",
    .example = "clutch 3.6ohm, pulls 7.5V",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::clutch,
    .load_words = "clutch compressor solenoid",
    .read = read,
    .terminals = two_terminals,
    .terminal_aliases = "+=1 -=2 31=2",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
