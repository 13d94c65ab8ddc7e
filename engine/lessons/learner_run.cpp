#include "engine/lessons/learner_run.hpp"

#include <fmt/format.h>
#include <algorithm>
#include <cmath>
#include <map>

#include "engine/lessons/symptoms.hpp"
#include "engine/planning/next.hpp"
#include "netlists/graph/feeds.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Watching and listening with everything in its place.
bool is_free_look(const Test& test) {
    const StatePhrase& state = test.state;
    const bool touched = !state.unplugged.empty() || !state.pulled.empty() || !state.lamp_in.empty() ||
                         !state.leads.empty() || !state.handled.empty();
    return !touched &&
           (std::holds_alternative<LoadTest>(test.tested) || std::holds_alternative<RelayTest>(test.tested));
}

/// About 0 V is taken again with good reason: the probe may not have touched.
bool shows_zero(const RunStep& step) {
    constexpr double about_zero = 0.1;
    const ReadValue* shown = number_of(step.outcome.measured->reading.measurement);
    return shown && shown->unit == Unit::volt && std::abs(shown->low) < about_zero;
}

Job first_readings(const Job& job, std::size_t count) {
    Job part = job;
    part.readings.resize(std::min(count, part.readings.size()));
    return part;
}

std::string joined(const std::vector<std::string>& words, std::size_t most) {
    std::string text;
    for (std::size_t i = 0; i < std::min(most, words.size()); ++i) text += (i ? ", " : "") + words[i];
    return words.size() > most ? text + " …" : text;
}

}  // namespace

LearnerRun::LearnerRun(Simulator& simulator, const Exercise& exercise, const RunOptions& options)
    : simulator_(simulator), bench_(simulator, exercise), options_(options) {}

bool LearnerRun::needs_suspect(const Action& action) const {
    if (!options_.commit || bench_.repaired_anything()) return false;
    const auto* test = std::get_if<Test>(&action.what);
    return test && is_bench_test(test->tested) && !is_free_look(*test);
}

bool LearnerRun::same_suspect() {
    if (last_suspect_) next_suspect_ = last_suspect_;
    return next_suspect_.has_value();
}

const Belief& LearnerRun::belief_after(std::size_t readings) {
    if (beliefs_.size() <= readings) beliefs_.resize(readings + 1);
    if (!beliefs_[readings])
        beliefs_[readings] =
            belief_of(simulator_, bench_.circuit(), first_readings(bench_.job(), readings), options_.match);
    return *beliefs_[readings];
}

void LearnerRun::weigh_step(std::size_t index) {
    RunStep& step = steps_[index];
    const bool mends = step.outcome.kind == ActionKind::fit || step.outcome.kind == ActionKind::repair ||
                       step.outcome.kind == ActionKind::say;
    const std::size_t before = readings_before_[index];
    if (mends && !step.warranted && !step.after_repair) {
        const Belief& belief = belief_after(before);
        step.warranted = share_mended_by(by_repair(bench_.circuit(), belief), step.outcome.target);
    }
    if (step.bits || readings_after_[index] == before) return;
    // Both beliefs are copied: asking for the second may move the first.
    const Belief then = belief_after(before);
    const Belief now = belief_after(readings_after_[index]);
    step.bits = bits_told(bench_.circuit(), then, now);
    step.ruled_out = ruled_out_between(bench_.circuit(), then, now);
    if (!step.suspect) return;
    step.before = then.in(*step.suspect);
    step.after = now.in(*step.suspect);
}

