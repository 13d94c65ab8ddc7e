#include "engine/lessons/bench.hpp"
#include "engine/planning/test_minutes.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/lessons/judgement.hpp"
#include "engine/lessons/safety.hpp"
#include "engine/planning/cautions.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/overloaded.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// What a bench needs to know of each kind of test. A new test does not compile until it has its row.
struct BenchFacts {
    std::string_view allow;  ///< the word of `allow` that it falls under; empty: always allowed
    TestKind kind;
    std::string_view minutes;  ///< the default's row of the time that it takes
};

BenchFacts facts_of(const Tested& tested) {
    static constexpr BenchFacts not_on_a_bench{"", TestKind::volts, "minutes_volts"};
    return std::visit(Overloaded{
                          [](const VoltsTest&) {
                              return BenchFacts{"volts", TestKind::volts, "minutes_volts"};
                          },
                          [](const OhmsTest&) {
                              return BenchFacts{"ohms", TestKind::volts, "minutes_ohms"};
                          },
                          [](const BeepTest&) {
                              return BenchFacts{"ohms", TestKind::volts, "minutes_ohms"};
                          },
                          [](const LampTest&) {
                              return BenchFacts{"lamp", TestKind::volts, "minutes_lamp"};
                          },
                          [](const AmpsTest&) {
                              return BenchFacts{"amps", TestKind::clamp, "minutes_clamp"};
                          },
                          [](const LoadTest&) {
                              return BenchFacts{"", TestKind::load, "minutes_control"};
                          },
                          [](const RelayTest&) {
                              return BenchFacts{"", TestKind::load, "minutes_control"};
                          },
                          [](const FuseTest&) {
                              return BenchFacts{"fuse", TestKind::fuse, "minutes_look"};
                          },
                          [](const RatingTest&) {
                              return BenchFacts{"fuse", TestKind::rating, "minutes_look"};
                          },
                          [](const LookTest&) {
                              return BenchFacts{"look", TestKind::look, "minutes_look"};
                          },
                          [](const QuantityTest&) {
                              return BenchFacts{"", TestKind::gauge, "minutes_gauge"};
                          },
                          [](const HeatTest&) {
                              return BenchFacts{"", TestKind::feel, "minutes_feel"};
                          },
                          alike<HotterTest, AirTest, DragTest, RippleTest, SmellTest, DutyTest, NoTest>(
                              [] { return not_on_a_bench; }),
                      },
                      tested);
}

template <class Visit>
void each_point(Tested& tested, const Visit& visit) {
    Leads* leads = leads_of(tested);
    if (!leads) return;
    visit(leads->red);
    visit(leads->black);
}

}  // namespace

std::string way_to(const Circuit& circuit, const std::string& place) {
    const std::string way = reach_place(circuit, place);
    const PartId id = circuit.find_part(way);
    if (!id.valid() || circuit.reach_of(way).known) return way;
    const std::string& plug = circuit.part(id).plug;
    return !plug.empty() && circuit.reach_of(plug).known ? plug : way;
}

double instrument_minutes(const Tested& tested) {
    return default_value(facts_of(tested).minutes);
}

Bench::Bench(Simulator& simulator, const Exercise& exercise)
    : exercise_(exercise),
      technician_(
          simulator, exercise.found,
          [&] {
              MeterErrors errors = drawn_meters(exercise.seed);
              // Beginners are spared the probe that does not touch.
              constexpr double untouched_of_level[] = {0, 0, 0.04, 0.07};
              errors.untouched_share = untouched_of_level[exercise.lesson.level];
              return errors;
          }(),
          exercise.lesson.tools) {
    job_.concern = exercise.lesson.concern;
    job_.tools = exercise.lesson.tools;
    // The bonnet is open; the battery costs no strip-down.
    reached_.push_back(circuit().part(circuit().battery).name);
}

bool Bench::allowed(std::string_view action) const {
    if (action.empty()) return true;
    const auto& allow = exercise_.lesson.allow;
    const auto has = [&](std::string_view word) { return std::find(allow.begin(), allow.end(), word) != allow.end(); };
    return has(action) || (action == "volts" && has("drop"));
}

StatePhrase Bench::with_settings(StatePhrase phrase) const {
    for (const ControlSetting& setting : settings_) {
        const bool said = std::any_of(phrase.settings.begin(), phrase.settings.end(),
                                      [&](const ControlSetting& one) { return one.part == setting.part; });
        if (!said) phrase.settings.push_back(setting);
    }
    // One position at a time: a person's hand is on the switch.
    for (ControlSetting& setting : phrase.settings)
        setting.positions.resize(std::min<std::size_t>(setting.positions.size(), 1));
    if (!phrase.key) phrase.key = key_;
    if (!phrase.key) phrase.key = states_of(circuit(), phrase).front().key;
    return phrase;
}

std::string Bench::settings() const {
    return states_of(circuit(), with_settings({})).front().label;
}

