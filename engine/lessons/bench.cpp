#include "engine/lessons/bench.hpp"
#include "engine/planning/test_minutes.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/diagnosis/probes.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/safety.hpp"
#include "engine/planning/cautions.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::string trimmed(const std::string& text) {
    const auto first = text.find_first_not_of(" \t\r");
    if (first == std::string::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

/// The rest behind the first word, where the line begins with it.
std::optional<std::string> behind(const std::string& line, std::string_view word) {
    if (line.size() < word.size() || !same_word(std::string_view(line).substr(0, word.size()), word))
        return std::nullopt;
    if (line.size() > word.size() && line[word.size()] != ' ' && line[word.size()] != '\t') return std::nullopt;
    return trimmed(line.substr(word.size()));
}

TypedText typed(const std::string& line) {
    return TypedText::argument("your line", line);
}

std::string_view action_of(const Measurement& m) {
    if (std::holds_alternative<LookReading>(m)) return "look";
    if (std::holds_alternative<FuseReading>(m)) return "fuse";
    if (std::holds_alternative<AmpsReading>(m)) return "amps";
    if (std::holds_alternative<LampReading>(m)) return "lamp";
    if (std::holds_alternative<OhmsReading>(m) || std::holds_alternative<BeepReading>(m)) return "ohms";
    if (std::holds_alternative<VoltsReading>(m)) return "volts";
    return {};
}

TestKind kind_of(const Measurement& m) {
    if (std::holds_alternative<AmpsReading>(m)) return TestKind::clamp;
    if (std::holds_alternative<LookReading>(m)) return TestKind::look;
    if (std::holds_alternative<FuseReading>(m)) return TestKind::fuse;
    if (std::holds_alternative<LoadReading>(m) || std::holds_alternative<RelayReading>(m)) return TestKind::load;
    return TestKind::volts;
}

template <class Visit>
void each_point(Measurement& m, const Visit& visit) {
    const auto both = [&](auto& reading) {
        visit(reading.red);
        visit(reading.black);
    };
    if (auto* volts = std::get_if<VoltsReading>(&m)) both(*volts);
    if (auto* ohms = std::get_if<OhmsReading>(&m)) both(*ohms);
    if (auto* lamp = std::get_if<LampReading>(&m)) both(*lamp);
    if (auto* beep = std::get_if<BeepReading>(&m)) both(*beep);
}

}  // namespace

std::string way_to(const Circuit& circuit, const std::string& place) {
    const std::string way = reach_place(circuit, place);
    const PartId id = circuit.find_part(way);
    if (!id.valid() || circuit.reach_of(way).known) return way;
    const std::string& plug = circuit.part(id).plug;
    return !plug.empty() && circuit.reach_of(plug).known ? plug : way;
}