const RunStep& LearnerRun::act(const Action& action) {
    RunStep step;
    step.line = action.text;
    step.after_repair = bench_.repaired_anything();
    const std::size_t before = bench_.job().readings.size();
    step.outcome = bench_.act(action);
    const ActionResult result = step.outcome.result;
    if (result == ActionResult::unsafe) {
        end_ = RunEnd::unsafe;
        unsafe_reason_ = step.outcome.message;
    }
    const bool kept = result == ActionResult::done || result == ActionResult::unsafe || step.outcome.minutes > 0;
    if (!kept) {
        refused_ = std::move(step);
        return refused_;
    }
    if (step.outcome.kind == ActionKind::test && step.outcome.measured) {
        step.repeated = std::any_of(steps_.begin(), steps_.end(), [&](const RunStep& earlier) {
            return earlier.is_test() && earlier.after_repair == step.after_repair && !shows_zero(earlier) &&
                   earlier.outcome.measured->test() == step.outcome.measured->test();
        });
        if (!is_free_look(*step.outcome.test)) {
            step.suspect = next_suspect_;
            next_suspect_.reset();
        }
    }
    steps_.push_back(std::move(step));
    readings_before_.push_back(before);
    readings_after_.push_back(bench_.job().readings.size());
    if (options_.weigh) weigh_step(steps_.size() - 1);
    return steps_.back();
}

std::vector<RunStep> LearnerRun::try_every_position() {
    std::vector<RunStep> added;
    const bool repaired = bench_.repaired_anything();
    std::size_t before = bench_.job().readings.size();
    std::vector<ActionOutcome> outcomes = bench_.try_every_position();
    for (ActionOutcome& outcome : outcomes) {
        RunStep step;
        step.line = outcome.measured ? write_test(bench_.circuit(), outcome.measured->test()) : "";
        step.after_repair = repaired;
        step.outcome = std::move(outcome);
        steps_.push_back(step);
        const std::size_t after = repaired ? before : std::min(before + 1, bench_.job().readings.size());
        readings_before_.push_back(before);
        readings_after_.push_back(after);
        before = after;
        added.push_back(std::move(step));
    }
    return added;
}

void LearnerRun::weigh_rest() {
    for (std::size_t i = 0; i < steps_.size(); ++i) weigh_step(i);
}

std::optional<std::string> LearnerRun::hint() {
    constexpr std::size_t most_hints = 3;
    if (hints_ >= most_hints) return std::nullopt;
    switch (++hints_) {
        case 1:
            return hint_of_positions();
        case 2:
            return hint_of_half();
        default:
            return hint_of_test();
    }
}

std::string LearnerRun::hint_of_positions() const {
    std::vector<std::string> wrong;
    std::vector<std::string> well;
    for (const Symptom& symptom : symptoms_of(simulator_, with_conditions_met(bench_.vehicle()))) {
        if (symptom.seen == LoadSeen::off) continue;
        (symptom.is_wrong() ? wrong : well).push_back(symptom.state.label);
    }
    if (wrong.empty()) return "which positions fail? All of them work just now: when does it fail, hot, wet, on bumps?";
    if (well.empty()) return "which positions fail? All: ask what every position runs through (map lists it)";
    return fmt::format("which positions fail? {}, but not {}: ask what the first run through and the others do not",
                       joined(wrong, 6), joined(well, 6));
}

std::string LearnerRun::hint_of_half() const {
    for (const Fault& fault : bench_.vehicle().faults) {
        const auto sections = sections_holding(bench_.circuit(), *fault.mode);
        if (sections.empty()) continue;
        if (sections.front() == "load")
            return "which half? Neither: feed and return deserve a short look, the load a long one";
        if (sections.front() == "control") return "which half? Not the load's own current: look at what switches it";
        return fmt::format("which half? Measure at the load, with the load on: its {} is the worse one",
                           sections.front());
    }
    return "which half? Measure at the load, with the load on, both its feed and its return";
}

std::string LearnerRun::hint_of_test() const {
    const NextAnswer next = next_tests(simulator_, bench_.circuit(), bench_.job(), options_.match);
    for (const TestProposal& test : next.tests) {
        const Action action = action_of(bench_.circuit(), test.test);
        if (bench_.would_answer(action)) return fmt::format("which pin? A good next test: {}", action.text);
    }
    return "which pin? No test tells more now: say what you think, repair it and prove it";
}

}  // namespace voltfall
