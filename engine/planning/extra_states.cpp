#include "engine/planning/extra_states.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <span>

#include "engine/diagnosis/moments.hpp"
#include "engine/planning/made_conditions.hpp"
#include "engine/readings/probes.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/checks/survey.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Plugs taken off in turn while a lamp stands in the fuse's seat, at most.
constexpr std::size_t most_plugs_off = 8;

/// The default positions, each with the sound circuit settled in it.
class Positions {
public:
    Positions(Simulator& simulator, const Circuit& circuit) : phrases_(default_phrases(circuit)) {
        for (const StatePhrase& phrase : phrases_)
            settled_.push_back(settle(simulator, circuit, states_of(circuit, phrase).front(), {}));
    }

    /// In which most current runs through any of these branches; the last one where none runs.
    StatePhrase busiest(std::span<const BranchId> branches) const {
        constexpr double more = 0.01;  // amperes
        double most = 0;
        std::size_t best = phrases_.size() - 1;
        for (std::size_t i = 0; i < phrases_.size(); ++i) {
            if (!settled_[i]) continue;
            double amps = 0;
            for (const BranchId branch : branches)
                amps = std::max(amps, std::abs(settled_[i]->point.amps[branch.index]));
            if (!(amps > most + more)) continue;
            most = amps;
            best = i;
        }
        return phrases_[best];
    }
    StatePhrase busiest(BranchId branch) const { return busiest(std::span(&branch, 1)); }

private:
    std::vector<StatePhrase> phrases_;
    std::vector<SettleResult> settled_;
};

double load_watts(const Job& job) {
    for (const Tool& tool : job.tools) {
        if (tool.name == "load" && tool.watts > 0) return tool.watts;
    }
    return 55;  // a headlamp bulb (common practice)
}

void add_loads(const Circuit& circuit, const Job& job, const Positions& positions, std::vector<ExtraState>& list) {
    for (const Part& part : circuit.parts) {
        if (!part.load_branch.valid() || part.plug.empty() || is_closed(circuit, part.name)) continue;
        if (part.harness.size() != 2 || is_closed(circuit, part.plug)) continue;
        const JointId red = part.harness.begin()->second;
        const JointId black = part.harness.rbegin()->second;
        if (!is_permitted(circuit, red) || !is_permitted(circuit, black)) continue;
        if (meets_electronics(circuit, red) || meets_electronics(circuit, black)) continue;
        StatePhrase phrase = positions.busiest(part.load_branch);
        phrase.unplugged = {part.plug};
        phrase.leads = {{AddedLead::Kind::load, red, black, load_watts(job)}};
        list.push_back({phrase,
                        states_of(circuit, phrase).front(),
                        ExtraState::Kind::load_in_place,
                        volts_between(circuit, red, black),
                        {},
                        {part.plug},
                        default_value("minutes_unplug")});
    }
}

/// The position in which the fuse was said to blow, else the one in which it carries most.
StatePhrase blowing_position(const Circuit& circuit, const Job& job, const Positions& positions, PartId fuse) {
    for (const Reading& reading : job.readings) {
        const auto* said = std::get_if<FuseReading>(&reading.measurement);
        if (!said || said->part != fuse || said->word == "good" || said->word == "missing") continue;
        // "new F7, hi  fuse F7 blown" says it in front.
        StatePhrase in_front;
        if (!reading.state.fitted_new.empty()) in_front.settings = reading.state.settings;
        const StatePhrase& typed = said->at ? *said->at : in_front;
        if (typed.settings.empty() && !said->at) continue;
        StatePhrase at = definite(circuit, typed);
        // The key of a position follows from it, unless it was said.
        at.key = typed.key;
        return at;
    }
    return positions.busiest(circuit.part(fuse).fuse->element);
}