void Bench::charge_reach(const std::vector<std::string>& places, ActionOutcome& outcome) {
    for (const std::string& typed_place : places) {
        const std::string place = way_to(circuit(), typed_place);
        const bool there =
            std::any_of(reached_.begin(), reached_.end(), [&](const std::string& p) { return same_word(p, place); });
        if (there) continue;
        const Circuit::Reach reach = circuit().reach_of(place);
        outcome.minutes += reach.minutes;
        if (reach.minutes > 0) {
            outcome.opened_up.push_back(fmt::format(
                "{} {:.3g} min", reach.strip.empty() ? "to reach " + place : reach.strip + " opened", reach.minutes));
        }
        add_reached(circuit(), place, reached_);
    }
}

std::vector<std::string> Bench::places_of(const Test& test) const {
    std::vector<std::string> places = test.state.unplugged;
    Tested tested = test.tested;
    each_point(tested, [&](const Point& point) {
        if (point.joints.empty() || point.joints.front() == circuit().reference) return;
        places.push_back(circuit().joint(point.joints.front()).place);
    });
    if (const auto* amps = std::get_if<AmpsTest>(&tested)) places.push_back(circuit().wire(amps->wire).name);
    if (const auto* look = std::get_if<LookTest>(&tested)) places.push_back(look->place);
    if (const auto* fuse = std::get_if<FuseTest>(&tested)) places.push_back(circuit().part(fuse->part).name);
    if (const auto* fuse = std::get_if<RatingTest>(&tested)) places.push_back(circuit().part(fuse->part).name);
    for (const PartId part : test.state.pulled) places.push_back(circuit().part(part).name);
    for (const PartId part : test.state.lamp_in) places.push_back(circuit().part(part).name);
    for (const AddedLead& lead : test.state.leads) {
        places.push_back(circuit().joint(lead.a).place);
        if (lead.b.valid() && lead.b != circuit().reference) places.push_back(circuit().joint(lead.b).place);
    }
    for (const std::string& words : test.state.handled) {
        // "wiggle C101.4": behind the verb.
        places.push_back(words.substr(words.find(' ') + 1));
    }
    return places;
}

/// A probe at a plugged-in part stands in the harness side of its plug; of a cavity's two halves the first is meant.
void Bench::put_at_harness(Test& test, ActionOutcome& outcome) const {
    each_point(test.tested, [&](Point& point) {
        if (point.joints.empty()) return;
        if (point.joints.size() > 1) {
            point.joints.resize(1);
            outcome.notes.push_back(fmt::format("{} has two sides; the probe stands at {}", point.text,
                                                circuit().joint(point.joints.front()).name));
        }
        for (const Part& part : circuit().parts) {
            if (part.plug.empty()) continue;
            const auto& out = test.state.unplugged;
            const bool unplugged = std::any_of(out.begin(), out.end(), [&](const std::string& name) {
                return same_word(name, part.name) || same_word(name, part.plug);
            });
            for (const auto& [terminal, pin] : part.pins) {
                if (pin == point.joints.front() && !unplugged) point.joints.front() = part.harness.at(terminal);
            }
        }
        point.text = circuit().joint(point.joints.front()).name;
    });
}

void Bench::keep_settings(const StatePhrase& phrase) {
    for (const ControlSetting& setting : phrase.settings) {
        std::erase_if(settings_, [&](const ControlSetting& one) { return one.part == setting.part; });
        settings_.push_back({setting.part, {setting.positions.front()}});
    }
    if (phrase.key) key_ = phrase.key;
}

ActionOutcome Bench::turn(const StatePhrase& phrase) {
    keep_settings(phrase);
    ActionOutcome outcome;
    outcome.kind = ActionKind::turn;
    outcome.what = settings();
    return outcome;
}

ActionOutcome Bench::act(const Action& action) {
    struct Doing {
        Bench& bench;
        ActionOutcome operator()(const Test& one) const { return bench.test(one); }
        ActionOutcome operator()(const TurnControls& turn) const { return bench.turn(turn.state); }
        ActionOutcome operator()(const FitPart& fit) const { return bench.fit(fit); }
        ActionOutcome operator()(const RepairPlace& repair) const { return bench.repair(repair.place); }
        ActionOutcome operator()(const SayNothing&) const {
            ActionOutcome outcome;
            outcome.kind = ActionKind::say;
            outcome.target = "nothing";
            outcome.what = "said that nothing is wrong";
            return outcome;
        }
    };
    return std::visit(Doing{*this}, action.what);
}

