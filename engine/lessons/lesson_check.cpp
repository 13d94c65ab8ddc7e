#include "engine/lessons/lesson_check.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>

#include "engine/courses/dictionary.hpp"
#include "engine/lessons/bench.hpp"
#include "engine/lessons/judgement.hpp"
#include "engine/lessons/lesson_plan.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/readings/probes.hpp"
#include "netlists/circuit/network.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/text/overloaded.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// "Full" volts are at least this share of the nominal supply.
constexpr double full_share = 0.9;

bool is_burnt_thing(const FaultMode& mode) {
    return mode.is(ModeFact::limiter_open) || mode.is(ModeFact::fuse_blown);
}

class Checker {
public:
    Checker(Simulator& simulator, std::shared_ptr<const Circuit> circuit, const Lesson& lesson,
            const MatchOptions& options)
        : simulator_(simulator),
          lesson_(lesson),
          options_(options),
          exercise_(exercise_of(simulator, std::move(circuit), lesson, 1)),
          bench_(simulator, exercise_) {}

    Problems check() {
        check_sizes();
        if (problems_.has_errors()) return std::move(problems_);
        check_symptom();
        check_root();
        check_traps();
        check_actions();
        if (!problems_.has_errors()) check_plan();
        return std::move(problems_);
    }

private:
    /// Where the n-th fault or root is typed, without its line: that may be sealed. A lesson that was not read from a
    /// file has no such place.
    SourcePlace fault_place(std::size_t n = 0) const {
        SourcePlace place;
        if (n < lesson_.fault_places.size()) place = lesson_.fault_places[n];
        place.file = lesson_.path;
        place.text.clear();
        return place;
    }
    void error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion) {
        problems_.error(code, std::move(place), std::move(message), std::move(suggestion));
    }

    /// `F7 rating 40A` in the holder of a 40 A fuse: a size at which nothing is wrong.
    void check_sizes() {
        const Network sound(*exercise_.circuit);
        std::vector<Fault> faults = lesson_.faults;
        faults.insert(faults.end(), lesson_.roots.begin(), lesson_.roots.end());
        for (std::size_t i = 0; i < faults.size(); ++i) {
            const Fault& fault = faults[i];
            if (!fault.mode->size || fault.size_in_condition || !changes_nothing(sound, fault)) continue;
            error(ProblemCode::lesson_unseen, fault_place(i),
                  fmt::format("'{} {}' changes nothing: a sound vehicle has just that", fault.mode->phrase(),
                              write_measure(fault.size, fault.mode->size->unit)),
                  "hide another size");
        }
    }

    static bool changes_nothing(const Network& sound, const Fault& fault) {
        const std::vector<Change> changes = fault.mode->changes(fault.size, fault.where);
        const auto idle = Overloaded{
            [&](const SetLaw& set) { return sound.at(set.branch).law == set.law; },
            [&](const FitFuse& fit) { return sound.ratings[fit.part.index] == fit.rating_amps; },
            [](const auto&) { return false; },
        };
        return !changes.empty() && std::all_of(changes.begin(), changes.end(),
                                               [&](const Change& change) { return std::visit(idle, change); });
    }

    void check_symptom() {
        if (exercise_.hidden().empty()) return;
        if (anything_wrong(symptoms_of(simulator_, with_conditions_met(exercise_.found)))) return;
        error(ProblemCode::lesson_unseen, fault_place(), "no driver would notice what this lesson hides",
              "hide something larger, or nothing");
    }

    SourcePlace root_place() const { return fault_place(lesson_.faults.size()); }

    void check_root() {
        if (lesson_.roots.empty()) return;
        const bool burns = !exercise_.found.opened.empty() || exercise_.lesson.faults.size() > lesson_.faults.size();
        for (const Fault& fault : lesson_.faults) {
            if (!is_burnt_thing(*fault.mode)) continue;
            Lesson without = lesson_;
            without.faults.clear();
            const Exercise roots_only = exercise_of(simulator_, exercise_.circuit, without, 1);
            const PartId part = exercise_.circuit->find_part(fault.mode->place);
            bool led = roots_only.found.has_opened(part);
            for (const Fault& burnt : roots_only.lesson.faults) led |= burnt.mode == fault.mode;
            if (!led)
                error(ProblemCode::lesson_root, root_place(), "the root does not lead to what failed",
                      "make the root worse, or name another one");
        }
        if (lesson_.faults.empty() && !burns)
            error(ProblemCode::lesson_root, root_place(), "the root burns nothing", "name what failed as the fault");
    }

    void check_traps() {
        for (const LessonTrap& trap : lesson_.traps) {
            const auto found = found_answer(simulator_, exercise_, trap.test);
            const auto sound = sound_answer(simulator_, exercise_, trap.test);
            const auto wrong = [&](std::string message) {
                SourcePlace place = trap.place;
                place.text.clear();
                problems_.error(ProblemCode::lesson_trap, std::move(place), std::move(message),
                                "take the trap out, or type it as it is");
            };
            if (!found || !sound) {
                wrong("a trap's test has no answer");
                continue;
            }
            switch (trap.kind) {
                case TrapKind::blind:
                    if (tells_apart(*found, *sound, lesson_.tools))
                        wrong("a trap is not blind: its test shows the fault");
                    break;
                case TrapKind::floats:
                    if (!found->floats) wrong("a trap's point does not float");
                    break;
                case TrapKind::full:
                    if (std::abs(found->truth) < full_share * exercise_.circuit->supply || found->unit != Unit::volt)
                        wrong("a trap's test does not show the full supply");
                    break;
            }
        }
    }

    bool allows(std::string_view action) const {
        return std::find(lesson_.allow.begin(), lesson_.allow.end(), action) != lesson_.allow.end();
    }

    void must_answer(std::string_view action, const std::vector<Test>& tests) {
        if (!allows(action)) return;
        std::size_t answered = 0;
        for (const Test& test : tests) answered += bench_.would_answer(action_of(*exercise_.circuit, test)) ? 1 : 0;
        // Ohms of what is live are refused for good reason; a lesson needs some place where they are not.
        const bool some_do = action == "ohms" || action == "lamp";
        if (tests.empty() || (some_do ? answered > 0 : answered == tests.size())) return;
        error(ProblemCode::lesson_action, lesson_.allow_place,
              fmt::format("'{}' is allowed, but {} of its {} tests have no answer", action, tests.size() - answered,
                          tests.size()),
              "take it out of allow");
    }

    Leads leads(JointId red, JointId black) const {
        return {point_at(*exercise_.circuit, red), point_at(*exercise_.circuit, black)};
    }
    Leads to_reference(JointId red) const { return leads(red, exercise_.circuit->reference); }

    void check_actions() {
        const Circuit& circuit = *exercise_.circuit;
        std::vector<Test> volts;
        std::vector<Test> lamps;
        // At rest and in the last position: what answers there answers between.
        std::vector<StatePhrase> states = default_phrases(circuit);
        if (states.size() > 2) states = {states.front(), states.back()};
        for (const StatePhrase& state : states) {
            for (const JointId joint : permitted_joints(circuit)) {
                if (joint == circuit.reference) continue;
                volts.push_back({state, VoltsTest{to_reference(joint), {}}});
                lamps.push_back({state, LampTest{to_reference(joint)}});
            }
        }
        must_answer("volts", volts);
        must_answer("lamp", lamps);
        std::vector<Test> drops;
        for (const DropPair& pair : drop_pairs(circuit))
            drops.push_back({{}, VoltsTest{leads(pair.red, pair.black), {}}});
        must_answer("drop", drops);
        std::vector<Test> amps;
        std::vector<Test> wiggles;
        for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) {
            StatePhrase wiggled;
            wiggled.handled = {"wiggle " + circuit.wires[i].name};
            amps.push_back({{}, AmpsTest{{i}, {}}});
            wiggles.push_back({wiggled, AmpsTest{{i}, {}}});
        }
        must_answer("amps", amps);
        if (allows("amps")) must_answer("wiggle", wiggles);
        check_part_actions(circuit);
    }

    void check_part_actions(const Circuit& circuit) {
        std::vector<Test> looks;
        std::vector<Test> fuses;
        std::vector<Test> pulls;
        std::vector<Test> ohms;
        std::vector<Test> unplugs;
        for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
            const Part& part = circuit.parts[i];
            looks.push_back({{}, LookTest{part.name}});
            if (part.fuse) {
                StatePhrase pulled;
                pulled.pulled = {{i}};
                fuses.push_back({{}, FuseTest{{i}}});
                pulls.push_back({pulled, VoltsTest{to_reference(circuit.part(circuit.battery).pins.at("+")), {}}});
            }
            if (part.plug.empty() || part.pins.size() < 2 || is_closed(circuit, part.plug)) continue;
            StatePhrase unplugged;
            unplugged.unplugged = {part.plug};
            ohms.push_back({unplugged, OhmsTest{leads(part.pins.begin()->second, part.pins.rbegin()->second)}});
            unplugs.push_back({unplugged, VoltsTest{to_reference(part.harness.begin()->second), {}}});
        }
        must_answer("look", looks);
        must_answer("fuse", fuses);
        must_answer("pull", pulls);
        if (!ohms.empty() && allows("unplug")) must_answer("ohms", ohms);
        if (allows("volts")) must_answer("unplug", unplugs);
    }

    void check_plan() {
        Dictionary dictionary(simulator_, *exercise_.circuit);
        MatchOptions options = options_;
        options.dictionary = &dictionary;
        const LessonPlan plan = plan_of(simulator_, exercise_, options, lesson_.budget_minutes);
        if (plan.cut_short) {
            // What it would take in all is not worked out: the lesson is refused either way.
            error(ProblemCode::lesson_over_budget, lesson_.budget_place,
                  fmt::format("the tool's own plan takes more than the budget of {:.0f} min: {:.0f} min, and it is not "
                              "done",
                              lesson_.budget_minutes, plan.minutes()),
                  "give it more; voltfall teach --reveal shows the whole plan and its minutes");
        } else if (!plan.solved) {
            error(
                ProblemCode::lesson_unsolved, fault_place(),
                fmt::format("the tool's own plan does not solve it ({:.0f} min of tests and repairs)", plan.minutes()),
                "voltfall teach --reveal shows where the plan ends");
        }
    }

    Simulator& simulator_;
    const Lesson& lesson_;
    MatchOptions options_;
    Exercise exercise_;
    Bench bench_;
    Problems problems_;
};

}  // namespace

Problems check_lesson(Simulator& simulator, std::shared_ptr<const Circuit> circuit, const Lesson& lesson,
                      const MatchOptions& options) {
    return Checker(simulator, std::move(circuit), lesson, options).check();
}

}  // namespace voltfall