/// Connectors and plugs that the fuse's wires end at, in the order of the wires.
std::vector<std::string> plugs_behind(const Circuit& circuit, PartId fuse) {
    const Survey survey = survey_positions(circuit);
    std::vector<std::string> plugs;
    for (const WireId id : survey.guarded[fuse.index]) {
        for (const WireEnd* end : {&circuit.wire(id).from, &circuit.wire(id).to}) {
            if (!end->part.valid() || end->part == fuse) continue;
            const Part& part = circuit.part(end->part);
            const bool connector = joins(part, Joining::cavities);
            const std::string& plug = connector ? part.name : part.plug;
            const bool known = std::any_of(plugs.begin(), plugs.end(),
                                           [&](const std::string& other) { return same_word(other, plug); });
            if (!plug.empty() && !known && !is_closed(circuit, plug)) plugs.push_back(plug);
        }
    }
    return plugs;
}

bool opened(const CourseResult& course, PartId fuse) {
    return course && std::find(course->opened.begin(), course->opened.end(), fuse) != course->opened.end();
}

/// Has the job put a new fuse in?
bool is_renewed(const Job& job, PartId fuse) {
    return std::any_of(job.readings.begin(), job.readings.end(), [&](const Reading& reading) {
        const auto& fitted = reading.state.fitted_new;
        return std::find(fitted.begin(), fitted.end(), fuse) != fitted.end();
    });
}

/// Chance that the fuse is open by now: it is itself the fault, or the fault opens it in a state of the job.
double chance_blown(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed, PartId fuse) {
    constexpr double counts = 0.01;
    const auto is_own = [&](const Suspect& suspect) {
        return suspect.mode && suspect.mode->part == fuse &&
               (suspect.mode->is(ModeFact::fuse_blown) || suspect.mode->is(ModeFact::fuse_missing));
    };
    double sum = 0;
    for (const Suspect& suspect : weighed.suspects) sum += is_own(suspect) ? suspect.probability : 0;
    // Where a fault of the circuit has surely blown it, a look at it tells much and comes first anyway; but not for a
    // new one in the place of one that was found blown.
    const bool renewed = is_renewed(job, fuse);
    if (sum < counts && !renewed) return sum;
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        if (suspect.probability < counts) break;
        if (!suspect.mode || is_own(suspect)) continue;
        const auto row = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                      [&](const ModePtr& mode) { return mode.get() == suspect.mode; });
        const Fault fault{*row, suspect.best.size, suspect.best.where, {}, {}};
        const auto& states = weighed.questions.states;
        const bool opens = std::any_of(states.begin(), states.end(), [&](const JobState& state) {
            return (state.names_blowing || (renewed && state.new_fuse)) &&
                   opened(run_course(simulator, circuit, state.state, std::span(&fault, 1)), fuse);
        });
        if (opens) sum += suspect.probability;
    }
    return sum;
}

/// Fuses that the job has found blown, and those that are so likely open that looking at them tells nothing more.
std::vector<PartId> blown_fuses(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed) {
    constexpr double as_good_as_seen = 0.8;  // ASSUMED
    std::vector<PartId> blown;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!part.fuse || is_closed(circuit, part.name)) continue;
        if (found_blown(circuit, job, {i}) || chance_blown(simulator, circuit, job, weighed, {i}) > as_good_as_seen)
            blown.push_back({i});
    }
    return blown;
}

void add_lamps(const Circuit& circuit, const Job& job, const std::vector<PartId>& blown, const Positions& positions,
               std::vector<ExtraState>& list) {
    for (const PartId fuse : blown) {
        const Part& part = circuit.part(fuse);
        const Branch& element = circuit.branch(part.fuse->element);
        // A lamp in its seat starves a module, which is then judged by what it cannot do (common practice, no source).
        if (meets_electronics(circuit, element.a) || meets_electronics(circuit, element.b)) continue;
        StatePhrase base = blowing_position(circuit, job, positions, fuse);
        base.lamp_in.push_back(fuse);
        const auto add = [&](const StatePhrase& phrase, std::vector<std::string> places, double minutes) {
            list.push_back({phrase,
                            states_of(circuit, phrase).front(),
                            ExtraState::Kind::lamp_in_seat,
                            volts_between(circuit, element.a, element.b, part.name),
                            {},
                            std::move(places),
                            minutes});
        };
        add(base, {part.name}, default_value("minutes_pull"));
        const auto without = [&](const std::string& plug) {
            StatePhrase phrase = base;
            phrase.unplugged.push_back(plug);
            return phrase;
        };
        const std::vector<std::string> plugs = plugs_behind(circuit, fuse);
        for (std::size_t k = 0; k < plugs.size() && k < most_plugs_off; ++k)
            add(without(plugs[k]), {part.name, plugs[k]}, default_value("minutes_unplug"));
    }
}

