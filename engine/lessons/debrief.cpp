#include "engine/lessons/debrief.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <algorithm>
#include <cmath>
#include <span>

#include "engine/lessons/judgement.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/lessons/symptoms.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

class DebriefWriter {
public:
    DebriefWriter(Simulator& simulator, LearnerRun& run, const LessonPlan* plan)
        : simulator_(simulator), run_(run), plan_(plan), exercise_(run.exercise()) {}

    Debrief write() {
        for (const Fault& fault : exercise_.lesson.faults)
            debrief_.hidden.push_back(write_fault(*exercise_.circuit, fault));
        for (const Fault& fault : exercise_.lesson.roots)
            debrief_.roots.push_back(write_fault(*exercise_.circuit, fault));
        add_steps();
        add_figures();
        judge();
        debrief_.reason = electrical_reason(simulator_, exercise_);
        if (!exercise_.lesson.reason.empty()) debrief_.reason.push_back(exercise_.lesson.reason);
        add_own_numbers();
        add_proof();
        debrief_.afterwards = afterwards();
        return std::move(debrief_);
    }

private:
    const BenchBill& bill() const { return run_.bench().bill(); }
    std::string words_of(const Measured& measured) const { return write_test(*exercise_.circuit, measured.test()); }

    void add_steps() {
        for (const RunStep& step : run_.steps()) {
            if (!step.is_test()) {
                add_work(step);
                continue;
            }
            DebriefStep told;
            told.after_work = step.after_repair;
            const Measured& measured = *step.outcome.measured;
            told.test = words_of(measured);
            told.value = measured.shown;
            told.minutes = step.outcome.minutes;
            told.suspect = step.suspect ? step.suspect->name : "";
            told.bits = step.bits;
            told.ruled_out = step.ruled_out;
            told.repeated = step.repeated;
            told.lamp_section = step.is_lamp_section();
            told.untouched = measured.untouched;
            const bool watched = std::holds_alternative<LoadTest>(step.outcome.test->tested) ||
                                 std::holds_alternative<RelayTest>(step.outcome.test->tested);
            if (!step.after_repair && !watched && !exercise_.hidden().empty()) {
                told.blind = why_blind(simulator_, exercise_, *step.outcome.test).value_or("");
                debrief_.figures.blind_tests += told.blind.empty() ? 0 : 1;
            }
            debrief_.figures.tests += watched ? 0 : 1;
            debrief_.steps.push_back(std::move(told));
        }
    }

    std::span<const RunStep> steps_before(const RunStep& step) const {
        return std::span(run_.steps()).first(static_cast<std::size_t>(&step - run_.steps().data()));
    }

    bool is_guess(const RunStep& step) const {
        const ActionKind kind = step.outcome.kind;
        if (kind == ActionKind::test || kind == ActionKind::turn) return false;
        const PartId id = exercise_.circuit->find_part(step.outcome.target);
        // A fuse for one that blew is a test too; its cost is counted already.
        if (id.valid() && exercise_.circuit->part(id).fuse && !exercise_.found.opened.empty()) return false;
        if (step.after_repair) return !tested_since_last_work(step);
        if (!step.warranted) return false;
        const auto before = steps_before(step);
        if (std::any_of(before.begin(), before.end(), [](const RunStep& one) { return one.is_lamp_section(); }))
            return false;
        // That all is well is never proved; it is enough that nothing is more likely than anything else.
        return *step.warranted < (kind == ActionKind::say ? nothing_from : warranted_from);
    }

    /// After a repair the vehicle is another one: a second repair needs a look at what the first one did.
    bool tested_since_last_work(const RunStep& step) const {
        bool tested = false;
        for (const RunStep& one : steps_before(step)) {
            tested = one.is_test() || (tested && one.outcome.kind == ActionKind::turn);
        }
        return tested;
    }

    void add_work(const RunStep& step) {
        const ActionKind kind = step.outcome.kind;
        if (kind != ActionKind::fit && kind != ActionKind::repair && kind != ActionKind::say) return;
        DebriefStep told;
        told.is_work = true;
        told.test = step.outcome.result == ActionResult::unsafe ? step.line : step.outcome.what;
        told.value = step.outcome.measured ? step.outcome.measured->shown : "";
        told.minutes = step.outcome.minutes;
        told.guess = is_guess(step);
        debrief_.steps.push_back(std::move(told));
    }

