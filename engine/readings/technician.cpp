#include "engine/readings/handling.hpp"
#include "engine/readings/technician_shown.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <string_view>

#include "engine/readings/displays.hpp"
#include "engine/readings/found_fuses.hpp"
#include "engine/readings/in_hand.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "engine/readings/random_numbers.hpp"
#include "engine/readings/rounding.hpp"
#include "engine/readings/touch.hpp"
#include "engine/readings/word_evidence.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Of the maker's percentage this much is one scale error of the instrument, the rest differs from reading to reading
/// (ASSUMED, as `shared_scale`).
constexpr double own_share = 1 - shared_scale;
/// A clamp that was set to zero keeps this share of its maker's zero error (ASSUMED).
constexpr double zero_kept = 0.3;
/// A point that nothing holds shows up to this on a 10 Mohm meter, volts (ASSUMED, inside `untouched_sigma`).
constexpr double ghost_volts = 0.04;
/// Ohms above this are shown as OL by a hand-held meter.
constexpr double overload_ohms = 4e7;
/// More than this between its leads and an ohmmeter shows nothing of use.
constexpr double dead_below_volts = 0.03;
constexpr double beeps_below_ohms = 40;  // most sound below 30 to 50 ohm (PeakTech 1080 manual p.31)
}  // namespace

bool Measured::is_open() const {
    const auto* ohms = std::get_if<OhmsReading>(&reading.measurement);
    return ohms && ohms->value.open;
}

Technician::Technician(Simulator& simulator, Vehicle vehicle, const MeterErrors& errors, std::vector<Tool> tools)
    : simulator_(simulator), vehicle_(std::move(vehicle)), errors_(errors), tools_(std::move(tools)) {}

/// -1 to 1, the same for the same words, instruments and number of tests taken.
double Technician::random(std::string_view what) const {
    std::uint64_t hash = errors_.seed * 31 + taken_;
    for (const char c : what) hash = RandomNumbers(hash ^ static_cast<unsigned char>(c)).next();
    return 2 * RandomNumbers(hash).share() - 1;
}

State Technician::state_of(const StatePhrase& phrase) const {
    State state = states_of(*vehicle_.circuit, phrase).front();
    for (const Fault& fault : vehicle_.faults) {
        for (const std::string& words : state.handled) {
            const auto brings = [&](std::string_view verb, std::string_view condition) {
                if (same_word(fault.condition, condition) && words.starts_with(verb) &&
                    is_handled_at(*vehicle_.circuit, *fault.mode, words))
                    state.conditions.emplace_back(condition);
            };
            brings("wiggle", "bump");
            brings("heat", "hot");
            brings("cool", "cold");
        }
    }
    return state;
}

CourseResult Technician::course(const State& state) const {
    CourseResult run = run_course(simulator_, *vehicle_.circuit, state, vehicle_.faults, vehicle_.opened_parts());
    // What the instruments show is the simulator of record's word.
    if (run) confirm(simulator_, run->end());
    return run;
}

void Technician::keep(const Course& course, Measured& measured) {
    for (const Event& event : course.aftermath) {
        if (vehicle_.has_opened(event.part)) continue;
        vehicle_.opened.push_back({event.part, event.seconds});
        measured.blew.push_back(event);
    }
}

/// A fuse that was looked at and takes its time is whole while a meter is read; the control is then switched off.
const Settled& Technician::met(const Course& course, Measured& measured) {
    if (!read_before_opening(course.aftermath, vehicle_.seen_whole)) {
        keep(course, measured);
        return course.end();
    }
    confirm(simulator_, course.faulted);
    return course.faulted;
}

ReadValue Technician::volts_shown(double truth, std::string_view what) const {
    const Accuracy accuracy = accuracy_of(Instrument::meter, tools_);
    const double digit = volts_digit(truth);
    double value = truth + errors_.volts_scale * shared_scale * accuracy.relative * truth;
    if (errors_.noise)
        value += random(what) * (own_share * accuracy.relative * std::abs(truth) + accuracy.digits * digit);
    return volts_displayed(value, digit);
}

ReadValue Technician::amps_shown(double truth, std::string_view what) const {
    const Accuracy accuracy = accuracy_of(Instrument::clamp, tools_);
    double value = truth + errors_.amps_scale * shared_scale * accuracy.relative * truth +
                   errors_.amps_zero * zero_kept * accuracy.absolute;
    if (errors_.noise) value += random(what) * own_share * accuracy.absolute;
    return amps_displayed(value);
}