void add_state(const Circuit& circuit, const StatePhrase& phrase, ExtraState::Kind kind, PartId fitted,
               std::string place, double minutes, std::vector<ExtraState>& list) {
    list.push_back({phrase, states_of(circuit, phrase).front(), kind, {}, fitted, {std::move(place)}, minutes});
}

bool read_by_lamp(const Job& job, PartId fuse) {
    return std::any_of(job.readings.begin(), job.readings.end(), [&](const Reading& reading) {
        const auto& seats = reading.state.lamp_in;
        return std::find(seats.begin(), seats.end(), fuse) != seats.end();
    });
}

/// A short is looked for with a lamp before another fuse is spent on it.
void add_new_fuses(const Circuit& circuit, const Job& job, const std::vector<PartId>& blown, const Positions& positions,
                   std::vector<ExtraState>& list) {
    const bool lamp = has_tool(job, "lamp") && has_tool(job, "meter");
    for (const PartId fuse : blown) {
        if (lamp && !read_by_lamp(job, fuse)) continue;
        StatePhrase phrase = blowing_position(circuit, job, positions, fuse);
        phrase.fitted_new.push_back(fuse);
        add_state(circuit, phrase, ExtraState::Kind::new_fuse, fuse, circuit.part(fuse).name,
                  default_value("minutes_fuse") + default_value("minutes_watch"), list);
    }
}

std::vector<BranchId> load_branches(const Circuit& circuit) {
    std::vector<BranchId> branches;
    for (const PartId load : loads_of(circuit)) branches.push_back(circuit.part(load).load_branch);
    return branches;
}

double chance_within(const Weighed& weighed, PartId part) {
    return weighed.chance_of(
        [&](const FaultMode& mode) { return mode.part == part && mode.fault_class != FaultClass::joint; });
}

void add_like_relays(const Circuit& circuit, const Job& job, const Weighed& weighed, const Positions& positions,
                     std::vector<ExtraState>& list) {
    constexpr double worth_changing = 0.01;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!part.relay || is_closed(circuit, part.name) || chance_within(weighed, {i}) < worth_changing) continue;
        const bool changed = std::any_of(job.readings.begin(), job.readings.end(), [&](const Reading& reading) {
            const auto& fitted = reading.state.fitted_new;
            return std::find(fitted.begin(), fitted.end(), PartId{i}) != fitted.end();
        });
        if (changed) continue;
        StatePhrase phrase = positions.busiest(part.branches);
        phrase.fitted_new.push_back({i});
        // One relay out, the other in, and both back.
        add_state(circuit, phrase, ExtraState::Kind::like_relay, {i}, part.name, 2 * default_value("minutes_pull"),
                  list);
    }
}

void add_wiggled(const Circuit& circuit, const Weighed& weighed, const Positions& positions,
                 std::vector<ExtraState>& list) {
    constexpr double worth_moving = 0.02;
    constexpr std::size_t most_places = 6;
    if (!tells_of_moments(weighed.questions)) return;
    std::vector<std::string> places;
    for (const std::size_t i : weighed.ranked()) {
        const Suspect& suspect = weighed.suspects[i];
        if (suspect.probability < worth_moving || places.size() == most_places) break;
        if (!suspect.mode || !suspect.mode->is(ModeFact::may_touch)) continue;
        const std::string place(read_place(suspect.mode->place).owner);
        const bool known = std::any_of(places.begin(), places.end(),
                                       [&](const std::string& other) { return same_word(other, place); });
        if (known || is_closed(circuit, place)) continue;
        places.push_back(place);
        StatePhrase phrase = positions.busiest(load_branches(circuit));
        phrase.handled.push_back("wiggle " + place);
        add_state(circuit, phrase, ExtraState::Kind::wiggled, {}, place, default_value("minutes_wiggle"), list);
    }
}