    void add_figures() {
        DebriefFigures& figures = debrief_.figures;
        figures.minutes = bill().minutes();
        figures.budget_minutes = exercise_.lesson.budget_minutes;
        figures.parts = bill().parts.size();
        figures.hints = run_.hints();
        figures.risk = run_.end() == RunEnd::unsafe;
        if (plan_) {
            figures.plan_minutes = plan_->minutes();
            figures.plan_solved = plan_->solved;
            figures.plan_parts = plan_->parts;
        }
        std::vector<std::string> cured = bill().cured;
        for (const std::string& part : bill().parts) {
            const auto found = std::find(cured.begin(), cured.end(), part);
            const PartId id = exercise_.circuit->find_part(part);
            const bool was_blown = exercise_.found.has_opened(id);
            if (found != cured.end()) {
                cured.erase(found);
            } else if (was_blown && !run_.bench().vehicle().has_opened(id) && !fuse_counted_) {
                fuse_counted_ = true;  // one fuse has to go in
            } else {
                figures.wrong_parts.push_back(part);
            }
        }
        for (const RunStep& step : run_.steps()) {
            if (is_guess(step)) figures.unwarranted.push_back(step.outcome.target);
        }
    }

    bool mended_anything() const { return !bill().cured.empty(); }

    bool said_nothing() const {
        return std::any_of(run_.steps().begin(), run_.steps().end(),
                           [](const RunStep& step) { return step.outcome.kind == ActionKind::say; });
    }