ReadValue Technician::ohms_shown(double truth) const {
    if (!(truth < overload_ohms)) return overload_displayed();
    const Accuracy accuracy = read_accuracy(default_row("meter_ohms").text);
    const double value = truth * (1 + errors_.ohms_scale * accuracy.relative) + errors_.lead_ohms;
    return ohms_displayed(value);
}

tl::expected<Technician::Shown, CannotMeasure> Technician::take_volts(const VoltsTest& volts, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    Measured& measured = taken.measured;
    const JointId red = volts.red.joints.front();
    const JointId black = volts.black.joints.front();
    const Settled& end = met(*run, measured);
    const auto shown = [&](ReadValue value, double truth) {
        const std::string text = as_words(value);
        return Shown{VoltsReading{volts, std::move(value)}, text, truth, Unit::volt};
    };
    // A lead on the battery's own post touches.
    const Circuit& circuit = *vehicle_.circuit;
    const bool battery = circuit.part_at(circuit.joint(red).place) == circuit.battery;
    const double chance = (random("touch " + taken.words) + 1) / 2;
    // The share is that of plugs probed from behind; elsewhere it is more or less by where the probe stands.
    const double by_place = no_touch_chance(circuit, taken.state, red, black) / measured_default("no_touch_plug");
    measured.untouched = !battery && errors_.untouched_share > 0 && chance < errors_.untouched_share * by_place;
    measured.floats = end.floats(red) || end.floats(black);
    if (measured.floats || measured.untouched) {
        // Leads that touch nothing show nothing; a point that nothing holds shows a ghost of its neighbours.
        const bool ghosts = errors_.noise && measured.floats && !measured.untouched;
        const double ghost = ghosts ? ghost_volts * (random("ghost " + taken.words) + 1) / 2 : 0;
        return shown(volts_displayed(ghost, volts_digit(0)), 0);
    }
    const SettleResult met = with_meter(simulator_, end, red, black);
    const Settled& read = met ? *met : end;
    const double truth = read.point.volts[red.index] - read.point.volts[black.index];
    return shown(volts_shown(truth, taken.words), truth);
}

tl::expected<Technician::Shown, CannotMeasure> Technician::take_lamp(const LampTest& lamp, Taken& taken) {
    double watts = default_value("test_lamp_watts");
    for (const Tool& tool : tools_) {
        if (tool.name == "lamp" && tool.watts > 0) watts = tool.watts;
    }
    const JointId red = lamp.red.joints.front();
    const JointId black = lamp.black.joints.front();
    State lit = taken.state;
    lit.leads.push_back({AddedLead::Kind::load, red, black, watts});
    const CourseResult run = course(lit);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    const Settled& end = met(*run, taken.measured);
    // The lamp ties one lead to the other.
    const double volts = end.floats(red) ? 0 : end.point.volts[red.index] - end.point.volts[black.index];
    const std::string seen = lamp_word(errors_.senses, volts, vehicle_.circuit->supply);
    return Shown{LampReading{lamp, seen}, seen, volts, Unit::none};
}

tl::expected<Technician::Shown, CannotMeasure> Technician::take_amps(const AmpsTest& amps, Taken& taken) {
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    const double flows = wire_amps(met(*run, taken.measured), amps.wire).from;
    const double truth = std::isfinite(flows) ? flows : 0;
    const ReadValue value = amps_shown(truth, taken.words);
    return Shown{AmpsReading{amps, value}, as_words(value), truth, Unit::ampere};
}

/// Between two leads, by the meter's own current; the circuit must be dead there.
tl::expected<double, CannotMeasure> Technician::ohms_of(const Leads& leads, const Taken& taken) const {
    const JointId red = leads.red.joints.front();
    const JointId black = leads.black.joints.front();
    const CourseResult run = course(taken.state);
    if (!run) return tl::unexpected(CannotMeasure{run.error().message});
    const bool in_hand = held_in_hand(*vehicle_.circuit, taken.state, red, black).has_value();
    for (const JointId joint : {red, black}) {
        if (in_hand || run->end().floats(joint) || std::abs(run->end().point.volts[joint.index]) < dead_below_volts)
            continue;
        return tl::unexpected(
            CannotMeasure{fmt::format("{} is live, so that the meter's own small current tells nothing: switch off and "
                                      "pull the fuse, or unplug the part and measure it in the hand",
                                      vehicle_.circuit->joint(joint).name)});
    }
    SolvedCase solved;
    solved.ok = true;
    solved.faults = vehicle_.faults;
    solved.opened = vehicle_.opened_parts();
    return ohms_between(*vehicle_.circuit, solved, taken.state, red, black);
}