void add_made(const Circuit& circuit, const Job& job, const Weighed& weighed, const Positions& positions,
              std::vector<ExtraState>& list) {
    for (const MadeCondition& made : conditions_to_make(job, weighed, positions.busiest(load_branches(circuit)))) {
        list.push_back({made.phrase,
                        states_of(circuit, made.phrase).front(),
                        ExtraState::Kind::made,
                        {},
                        {},
                        {},
                        made.minutes,
                        made.trigger});
    }
}

}  // namespace

bool found_blown(const Circuit& circuit, const Job& job, PartId fuse) {
    constexpr double across_open = 2;  // volts; a whole one drops a tenth
    const Branch& element = circuit.branch(circuit.part(fuse).fuse->element);
    bool blown = false;
    for (const Reading& reading : job.readings) {
        if (reading.state.earlier) continue;
        const auto& fitted = reading.state.fitted_new;
        if (std::find(fitted.begin(), fitted.end(), fuse) != fitted.end()) blown = false;
        if (const auto* said = std::get_if<FuseReading>(&reading.measurement); said && said->part == fuse)
            blown = said->word != "good" && said->word != "missing";
        const auto* volts = std::get_if<VoltsReading>(&reading.measurement);
        if (!volts || volts->red.joints.size() != 1 || volts->black.joints.size() != 1) continue;
        const JointId red = volts->red.joints.front();
        const JointId black = volts->black.joints.front();
        const bool across = (red == element.a && black == element.b) || (red == element.b && black == element.a);
        if (across && std::abs(volts->value.low) > across_open) blown = true;
    }
    return blown;
}

bool has_tool(const Job& job, const std::string& name) {
    if (job.tools.empty()) return name != "load";
    return std::any_of(job.tools.begin(), job.tools.end(),
                       [&](const Tool& tool) { return same_word(tool.name, name); });
}

std::vector<FeltPlace> felt_places(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed) {
    constexpr double worth_feeling = 0.03;  // ASSUMED, as of a look
    std::map<std::string, double> chances;
    for (std::size_t i = 0; i < weighed.all(); ++i) {
        for (const FaultMode* mode : weighed.suspect(i).modes()) {
            if (mode->fault_class == FaultClass::joint && mode->size)
                chances[std::string(read_place(mode->place).owner)] += weighed.chance(i);
        }
    }
    std::vector<FeltPlace> felt;
    std::optional<Positions> positions;
    for (const auto& [place, chance] : chances) {
        if (chance < worth_feeling || is_closed(circuit, place)) continue;
        const bool known = std::any_of(job.readings.begin(), job.readings.end(),
                                       [&, here = std::string_view(place)](const Reading& reading) {
                                           const auto* heat = std::get_if<HeatReading>(&reading.measurement);
                                           return heat && same_word(heat->place, here);
                                       });
        if (known) continue;
        std::vector<BranchId> branches;
        for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
            if (sits_there(circuit, circuit.branches[i], place)) branches.push_back({i});
        }
        if (branches.empty()) continue;
        if (!positions) positions.emplace(simulator, circuit);
        felt.push_back({positions->busiest(branches), place});
    }
    return felt;
}

std::vector<ExtraState> extra_states(Simulator& simulator, const Circuit& circuit, const Job& job,
                                     const Weighed& weighed) {
    const Positions positions(simulator, circuit);
    std::vector<ExtraState> list;
    const bool meter = has_tool(job, "meter");
    if (meter && has_tool(job, "load")) add_loads(circuit, job, positions, list);
    const std::vector<PartId> blown = blown_fuses(simulator, circuit, job, weighed);
    if (meter && has_tool(job, "lamp")) add_lamps(circuit, job, blown, positions, list);
    add_new_fuses(circuit, job, blown, positions, list);
    add_like_relays(circuit, job, weighed, positions, list);
    add_wiggled(circuit, weighed, positions, list);
    if (!condition_now(job, weighed)) add_made(circuit, job, weighed, positions, list);
    return list;
}

}  // namespace voltfall