double instrument_minutes(const Measurement& m) {
    if (std::holds_alternative<LoadReading>(m) || std::holds_alternative<RelayReading>(m))
        return default_value("minutes_control");
    if (std::holds_alternative<AmpsReading>(m)) return default_value("minutes_clamp");
    if (std::holds_alternative<LampReading>(m)) return default_value("minutes_lamp");
    if (std::holds_alternative<OhmsReading>(m) || std::holds_alternative<BeepReading>(m))
        return default_value("minutes_ohms");
    if (std::holds_alternative<FuseReading>(m) || std::holds_alternative<LookReading>(m))
        return default_value("minutes_look");
    return default_value("minutes_volts");
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
    if (circuit().battery.valid()) reached_.push_back(circuit().part(circuit().battery).name);
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

std::vector<std::string> Bench::places_of(const Reading& reading) const {
    std::vector<std::string> places = reading.state.unplugged;
    Measurement m = reading.measurement;
    each_point(m, [&](const Point& point) {
        if (point.joints.empty() || point.joints.front() == circuit().reference) return;
        places.push_back(circuit().joint(point.joints.front()).place);
    });
    if (const auto* amps = std::get_if<AmpsReading>(&m)) places.push_back(circuit().wire(amps->wire).name);
    if (const auto* look = std::get_if<LookReading>(&m)) places.push_back(look->place);
    if (const auto* fuse = std::get_if<FuseReading>(&m)) places.push_back(circuit().part(fuse->part).name);
    for (const PartId part : reading.state.pulled) places.push_back(circuit().part(part).name);
    for (const PartId part : reading.state.lamp_in) places.push_back(circuit().part(part).name);
    for (const AddedLead& lead : reading.state.leads) {
        places.push_back(circuit().joint(lead.a).place);
        if (lead.b.valid() && lead.b != circuit().reference) places.push_back(circuit().joint(lead.b).place);
    }
    for (const std::string& words : reading.state.handled) {
        const auto blank = words.find(' ');
        if (blank != std::string::npos) places.push_back(words.substr(blank + 1));
    }
    return places;
}

/// A probe at a plugged-in part stands in the harness side of its plug; of a cavity's two halves the first is meant.
void Bench::put_at_harness(Reading& reading, ActionOutcome& outcome) const {
    each_point(reading.measurement, [&](Point& point) {
        if (point.joints.empty()) return;
        if (point.joints.size() > 1) {
            point.joints.resize(1);
            outcome.notes.push_back(fmt::format("{} has two sides; the probe stands at {}", point.text,
                                                circuit().joint(point.joints.front()).name));
        }
        for (const Part& part : circuit().parts) {
            if (part.plug.empty()) continue;
            const auto& out = reading.state.unplugged;
            const bool unplugged = std::any_of(out.begin(), out.end(), [&](const std::string& name) {
                return same_word(name, part.name) || same_word(name, part.plug);
            });
            for (const auto& [terminal, pin] : part.pins) {
                const auto harness = part.harness.find(terminal);
                if (pin != point.joints.front() || unplugged || harness == part.harness.end()) continue;
                point.joints.front() = harness->second;
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

std::optional<ActionOutcome> Bench::turn(const std::string& line) {
    // A name written just as the circuit writes it is the part, not a position of the same letters.
    if (circuit().find_part(line).valid() && circuit().part(circuit().find_part(line)).name == line)
        return std::nullopt;
    Problems problems;
    const auto phrase = read_state_phrase(typed(line), circuit(), problems);
    if (!phrase || problems.has_errors()) return std::nullopt;
    const bool only_settings = phrase->unplugged.empty() && phrase->pulled.empty() && phrase->lamp_in.empty() &&
                               phrase->fitted_new.empty() && phrase->leads.empty() && phrase->conditions.empty() &&
                               phrase->handled.empty() && !phrase->after_seconds;
    if (!only_settings || phrase->empty()) return std::nullopt;
    keep_settings(*phrase);
    ActionOutcome outcome;
    outcome.kind = ActionKind::turn;
    outcome.what = settings();
    return outcome;
}

ActionOutcome Bench::act(const std::string& typed_line) {
    const std::string line = trimmed(typed_line);
    if (const auto rest = behind(line, "new")) return fit(*rest);
    if (const auto rest = behind(line, "repair")) return repair(*rest);
    if (const auto rest = behind(line, "say")) return repair(*rest);
    if (auto turned = turn(line)) return *std::move(turned);
    return test(line);
}

ActionOutcome Bench::test(const std::string& line) {
    ActionOutcome outcome;
    auto reading = read_test_phrase(typed(line), circuit(), outcome.problems);
    if (!reading || !is_bench_test(reading->measurement)) {
        outcome.result = reading ? ActionResult::refused : ActionResult::not_understood;
        if (reading) outcome.message = "this bench has no instrument for that; measure volts, amps, ohms, or look";
        return outcome;
    }
    const auto refuse = [&](std::string why) {
        outcome.result = ActionResult::refused;
        outcome.message = std::move(why);
        return outcome;
    };
    std::string_view missing;
    for (const std::string_view action :
         {action_of(reading->measurement), std::string_view(reading->state.unplugged.empty() ? "" : "unplug"),
          std::string_view(reading->state.pulled.empty() && reading->state.lamp_in.empty() ? "" : "pull"),
          std::string_view(reading->state.handled.empty() ? "" : "wiggle")}) {
        if (!allowed(action)) missing = action;
    }
    if (!missing.empty()) return refuse(fmt::format("this lesson is done without '{}'", missing));
    if (!reading->state.fitted_new.empty()) return refuse("fit a part by itself first: new F7; then measure");
    if (reading->state.after_seconds) return refuse("this bench has no clock to wait by; use hot, wiggle or heat");
    // What was turned for the test stays so: the prompt shows it.
    const std::vector<ControlSetting> before = settings_;
    const std::optional<KeyPosition> key_before = key_;
    keep_settings(reading->state);
    reading->state = with_settings(reading->state);
    put_at_harness(*reading, outcome);
    const State state = technician_.state_of(reading->state);
    if (auto reason = unsafe_test(technician_.simulator(), vehicle(), *reading, state)) {
        outcome.result = ActionResult::unsafe;
        outcome.message = std::move(*reason);
        return outcome;
    }
    if (auto reason = closed_to_probe(circuit(), *reading)) {
        settings_ = before;
        key_ = key_before;
        return refuse(*reason);
    }
    const auto measured = technician_.measure(*reading);
    TestCandidate candidate;
    candidate.kind = kind_of(reading->measurement);
    candidate.places = places_of(*reading);
    outcome.cautions = cautions_of(circuit(), job_, candidate, state);
    charge_reach(candidate.places, outcome);
    outcome.minutes += instrument_minutes(reading->measurement) +
                       default_value("minutes_unplug") * static_cast<double>(reading->state.unplugged.size()) +
                       default_value("minutes_pull") *
                           static_cast<double>(reading->state.pulled.size() + reading->state.lamp_in.size()) +
                       default_value("minutes_wiggle") * static_cast<double>(reading->state.handled.size());
    bill_.test_minutes += outcome.minutes;
    outcome.test = *reading;
    if (!measured) {
        // The leads were put on before the meter showed nothing of use: the time is gone.
        outcome.result = ActionResult::refused;
        outcome.message = measured.error().why;
        return outcome;
    }
    outcome.measured = *measured;
    outcome.notes.insert(outcome.notes.end(), measured->notes.begin(), measured->notes.end());
    if (!repaired_)
        add_reading(job_, circuit(), TypedText::argument("reading", reading_text(*reading, *measured)),
                    outcome.problems);
    return outcome;
}

/// What shows only while something is moved, heated or wetted is so "sometimes"; what does not change is a plain
/// reading.
std::string Bench::reading_text(const Reading& test, const Measured& measured) const {
    if (test.state.conditions.empty() && test.state.handled.empty()) return measured.reading;
    Reading plain = test;
    plain.state.conditions.clear();
    plain.state.handled.clear();
    Technician untouched(technician_);
    const auto without = untouched.measure(plain);
    if (!without) return measured.reading;
    const std::string text = without->test + "  " + measured.value;
    return tells_apart(measured, *without, exercise_.lesson.tools) ? "sometimes, " + text : text;
}

bool Bench::would_answer(const std::string& line) const {
    Bench copy(*this);
    const ActionOutcome outcome = copy.act(line);
    return outcome.result == ActionResult::done;
}

std::vector<ActionOutcome> Bench::try_every_position() {
    std::vector<ActionOutcome> outcomes;
    const auto settings = settings_;
    const auto key = key_;
    settings_.clear();
    key_.reset();
    for (const State& state : default_states(circuit())) {
        for (const PartId load : loads_of(circuit())) {
            outcomes.push_back(test(state.label + "  " + circuit().part(load).name));
        }
    }
    settings_ = settings;
    key_ = key;
    return outcomes;
}

}  // namespace voltfall