tl::expected<Technician::Shown, CannotMeasure> Technician::take(const Test& test, Taken& taken) {
    using Result = tl::expected<Shown, CannotMeasure>;
    const auto without_instrument = [] {
        return Result(tl::unexpected(CannotMeasure{"this bench has no instrument for it"}));
    };
    return std::visit(
        Overloaded{
            [&](const VoltsTest& volts) { return take_volts(volts, taken); },
            [&](const LampTest& lamp) { return take_lamp(lamp, taken); },
            [&](const AmpsTest& amps) { return take_amps(amps, taken); },
            [&](const OhmsTest& tested) -> Result {
                return ohms_of(tested, taken).map([&](double ohms) {
                    const ReadValue value = ohms_shown(ohms);
                    return Shown{OhmsReading{tested, value}, as_words(value), ohms, Unit::ohm};
                });
            },
            [&](const BeepTest& tested) -> Result {
                return ohms_of(tested, taken).map([&](double ohms) {
                    const bool beeps = ohms + errors_.lead_ohms < beeps_below_ohms;
                    return Shown{BeepReading{tested, beeps}, beeps ? "beeps" : "no beep", ohms, Unit::none};
                });
            },
            [&](const LoadTest& load) { return take_load(load, taken); },
            [&](const RelayTest& relay) { return take_relay(relay, taken); },
            [&](const FuseTest& fuse) {
                const auto& fitted = taken.state.fitted_new;
                const bool is_new = std::find(fitted.begin(), fitted.end(), fuse.part) != fitted.end();
                return is_new ? watch_new_fuse(fuse, taken) : Result(look_at_fuse(fuse, taken));
            },
            [&](const RatingTest& rating) { return Result(read_number(rating)); },
            [&](const LookTest& look) { return Result(look_at(look)); },
            [&](const QuantityTest& quantity) { return Result(look_at_gauge(quantity, taken)); },
            [&](const HeatTest& heat) { return heat.rise ? feel(heat, taken) : without_instrument(); },
            alike<HotterTest, AirTest, DragTest, RippleTest, SmellTest, DutyTest, NoTest>(without_instrument),
        },
        test.tested);
}

tl::expected<Measured, CannotMeasure> Technician::measure(Test test) {
    const Circuit& circuit = *vehicle_.circuit;
    if (const Leads* leads = leads_of(test.tested); leads && leads->black.joints.empty())
        return tl::unexpected(CannotMeasure{"both leads must stand somewhere"});
    // The one who holds the leads knows which is which.
    if (auto* volts = std::get_if<VoltsTest>(&test.tested)) volts->across.clear();
    test.state = definite(circuit, std::move(test.state));
    const State state = state_of(test.state);
    const bool timeless = (std::holds_alternative<FuseTest>(test.tested) && state.fitted_new.empty()) ||
                          std::holds_alternative<RatingTest>(test.tested) ||
                          std::holds_alternative<LookTest>(test.tested) ||
                          std::holds_alternative<QuantityTest>(test.tested);
    if (timeless) test.state = {};
    Measured measured;
    Taken taken{state, write_test(circuit, test), measured};
    ++taken_;
    auto shown = take(test, taken);
    if (!shown) return tl::unexpected(shown.error());
    if (const auto* fuse = std::get_if<FuseReading>(&shown->measurement); fuse && timeless && fuse->word == "good")
        vehicle_.seen_whole.push_back(fuse->part);
    measured.reading.state = std::move(test.state);
    measured.reading.measurement = std::move(shown->measurement);
    measured.reading.text = write_reading(circuit, measured.reading);
    measured.shown = shown->shown;
    measured.truth = shown->truth;
    measured.unit = shown->unit;
    return measured;
}

SettleResult with_meter(Simulator& simulator, const Settled& settled, JointId red, JointId black) {
    Network network = settled.network;
    network.connect(red, black, Resistor{default_value("meter_ohm")});
    return settle_network(simulator, network);
}

}  // namespace voltfall