    bool left(const std::vector<Fault>& faults) const {
        const auto& now = run_.bench().vehicle().faults;
        return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
            return std::any_of(now.begin(), now.end(), [&](const Fault& one) { return one.mode == fault.mode; });
        });
    }

    void judge() {
        const Vehicle& now = run_.bench().vehicle();
        const bool repaired = !bill().parts.empty() || run_.bench().repaired_anything();
        const auto say = [&](Verdict verdict, std::string sentence) {
            debrief_.verdict = verdict;
            debrief_.sentence = std::move(sentence);
        };
        if (run_.end() == RunEnd::unsafe) return say(Verdict::unsafe, run_.unsafe_reason());
        if (exercise_.hidden().empty()) {
            if (repaired)
                return say(Verdict::false_alarm,
                           "the vehicle was sound: what was changed cost money and proved nothing");
            if (said_nothing())
                return say(Verdict::solved, "the vehicle is sound, and you said so with readings in hand");
            return say(Verdict::not_mended, "nothing was wrong, but you did not say so");
        }
        if (all_mended(now)) return say(Verdict::solved, "what failed is mended, and so is what made it fail");
        if (now.faults.empty())
            return say(Verdict::not_mended, "the fault is mended, but a blown fuse was left in: the concern stays");
        const bool works = now.opened.empty() && !anything_wrong(symptoms_of(simulator_, now));
        if (repaired && works && !left(exercise_.lesson.faults))
            return say(Verdict::cause_left, fmt::format("it works as it leaves, and comes back: {} is still there",
                                                        fmt::join(debrief_.roots, ", ")));
        if (repaired && mended_anything())
            return say(Verdict::not_mended,
                       "one thing is mended, another is still there: the concern was not tried again "
                       "in every position");
        if (repaired) return say(Verdict::not_mended, "what was changed was not what failed");
        say(Verdict::not_mended,
            said_nothing() ? "you said that nothing is wrong; something is" : "nothing was repaired");
    }

    /// The reading that lies furthest from the sound one, in terms of its instrument.
    void add_own_numbers() {
        double most = 0;
        for (const RunStep& step : run_.steps()) {
            if (!step.is_test() || step.after_repair || step.outcome.measured->untouched) continue;
            const Measured& measured = *step.outcome.measured;
            if (measured.unit != Unit::volt && measured.unit != Unit::ampere) continue;
            const auto sound = sound_answer(simulator_, exercise_, *step.outcome.test);
            if (!sound || !tells_apart(measured, *sound, exercise_.lesson.tools)) continue;
            const double scale = measured.unit == Unit::volt ? exercise_.circuit->supply : 10;
            const double distance = std::abs(measured.truth - sound->truth) / scale;
            if (distance <= most) continue;
            most = distance;
            debrief_.own_numbers = fmt::format("{} gave {}; a sound vehicle gives {}", words_of(measured),
                                               measured.shown, as_meter(sound->truth, measured.unit == Unit::ampere));
        }
    }

    /// The last reading after the last repair that the fault would have spoiled.
    std::string proof_taken() {
        std::string taken;
        bool after = false;
        for (const RunStep& step : run_.steps()) {
            if (step.outcome.kind == ActionKind::fit || step.outcome.kind == ActionKind::repair) {
                after = true;
                taken.clear();
                continue;
            }
            if (!after || !step.is_test()) continue;
            const auto sound = sound_answer(simulator_, exercise_, *step.outcome.test);
            const bool as_sound = sound && !tells_apart(*step.outcome.measured, *sound, exercise_.lesson.tools);
            if (!as_sound || why_blind(simulator_, exercise_, *step.outcome.test)) continue;
            taken = fmt::format("{} gave {}", words_of(*step.outcome.measured), step.outcome.measured->shown);
        }
        return taken;
    }

    void add_proof() {
        debrief_.proof = proof_taken();
        debrief_.proved = !debrief_.proof.empty();
        if (debrief_.proved) return;
        double most = 0;
        for (const RunStep& step : run_.steps()) {
            if (!step.is_test() || step.after_repair) continue;
            const Measured& measured = *step.outcome.measured;
            const auto sound = sound_answer(simulator_, exercise_, *step.outcome.test);
            if (!sound || (measured.unit != Unit::volt && measured.unit != Unit::ampere)) continue;
            // A reading under load is the better proof.
            const double loaded = sound_amps(simulator_, exercise_, *step.outcome.test) > 0.1 ? 10 : 1;
            const double distance = loaded * std::abs(measured.truth - sound->truth);
            if (!tells_apart(measured, *sound, exercise_.lesson.tools) || distance <= most) continue;
            most = distance;
            debrief_.proof = fmt::format("not taken: {} must give {} after the repair", words_of(measured),
                                         as_meter(sound->truth, measured.unit == Unit::ampere));
        }
        if (debrief_.proof.empty())
            debrief_.proof = "not taken: every position again, under load, as long as the concern took to show";
    }

    std::string afterwards() const {
        if (!exercise_.lesson.afterwards.empty()) return exercise_.lesson.afterwards;
        const bool sound = exercise_.hidden().empty();
        if (sound && debrief_.verdict == Verdict::solved)
            return "write down the three figures that proved it, as the customer would want to read them";
        if (debrief_.verdict == Verdict::unsafe) return "the same exercise again, with the caution in mind";
        if (!debrief_.figures.wrong_parts.empty())
            return "before a part goes in, name the one reading that would prove it innocent, and take it";
        if (debrief_.figures.blind_tests * 2 > debrief_.figures.tests)
            return "before each test, say what it must read if your suspect is guilty, and what if not";
        if (debrief_.verdict == Verdict::cause_left) return "ask of every failed part what made it fail";
        if (!debrief_.proved) return "take the reading that found the fault once more after the repair";
        return "another fault of this circuit: voltfall teach with its file and another --seed";
    }

    Simulator& simulator_;
    LearnerRun& run_;
    const LessonPlan* plan_;
    const Exercise& exercise_;
    Debrief debrief_;
    bool fuse_counted_{false};
};

}  // namespace

Debrief debrief_of(Simulator& simulator, LearnerRun& run, const LessonPlan* plan) {
    Debrief debrief = DebriefWriter(simulator, run, plan).write();
    if (plan) {
        for (const Action& action : plan->actions) debrief.plan.push_back(action.text);
    }
    return debrief;
}

}  // namespace voltfall
