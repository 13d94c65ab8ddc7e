// Battery: an EMF behind ohms; the charging volts stand behind the same ohms while the engine runs.
#include <algorithm>

#include "netlists/parts/kinds.hpp"
#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr FigureBounds figures[] = {
    {"battery", "rest volts", Unit::volt, least_supply, most_supply},
    {"battery", "charging volts", Unit::volt, least_supply, most_supply},
    {"battery", "ohms", Unit::ohm, 1e-4, 10},
};

void read(PartReader& reader, Part& part) {
    const double supply = reader.circuit().supply;
    reader.after_or_row(part, "charging", "charging volts", Unit::volt, row_at("charging_volts", supply));
    reader.optional_row(part, "rest volts", Unit::volt, row_at("battery_volts", supply));
    reader.optional_row(part, "ohms", Unit::ohm, row_at("battery_ohm", supply));
}

std::vector<std::string> terminals(const Part&) {
    return {"+", "-"};
}

SizeRange weak_range(double supply) {
    const double cells = supply / 12;  // the row is for 12 V
    const auto [low, high, unit] = default_range("range_weak");
    return {low * cells, high * cells, default_value(row_at("weak_volts", supply)), unit, false, "range_weak"};
}

void lay(const Part& part, Layout& layout) {
    // The starter draws its default current from a sound battery of this circuit's volts.
    const double starter_amps = default_value("starter_amps");
    const double own_ohms = default_value(row_at("battery_ohm", layout.circuit().supply));
    const double starter_ohms = std::max(0.0, part.value("rest volts") / starter_amps - own_ohms);
    const Source healthy{part.value("rest volts"), part.value("charging volts"), part.value("ohms"), starter_ohms};
    // A battery's ohms rise with age and cold: one sigma a factor of 1.35 (ASSUMED).
    const BranchId cell = layout.branch({"cell", BranchSort::other}, "+", "-", healthy, 0.3);

    FaultMode& weak = layout.mode(
        {"weak", "battery " + part.name + " weak"}, FaultClass::battery, {}, [cell, healthy](double volts, double) {
            const bool charging_too = default_value("weak_when_charging") > 0;
            return std::vector<Change>{SetLaw{cell, Source{volts, charging_too ? volts : healthy.charging_volts,
                                                           healthy.ohms, healthy.starter_ohms}}};
        });
    weak.size = weak_range(layout.circuit().supply);
    weak.share = 3;
    FaultMode& poor = layout.mode({"resistance", "poor post or clamp of battery " + part.name}, FaultClass::battery,
                                  {ModeFact::poor_contact}, adding_ohms(cell));
    poor.size = resistance_range();
    poor.looks = "crust loose rust";
    poor.share = 3;
    FaultMode& flat =
        layout.mode({"not-charging", "battery " + part.name + " not charged by the running engine"},
                    FaultClass::battery, {}, [cell, healthy](double, double) {
                        return std::vector<Change>{
                            SetLaw{cell, Source{healthy.volts, healthy.volts, healthy.ohms, healthy.starter_ohms}}};
                    });
    flat.share = 1;
    FaultMode& open = layout.mode({"open", "battery " + part.name + " disconnected"}, FaultClass::battery,
                                  {ModeFact::lost_contact}, opening(cell));
    open.share = 0.5;
    open.looks = "loose crust";
}

}  // namespace

constinit const Kind battery_kind{
    .word = "battery",
    .example = "battery 12.6V 8mohm, charging 14.2V",
    .fitting = Fitting::wired,
    .joining = Joining::nothing,
    .duty = Duty::battery,
    .drop = Drop::none,
    .load = LoadKind::none,
    .load_words = "",
    .read = read,
    .terminals = terminals,
    .terminal_aliases = "plus=+ minus=- 1=+ 2=- p=+ n=- 30=+ 31=-",
    .lay = lay,
    .figures = figures,
};

}  // namespace voltfall
