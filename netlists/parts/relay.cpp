// Relay: a coil 85-86 that moves a contact 30-87 (and 30-87a).
#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"relay", "rated amps", Unit::ampere, 0.05, 2000},     {"relay", "coil ohms", Unit::ohm, 0.1, 1e5},
    {"relay", "pull volts", Unit::volt, 0.1, most_supply}, {"relay", "drop volts", Unit::volt, 0, most_supply},
    {"relay", "suppression ohms", Unit::ohm, 1, 1e7},      {"relay", "contact ohms", Unit::ohm, 0, most_contact_ohms},
};

void read(PartReader& reader, Part& part) {
    const double supply = reader.circuit().supply;
    reader.put_for("with", "");
    reader.number_may_lead("coil", Unit::ohm);
    reader.number_may_lead("resistor", Unit::ohm);
    reader.after(part, "resistor", "suppression ohms", Unit::ohm);
    reader.after_or_row(part, "coil", "coil ohms", Unit::ohm, row_at("relay_coil_ohm", supply));
    reader.after_or_row(part, "pulls", "pull volts", Unit::volt, row_at("relay_pulls", supply));
    reader.after_or_row(part, "drops", "drop volts", Unit::volt, row_at("relay_drops", supply));
    reader.after_or_row(part, "contact", "contact ohms", Unit::ohm, "relay_contact_ohm");
    reader.optional(part, "rated amps", Unit::ampere, 0, "not stated");
    reader.flag(part, {"diode"});
    if (part.value("drop volts") >= part.value("pull volts")) {
        reader.error_of_line(ProblemCode::contradiction,
                             "'" + part.name + "' would let go at more volts than it pulls in at",
                             "pulls 7.2V, drops 1.2V");
    }
}

std::vector<std::string> terminals(const Part&) {
    return {"30", "85", "86", "87", "87a", "87b"};
}

void coil_modes(const std::string& name, Layout& layout, BranchId coil, double ohms) {
    FaultMode& open = layout.mode({"coil open", "coil of " + name + " open"}, FaultClass::switch_relay,
                                  {ModeFact::may_touch}, opening(coil));
    open.share = 1;
    FaultMode& turns = layout.mode({"coil shorted-turns", "shorted turns in the coil of " + name},
                                   FaultClass::switch_relay, {}, scaling(coil, ohms));
    turns.size = SizeRange{0.1, 0.9, default_value("shorted_turns_factor"), Unit::none, false, "ASSUMED"};
    turns.share = 0.2;
}

