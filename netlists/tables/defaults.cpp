#include "netlists/tables/defaults.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>
#include <unordered_map>

#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

constexpr double no_number = std::numeric_limits<double>::quiet_NaN();

// Marks: ASSUMED a modelling choice, MEMORY general knowledge without a page, DERIVED computed from cited values.
constexpr DefaultRow rows[] = {
    {"connector_ohm", 0.002, "", "inline cavity; mated terminals 1-5 mohm, rule of thumb, MEMORY"},
    {"plug_ohm", 0.002, "", "cavity of a plug at a part ([plugs]); as connector_ohm"},
    {"ground_ohm", 0.001, "", "ground stud to metal, ASSUMED"},
    {"body_ohm", 0.0, "", "metal to B1- where no wire of the file ties them, ASSUMED"},
    {"feed_ohm", 0.0, "", "feed 30, feed 15 and the implied key are one piece of copper, ASSUMED"},
    {"splice_ohm", 0.0, "", "each leg of a splice, ASSUMED"},
    {"wire_length_12", 1.0, "",
     "m, of a wire whose file gives none: a car's mile of wire (aec.org, micro-extrusions) over about 1,500 wires "
     "(MEMORY), DERIVED"},
    {"wire_length_24", 2.0, "", "m, the same in a lorry or bus: twice a car's, ASSUMED"},
    {"switch_ohm", 0.005, "", "closed switch or key contact, ASSUMED"},
    {"contact_ohm", 0.01, "",
     "closed simple or pressure contact, ASSUMED (0.1 measured on one, 123docz.net/document/63462)"},
    {"relay_contact_ohm", 0.002, "", "power relay 45 A: 20 mV typical at 10 A (xonelec.com, V23076-A3001)"},
    {"limiter_ohm", 0.001, "", "thermal limiter of a pack, ASSUMED"},
    {"fuse_drop_volts", 0.1, "",
     "drop at rating where no table has the row: R = this / rating; DIN 72581-3 form E allows 100 mV"},
    {"breaker_drop_volts", 0.1, "", "as fuse_drop_volts, ASSUMED"},
    {"battery_volts_12", 12.6, "", "flooded battery, full, at rest (lists.ettus.com/empathy thread)"},
    {"battery_volts_24", 25.2, "", "charged, at rest (TM 5-2420-230-24-1, constructionexcavators.tpub.com)"},
    {"battery_ohm_12", 0.008, "", "ASSUMED; warm batteries 3-8 mohm, MEMORY"},
    {"battery_ohm_24", 0.012, "", "two in series, each larger than a car's, ASSUMED"},
    {"charging_volts_12", 14.2, "", "middle of 13.7-14.6 V at 20 C (Mitsubishi Attrage 2018 service specifications)"},
    {"charging_volts_24", 28.0, "",
     "a 28 V alternator, 27.0 to 29.0 V at idle (vincek-techlib.com/guide/alternator); a regulator's middle step 28.1 "
     "to "
     "28.7 V (manualshive.com/en/manual/ural-motorcycles/4320-10 p.115)"},
    {"starter_amps", 200, "",
     "while the engine is cranked; batteries are tested at 180-210 A (2000 Millenia manual, myvehicle.help)"},
    {"charging_keeps_ohm", 1, "", "1: the charging volts stand behind the battery's ohms; 0: at its posts"},
    {"weak_when_charging", 0, "", "1: B1 weak 11.6V also replaces the charging volts"},
    {"motor_volts_12", 13.5, "", "at which a nameplate without volts holds, running (reference parts 1.5)"},
    {"motor_volts_24", 27.0, "", "as motor_volts_12, of the same shaft power (reference parts 1.5)"},
    {"motor_stall_factor", 4.0, "",
     "stall amps over nameplate amps; relay motor-load tests show 3.8 and 5 (rallyrace.net relay.txt; JJM1-12V sheet), "
     "DERIVED"},
    {"motor_idle_fraction", 0.1, "", "of rated amps, friction with no fan, ASSUMED"},
    {"motor_brush_volts", 1.0, "", "both brushes together, ASSUMED"},
    {"motor_rpm", 3500.0, "", "ASSUMED; vehicle blowers turn above 3000 rpm (hvac.busclima.com)"},
    {"motor_inertia", 1.0e-3, "", "rotor and wheel, ASSUMED; start-up times scale with it"},
    {"motor_inductance_12", 150e-6, "", "armature, ASSUMED"},
    {"motor_inductance_24", 600e-6, "", "four times motor_inductance_12 for twice the turns, ASSUMED"},
    {"brush_soft_amps", 0.2, "", "brush drop is Vb tanh(I / this), so that it has a slope at 0 A, ASSUMED"},
    {"relay_coil_ohm_12", 90.0, "", "power relay 45 A: 90 ohm +-10 % (xonelec.com, V23076-A3001)"},
    {"relay_coil_ohm_24", 320.0, "", "relay 22 A: 24 V 320 ohm (dtsheet.com/doc/683071)"},
    {"relay_pulls_12", 7.2, "", "7.2 V at most on two sheets (dtsheet.com/doc/682964; JJM1-12V)"},
    {"relay_pulls_24", 14.8, "", "14.8 V at most, relay 22 A (dtsheet.com/doc/683071)"},
    {"relay_drops_12", 1.2, "", "1.2 V at least (dtsheet.com/doc/682964); released at 10 % or more (omron-ap.com)"},
    {"relay_drops_24", 2.4, "", "2.4 V at least, relay 22 A (dtsheet.com/doc/683071)"},
    {"clutch_ohm_12", 3.6, "", "inside 2.9-3.8 ohm at 20 C (1996 Tracker manual, myvehicle.help)"},
    {"clutch_ohm_24", 17.6, "", "17.6 +-0.6 ohm (constructionloader.tpub.com TM-5-3805-291-23-1)"},
    {"clutch_pulls_12", 7.5, "", "MEMORY, no published figure found"},
    {"clutch_pulls_24", 15.5, "", "15-16 V, MEMORY, no published figure found"},
    {"lamp_rated_volts_12", 12.0, "", "hot filament, R = V^2 / W at every voltage, ASSUMED"},
    {"lamp_rated_volts_24", 24.0, "", "as lamp_rated_volts_12, ASSUMED"},
    {"lamp_watts", 5.0, "", "ASSUMED"},
    {"test_lamp_watts", 21.0, "", "lamp in F7: a 21 W bulb in place of the fuse, ASSUMED"},
    {"command_series_ohm", 50.0, "", "in series with the control input of a module, ASSUMED"},
    {"module_on_ohm", 0.015, "", "a module's output stage at full, 0.3 V at 20 A, ASSUMED"},
    {"module_watts", 80.0, "",
     "what the heat sink of a linear stage sheds in full air before it folds back: 80 to 150 W are a design's worst "
     "case "
     "(NXP R_10067, studylib.net/doc/18418356)"},
    {"module_limit", 175.0, "", "C at which a power transistor is harmed, MEMORY"},
    {"module_diode_volts", 0.5, "", "free-wheel diode of a chopper (Schottky), ASSUMED"},
    {"electronics_live_12", 7.0, "",
     "volts below which electronics stop: between codes A, 6 V, and B, 8 V, of ISO 16750-2 "
     "(360docs.net/doc/2715450321)"},
    {"electronics_live_24", 13.0, "",
     "the same between codes E, 10 V, and F, 16 V, of ISO 16750-2 (360docs.net/doc/2715450321)"},
    {"electronics_draw_ohm", 4700.0, "", "what electronics draw for themselves: about 3 mA, ASSUMED"},
    {"head_output_ohm", 50.0, "", "output of a control panel, ASSUMED"},
    {"fan_retry_share", 0.1, "", "mean current of a held brushless fan that tries again, of its rated, ASSUMED"},
    {"fan_cut_out", 130.0, "", "C in a brushless fan unit at which its controller cuts out, ASSUMED"},
    {"fan_cools_by", 20.0, "", "K below that at which it runs again, ASSUMED"},
    {"diode_i_sat", 1e-14, "", "SPICE default"},
    {"diode_n", 1.0, "", "SPICE default"},
    {"diode_vt", 0.025864186, "", "kT/q at 27 C"},
    {"diode_gmin", 1e-12, "", "SPICE default"},
    {"fuse_imin_ratio", 1.2, "", "of the rating, fit to blade fuse limits; DERIVED partly from MEMORY"},
    {"breaker_imin_ratio", 1.2, "", "ASSUMED"},
    {"tau_mini", 1.22, "", "where the I2t table has no row; fit to blade fuse limits, DERIVED partly from MEMORY"},
    {"tau_regular", 1.22, "", "fit to blade fuse limits, DERIVED partly from MEMORY"},
    {"tau_maxi", 12.5, "",
     "with its slow stage inside DIN 72581-3 form E at 135, 200 and 350 %; one pole alone would need 38.5 to 55.9 s "
     "and "
     "miss 600 %, DERIVED"},
    {"slow_share_blade", 0.5, "", "of the heat of a mini, regular or glass fuse that its holder sets, ASSUMED"},
    {"slow_tau_blade", 30.0, "", "seconds, as slow_share_blade, ASSUMED"},
    {"slow_share_maxi", 0.6, "", "the same of a maxi or cartridge fuse, ASSUMED"},
    {"slow_tau_maxi", 200.0, "", "seconds, as slow_share_maxi, ASSUMED"},
    {"tau_cartridge", 12.5, "", "as tau_maxi, ASSUMED"},
    {"tau_glass", 1.22, "", "as tau_regular, ASSUMED"},
    {"tau_breaker", 10.0, "", "ASSUMED"},
    {"breaker_recloses", 0.5, "", "share of its opening heat at which a breaker that resets closes again, ASSUMED"},
    {"chafe_ohm", 0.01, "", "1-20 mohm, ASSUMED"},
    {"bridge_ohm", 0.01, "", "as chafe_ohm, ASSUMED"},
    {"short_to_30_ohm", 0.01, "", "as chafe_ohm, ASSUMED"},
    {"shorted_ohm", 0.001, "", "D1 shorted, ASSUMED"},
    {"case_ohm", 0.01, "", "M1 short-to-case, ASSUMED"},
    {"resistance_ohm", 0.3, "", "a resistance fault without ohms, ASSUMED"},
    {"shorted_turns_factor", 0.5, "", "on winding ohms and constant, ASSUMED"},
    {"gap_factor", 2, "", "on a clutch's pull volts, ASSUMED"},
    {"motor_shorted_turns", 0.85, "", "share of the coils that are left whole, ASSUMED: two of about twelve shorted"},
    {"fades_ohm", 0.4, "", "ohms that a module which fades puts in once warm, ASSUMED"},
    {"drag_factor", 1.4, "", "on the rated current, ASSUMED"},
    {"blocked_air_factor", 0.5, "", "on the fan's torque, ASSUMED"},
    {"worn_brush_ohm", 0.4, "", "added ohms, ASSUMED"},
    {"drift_factor", 1.5, "", "on the coil ohms, ASSUMED"},
    {"weak_volts_12", 11.6, "", "ASSUMED"},
    {"weak_volts_24", 23.2, "", "ASSUMED; below 24.0 V is weak (vincek-techlib.com/guide/alternator)"},
    {"place", 0.5, "", "of the wire's length, for a fault without at, ASSUMED"},
    {"resistance_adds", 1, "",
     "1: a resistance fault is in series with the healthy ohms; 0: it replaces them, ASSUMED"},
    {"dead_below", 0.05, "", "of nameplate rpm, ASSUMED"},
    {"slow_below", 0.9, "", "of healthy rpm, ASSUMED"},
    {"fast_above", 1.1, "", "of healthy rpm, ASSUMED"},
    {"blocked_diode_amps", 1e-06, "", "a diode below this is blocked, ASSUMED"},
    {"meter_ohm", 10000000.0, "", "10 Mohm input (PeakTech 4090 manual p.33); also for joints behind a blocked diode"},
    {"tolerance_pack_ohm", 0.1, "10%", "one sigma is a third of it, ASSUMED"},
    {"tolerance_motor_amps", 0.1, "10%", "one sigma is a third of it, ASSUMED"},
    {"tolerance_wire_length", 0.1, "10%", "one sigma is a third of it; a guessed (~) length 30%, ASSUMED"},
    {"tolerance_contact_factor", 2, "",
     "log-normal, one sigma is a factor of 2; new terminals spread 1-5 mohm, MEMORY"},
    {"tolerance_supply_volts", 0.3, "0.3V",
     "of the assumed supply; where nothing tells it 11.5-15 V uniform (23-30 V), ASSUMED"},
    {"meter_volts", no_number, "0.8%+3digits",
     "hand-held meter: +-(0.8 % + 3 d), digits are those typed (382252 data sheet)"},
    {"meter_ohms", no_number, "1%+2digits+0.15ohm leads",
     "+-(1 % + 2 d) (382252 data sheet); leads 0.1-0.2 ohm (UT33D manual p.7)"},
    {"clamp_amps", no_number, "2.5%+0.3A", "+-(2.5 % + 30 d of 0.01 A) (MA1500 data sheet)"},
    {"ambient_air", 40.0, "", "C, around parts and joints, ASSUMED"},
    {"ambient_wire", 30.0, "", "C, around wires; the ampacity table's (W20)"},
    {"ambient_hot", 50.0, "", "C, around wires that [care] calls hot; the ampacity table's inside engine spaces (W20)"},
    {"ambient_fuse", 25.0, "", "C, in the fuse box; makers' tables stand at 25, ASSUMED"},
    {"wire_class", 105.0, "", "C, thin-wall PVC as FLRY-B or ISO 6722 class B and up, ASSUMED"},
    {"wire_short_term_margin", 25.0, "",
     "K over the class for 240 h; vehicle cable 105 / 130 / 155 C (reference parts 4.1, S68)"},
    {"wire_overload_margin", 50.0, "",
     "K over the class for 6 h; vehicle cable 105 / 130 / 155 C (reference parts 4.1, S68)"},
    {"wire_short_limit", 160.0, "", "C, PVC in a short of up to 5 s (reference parts 4.1, S69)"},
    {"insulation_wall_mm", 0.7, "", "of a wire, MEMORY (reference parts 4.1)"},
    {"insulation_melts", 160.0, "",
     "C, PVC; touched by a hot object it melts near 177 C whatever its rating (parts 4.1, S71)"},
    {"insulation_heat_factor", 1.5, "", "heat capacity of wire with insulation over its copper, ASSUMED"},
    {"joint_limit", 150.0, "", "C at which a connector's plastic softens, ASSUMED"},
    {"joint_kelvin_per_watt", 20.0, "", "of a contact in its housing, ASSUMED"},
    {"joint_seconds", 60.0, "", "time constant of a contact in its housing, ASSUMED"},
    {"pack_rise", 55.0, "", "K of a pack over its air in the hottest healthy position, ASSUMED"},
    {"pack_still_air_share", 0.25, "",
     "of the heat that standing air carries off, of full air, ASSUMED: lost airflow alone opens a limiter of 121 C "
     "(reference parts 2.3, S27)"},
    {"pack_seconds", 180.0, "", "time constant of a pack in standing air, ASSUMED"},
    {"pack_limit", 250.0, "", "C at which a pack without a limiter chars what holds it, ASSUMED"},
    {"airflow_exponent", 0.6, "", "cooling over air flow (reference parts 2.4), ASSUMED"},
    {"fan_torque_without_flow", 0.3, "",
     "torque of a blower's wheel with its air shut off, of that at the same speed with air, ASSUMED"},
    {"winding_rise", 60.0, "", "K of a motor's winding over its air at rated current and speed, ASSUMED"},
    {"winding_still_air_share", 0.3, "", "as pack_still_air_share, ASSUMED"},
    {"winding_seconds", 300.0, "", "time constant of an armature of about 0.9 kg at rated speed, ASSUMED"},
    {"coil_rise", 80.0, "",
     "K of a clutch coil over its air at its nominal volts: 17.6 ohm may read 5.5 ohm more when warm "
     "(constructionloader.tpub.com TM-5-3805-291-23-1), DERIVED"},
    {"coil_seconds", 600.0, "", "time constant of a clutch coil in its housing, ASSUMED"},
    {"winding_limit", 155.0, "", "C, insulation class F, ASSUMED"},
    {"aftermath_seconds", 1800.0, "", "how long an aftermath is followed where no time is asked, ASSUMED"},
    {"wrong_reading", 0.03, "3%", "chance that any one reading is wrong, ASSUMED"},
    {"no_touch_hand", 0.01, "1%",
     "chance that a probe seems to touch and does not: a pin of a part in the hand, a stud or a battery post, bare and "
     "in "
     "sight; ASSUMED"},
    {"no_touch_plug", 0.05, "5%",
     "the same at a plug probed from behind: the tip slides along the terminal unseen; ASSUMED, makers restrict it"},
    {"no_touch_small", 0.15, "15%",
     "the same behind a seal, through a wire's insulation or at a terminal for 0.5 mm2 and less; ASSUMED"},
    {"no_touch_again", 0.3, "30%",
     "of probes that did not touch, the share that does not at a second look at the same point: it is held on purpose "
     "then; ASSUMED"},
    {"wrong_doubted", 0.3, "30%", "a reading with ?, ASSUMED"},
    {"minutes_volts", 1, "", "beyond strip-down, ASSUMED"},
    {"minutes_clamp", 2, "", "beyond strip-down, ASSUMED"},
    {"minutes_lamp", 1, "", "beyond strip-down, ASSUMED"},
    {"minutes_ohms", 2, "", "beyond strip-down, ASSUMED"},
    {"minutes_unplug", 2, "", "beyond strip-down, ASSUMED"},
    {"minutes_pull", 1, "", "beyond strip-down, ASSUMED"},
    {"minutes_look", 1, "", "beyond strip-down, ASSUMED"},
    {"minutes_feel", 3, "", "with the load on until a poor contact has warmed its housing, beyond strip-down, ASSUMED"},
    {"minutes_gauge", 6, "", "gauges on a service port and off again, beyond strip-down, ASSUMED"},
    {"minutes_wiggle", 3, "", "beyond strip-down, ASSUMED"},
    {"minutes_run_hot", 20, "", "run with the load on until it is as warm as in use, ASSUMED"},
    {"minutes_cold_start", 10, "",
     "leads put on before a vehicle that stands cold is started; again after it, ASSUMED"},
    {"minutes_wetting", 10, "", "spraying water at what is outside, beyond strip-down, ASSUMED"},
    {"minutes_control", 0, "", "setting a switch takes none, ASSUMED"},
    {"minutes_a_bit", 30, "",
     "that a test saves for one bit it tells: half of a wrong repair's price is at stake in one bit of doubt, most of "
     "it "
     "saved by later tests too; 20 to 40 take the fewest minutes and tests on vehicles drawn at random, ASSUMED"},
    {"minutes_wrong_repair", 360, "",
     "a part and its labour for nothing, the vehicle back and taken up anew: four to eight hours, ASSUMED"},
    {"minutes_fuse", 1, "", "to fit a fuse, beyond strip-down, ASSUMED"},
    {"minutes_watch", 5, "", "a new fuse is watched so long, ASSUMED"},
    {"minutes_replace", 5, "", "to change a part, beyond strip-down, ASSUMED"},
    {"minutes_repair", 10, "", "to mend a joint, ground or wire, beyond strip-down, ASSUMED"},
    {"reach_unknown", 10, "", "minutes where [reach] is silent, ASSUMED; say so"},
    {"range_resistance", no_number, "0.02-100ohm", "log-uniform, ASSUMED"},
    {"range_chafe", no_number, "1mohm-0.5ohm", "log-uniform, ASSUMED; no published chafe ohms found"},
    {"range_drag", no_number, "1.1-3", "log-uniform, ASSUMED"},
    {"range_fouled", no_number, "1.1-2", "log-uniform, ASSUMED"},
    {"range_blocked_air", no_number, "0.2-0.9", "log-uniform, ASSUMED"},
    {"range_drift", no_number, "1.2-3", "log-uniform, ASSUMED"},
    {"range_worn_brushes", no_number, "0.05-5ohm", "log-uniform, ASSUMED"},
    {"range_fades", no_number, "0.05-5ohm", "log-uniform, ASSUMED: less than this nobody notices, more is dead"},
    {"range_weak", no_number, "10.5-12.2V", "uniform, ASSUMED"},
    {"grid_sizes", 9, "", "points over a size range, refined for the leading candidates, ASSUMED"},
    {"grid_places", 3, "", "points along a wire, refined likewise, ASSUMED"},
    {"prior_joint", 0.40, "",
     "contacts, plugs, sockets, splices, grounds and fuse grip together: 21 of 52 confirmed blower cases"},
    {"prior_motor", 0.22, "", "12 of 52 confirmed blower cases: open or worn 6, seized 4, drawing too much 2"},
    {"prior_pack", 0.15, "", "8 of 52 confirmed blower cases: coil 4, limiter 3, contact 1"},
    {"prior_module", 0.10, "", "5 of 52 confirmed blower cases"},
    {"prior_module_fitted", 0.45, "",
     "where one is fitted: 5 of 11 confirmed and likely blower cases with electronic speed control"},
    {"prior_wire", 0.05, "", "open and chafe: 1 of 52 confirmed blower cases, 11 of 31 of other circuits"},
    {"prior_switch_relay", 0.06, "", "3 of 52 confirmed blower cases"},
    {"prior_miswired", 0.02, "", "two wires in each other's place: 1 of 28 confirmed cases, fitted by people"},
    {"prior_fuse_itself", 0.02, "", "wrong, missing or tired, ASSUMED"},
    // Circuits without a blower: 30 confirmed and likely cases (chafed 8, open wire 3, wire to wire 1; joint 4, ground
    // 1; motor or driver 3, coil shorted 3, open part 3), shrunk towards the blower's shares by ten cases' weight.
    {"prior_other_joint", 0.23, "", "5 of 30 cases, shrunk towards prior_joint"},
    {"prior_other_motor", 0.14, "", "3 of 30 cases, shrunk towards prior_motor"},
    {"prior_other_pack", 0.04, "", "0 of 30 cases, shrunk towards prior_pack"},
    {"prior_other_wire", 0.32, "", "12 of 30 cases, shrunk towards prior_wire"},
    {"prior_other_switch_relay", 0.09, "", "3 of 30 cases, shrunk towards prior_switch_relay"},
    {"prior_other_load", 0.12, "", "3 of 30 cases, shrunk towards 0.15, ASSUMED"},
    {"prior_outside", 0.06, "",
     "a system's pressure or heat that moves a sound contact, each such contact; no table counts it: cases that are "
     "told "
     "as electrical leave it out. ASSUMED somewhat commoner than a contact that fails by itself"},
    {"prior_second_fault", 0.05, "", "a second, independent fault beside a first, ASSUMED"},
    {"words_power", 1.25, "",
     "of each repair's chance where all readings are words: most likely over 138 real cases between 1.2 and 1.3 "
     "(tests/score prints it); fitted on 108 of them, it takes 0.04 off the log loss of the other 30 too"},
    {"prior_hot_rubs", 8, "", "factor on a chafe where [care] says hot and rubs, ASSUMED"},
    {"prior_wet_rust", 4, "", "factor on resistance and open where [care] says wet or rust, ASSUMED"},
    {"prior_heat_cycled", 3, "", "factor on resistance where [care] says heat-cycled, ASSUMED"},
};