ActionOutcome Bench::test(Test test) {
    ActionOutcome outcome;
    const auto refuse = [&](std::string why) {
        outcome.result = ActionResult::refused;
        outcome.message = std::move(why);
        return outcome;
    };
    if (!is_bench_test(test.tested))
        return refuse("this bench has no instrument for that; measure volts, amps, ohms, or look");
    std::string_view missing;
    for (const std::string_view action :
         {facts_of(test.tested).allow, std::string_view(test.state.unplugged.empty() ? "" : "unplug"),
          std::string_view(test.state.pulled.empty() && test.state.lamp_in.empty() ? "" : "pull"),
          std::string_view(test.state.handled.empty() ? "" : "wiggle")}) {
        if (!allowed(action)) missing = action;
    }
    if (!missing.empty()) return refuse(fmt::format("this lesson is done without '{}'", missing));
    if (!test.state.fitted_new.empty() || !test.state.new_plugs.empty())
        return refuse("fit a part by itself first: new F7; then measure");
    if (test.state.after_seconds) return refuse("this bench has no clock to wait by; use hot, wiggle or heat");
    // What was turned for the test stays so: the prompt shows it.
    const std::vector<ControlSetting> before = settings_;
    const std::optional<KeyPosition> key_before = key_;
    const bool several_positions = std::any_of(test.state.settings.begin(), test.state.settings.end(),
                                               [](const ControlSetting& one) { return one.positions.size() > 1; });
    keep_settings(test.state);
    test.state = with_settings(test.state);
    if (several_positions)
        outcome.notes.push_back(
            fmt::format("taken at {} alone: one position at a time; 'try' turns through all of them",
                        states_of(circuit(), test.state).front().label));
    put_at_harness(test, outcome);
    if (auto* volts = std::get_if<VoltsTest>(&test.tested)) {
        volts->across.clear();
        if (volts->red.joints == volts->black.joints) {
            settings_ = before;
            key_ = key_before;
            outcome.notes.clear();
            return refuse(fmt::format("both leads would stand at {}: a plug that is on shows its wire's side alone",
                                      volts->red.text));
        }
    }
    const State state = technician_.state_of(test.state);
    if (auto reason = unsafe_test(technician_.simulator(), vehicle(), test, state)) {
        outcome.result = ActionResult::unsafe;
        outcome.message = std::move(*reason);
        return outcome;
    }
    if (auto reason = closed_to_probe(circuit(), test)) {
        settings_ = before;
        key_ = key_before;
        return refuse(*reason);
    }
    const auto measured = technician_.measure(test);
    TestCandidate candidate;
    candidate.kind = facts_of(test.tested).kind;
    candidate.places = places_of(test);
    outcome.cautions = cautions_of(circuit(), job_, candidate, state);
    charge_reach(candidate.places, outcome);
    outcome.minutes +=
        instrument_minutes(test.tested) +
        default_value("minutes_unplug") * static_cast<double>(test.state.unplugged.size()) +
        default_value("minutes_pull") * static_cast<double>(test.state.pulled.size() + test.state.lamp_in.size()) +
        default_value("minutes_wiggle") * static_cast<double>(test.state.handled.size());
    bill_.test_minutes += outcome.minutes;
    outcome.test = test;
    if (!measured) {
        // The leads were put on before the meter showed nothing of use: the time is gone.
        outcome.result = ActionResult::refused;
        outcome.message = measured.error().why;
        return outcome;
    }
    outcome.measured = *measured;
    if (does_nothing_rightly(test, *measured)) outcome.measured->shown = "off";
    outcome.notes.insert(outcome.notes.end(), measured->notes.begin(), measured->notes.end());
    if (!repaired_) add_reading(job_, reading_of(test, *measured));
    return outcome;
}

/// A load that nobody has switched on is off, and not dead.
bool Bench::does_nothing_rightly(const Test& test, const Measured& measured) const {
    const auto stands = [](const Measured& one) {
        const auto* load = std::get_if<LoadReading>(&one.reading.measurement);
        return load && load->word == "dead";
    };
    if (!stands(measured)) return false;
    const auto sound = sound_answer(technician_.simulator(), exercise_, test);
    return sound && stands(*sound);
}

/// What shows only while something is moved, heated or wetted is so "sometimes"; what does not change is a plain
/// reading.
Reading Bench::reading_of(const Test& test, const Measured& measured) const {
    if (test.state.conditions.empty() && test.state.handled.empty()) return measured.reading;
    Test plain = test;
    plain.state.conditions.clear();
    plain.state.handled.clear();
    Technician untouched(technician_);
    const auto without = untouched.measure(plain);
    if (!without) return measured.reading;
    Reading reading = measured.reading;
    reading.state = without->reading.state;
    reading.state.sometimes = tells_apart(measured, *without, exercise_.lesson.tools);
    reading.text = write_reading(circuit(), reading);
    return reading;
}

bool Bench::would_answer(const Action& action) const {
    Bench copy(*this);
    return copy.act(action).result == ActionResult::done;
}

std::vector<ActionOutcome> Bench::try_every_position() {
    std::vector<ActionOutcome> outcomes;
    const auto settings = settings_;
    const auto key = key_;
    settings_.clear();
    key_.reset();
    for (const StatePhrase& state : default_phrases(circuit())) {
        for (const PartId load : loads_of(circuit())) outcomes.push_back(test({state, LoadTest{load, {}}}));
    }
    settings_ = settings;
    key_ = key;
    return outcomes;
}

}  // namespace voltfall