/// `contact open`, `contact resistance`; for 87a the words carry its number unless it is the only contact.
void contact_words_modes(const std::string& name, Layout& layout, BranchId branch, const std::string& words) {
    FaultMode& open = layout.mode({words + " open", words + " of " + name + " does not close"},
                                  FaultClass::switch_relay, {ModeFact::may_touch}, opening(branch));
    open.looks = "burnt";
    FaultMode& poor = layout.mode({words + " resistance", "poor " + words + " in " + name}, FaultClass::switch_relay,
                                  {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(branch));
    poor.size = resistance_range();
    poor.looks = "burnt melted";
}

void lay_suppression(const Part& part, Layout& layout) {
    if (part.has_flag("diode")) {
        // Cathode at 86: it blocks while the coil is fed the usual way round.
        const Diode diode{default_value("diode_i_sat"), default_value("diode_n")};
        const BranchId branch = layout.branch({"diode", BranchSort::other}, "85", "86", diode);
        FaultMode& shorted = layout.mode({"diode shorted", "suppression diode of " + part.name + " shorted"},
                                         FaultClass::switch_relay, {}, shorting(branch));
        shorted.share = 0.2;
        FaultMode& open = layout.mode({"diode open", "suppression diode of " + part.name + " open"},
                                      FaultClass::switch_relay, {ModeFact::may_touch}, opening(branch));
        open.catalogued = false;  // nothing a meter or a person would notice
    }
    if (part.parameter("suppression ohms")) {
        layout.branch({"suppression", BranchSort::suppression}, "86", "85", Resistor{part.value("suppression ohms")},
                      0.03);
    }
}

/// Where a contact stays that neither falls nor pulls any more. On 87 it has welded (or the armature sticks, which no
/// meter tells from it). On 87a it has welded to the resting throw; what only rests there may stick pulled instead.
void staying_modes(const std::string& name, Layout& layout, const RelayAction& action) {
    const auto stays = [&](ModeWords words, std::vector<Change> changes, double share) -> FaultMode& {
        FaultMode& mode = layout.mode(std::move(words), FaultClass::switch_relay, {ModeFact::may_touch},
                                      [changes = std::move(changes)](double, double) { return changes; });
        mode.share = share;
        return mode;
    };
    const bool has_87 = action.normally_open.valid();
    const bool has_87a = action.normally_closed.valid();
    std::vector<Change> pulled;
    std::vector<Change> at_rest;
    if (has_87) {
        pulled.push_back(HoldContact{action.normally_open, true});
        at_rest.push_back(HoldContact{action.normally_open, false});
    }
    if (has_87a) {
        pulled.push_back(HoldContact{action.normally_closed, false});
        at_rest.push_back(HoldContact{action.normally_closed, true});
    }
    // Both are rarer than coils and contacts that open, and at rest a spring works against the weld (common practice,
    // no source).
    constexpr double stays_pulled = 0.7;
    constexpr double stays_at_rest = 0.3;
    FaultMode& welded = stays({"welded", "contact of " + name + " welded"}, has_87 ? pulled : at_rest,
                              has_87 ? stays_pulled : stays_at_rest);
    welded.looks = "burnt melted";
    FaultMode& sticks = stays({"stuck pulled", name + " sticks pulled"}, pulled, stays_pulled);
    sticks.catalogued = !has_87;  // on 87 the same as welded
    if (has_87 && has_87a) {
        FaultMode& resting =
            stays({"contact 87a welded", "contact 87a of " + name + " welded"}, at_rest, stays_at_rest);
        resting.looks = "burnt melted";
    }
}

void lay(const Part& part, Layout& layout) {
    const double ohms = part.value("coil ohms");
    RelayAction action;
    action.healthy_coil_ohms = ohms;
    action.pull_in_volts = part.value("pull volts");
    action.drop_out_volts = part.value("drop volts");
    action.coil = layout.branch({"coil", BranchSort::other}, "86", "85", Resistor{ohms},
                                sigma_of(*part.parameter("coil ohms"), "tolerance_pack_ohm"));
    coil_modes(part.name, layout, action.coil, ohms);
    lay_suppression(part, layout);

    const bool has_87a = layout.used("87a");
    const bool has_87b = layout.used("87b");
    const bool has_87 = layout.used("87") || has_87b || !has_87a;
    const double contact_ohms = part.value("contact ohms");
    if (has_87) {
        action.normally_open =
            layout.branch({"contact", BranchSort::contact}, "30", "87", Contact{contact_ohms, false}, contact_sigma());
        contact_words_modes(part.name, layout, action.normally_open, "contact");
        // A relay with two terminals 87: one contact feeds both.
        if (has_87b) {
            layout.branch({"bar 87b", BranchSort::other}, "87", "87b", Resistor{0});
        }
    }
    if (has_87a) {
        action.normally_closed = layout.branch({"contact 87a", BranchSort::contact}, "30", "87a",
                                               Contact{contact_ohms, true}, contact_sigma());
        contact_words_modes(part.name, layout, action.normally_closed, has_87 ? "contact 87a" : "contact");
    }
    staying_modes(part.name, layout, action);
    layout.circuit().parts[layout.part_id().index].relay = action;
}

}  // namespace

constinit const Kind relay_kind{
    .word = "relay",
    .example = "relay 40A, coil 90ohm, diode",
    .fitting = Fitting::plugs_in,
    .joining = Joining::nothing,
    .duty = Duty::other,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "3=30 2=85 1=86 5=87 4=87a 88=30 88a=87",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