const std::unordered_map<std::string_view, const DefaultRow*>& rows_by_name() {
    static const std::unordered_map<std::string_view, const DefaultRow*> index = [] {
        std::unordered_map<std::string_view, const DefaultRow*> named;
        for (const DefaultRow& row : rows) named.emplace(row.name, &row);
        return named;
    }();
    return index;
}

}  // namespace

std::span<const DefaultRow> default_rows() {
    return rows;
}

const DefaultRow& default_row(std::string_view name) {
    const auto found = rows_by_name().find(name);
    if (found == rows_by_name().end()) throw std::logic_error("no default is named " + std::string(name));
    return *found->second;
}

double default_value(std::string_view name) {
    const DefaultRow& row = default_row(name);
    if (std::isnan(row.value)) throw std::logic_error("the default " + std::string(name) + " is not one number");
    return row.value;
}

std::string row_at(std::string_view name, double supply) {
    constexpr double between = 18;  // volts: neither system
    return std::string(name) + (supply > between ? "_24" : "_12");
}

DefaultRange default_range(std::string_view name) {
    const std::string_view text = default_row(name).text;
    const std::size_t dash = text.find('-');
    if (dash == std::string_view::npos) throw std::logic_error("the default " + std::string(name) + " is not a range");
    const std::string_view upper = text.substr(dash + 1);
    // The unit may stand once, behind both numbers: `0.02-100ohm`.
    const std::size_t unit_at = std::min(upper.find_first_not_of("0123456789."), upper.size());
    const auto high = parse_measure(upper);
    auto low = parse_measure(text.substr(0, dash));
    if (low && low->unit == Unit::none) {
        low = parse_measure(std::string(text.substr(0, dash)) + std::string(upper.substr(unit_at)));
    }
    if (!low || !high || low->unit != high->unit) {
        throw std::logic_error("the default " + std::string(name) + " is not a range");
    }
    return {low->value, high->value, high->unit};
}

}  // namespace voltfall
