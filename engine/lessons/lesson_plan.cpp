#include "engine/lessons/lesson_plan.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "engine/lessons/symptoms.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Diagnoses one after the other, each with one repair.
constexpr std::size_t most_passes = 4;
/// A cause this probable is mended with what it broke.
constexpr double worth_mending = 0.2;

class Planner {
public:
    Planner(Simulator& simulator, const Exercise& exercise, const MatchOptions& options, double most_minutes)
        : simulator_(simulator),
          exercise_(exercise),
          options_(options),
          most_minutes_(most_minutes),
          bench_(simulator, exercise) {}

    LessonPlan make() {
        for (std::size_t pass = 0; pass < most_passes; ++pass) {
            WorkedRun run = work();
            const bool first = pass == 0;
            const bool go_on = !takes_too_long() && mend(run, first);
            if (first)
                plan_.run = std::move(run);
            else
                plan_.again.push_back(std::move(run));
            if (!go_on || takes_too_long()) break;
        }
        plan_.cut_short = takes_too_long();
        plan_.solved =
            exercise_.hidden().empty() ? said_nothing_ && bench_.bill().parts.empty() : all_mended(bench_.vehicle());
        plan_.test_minutes = bench_.bill().test_minutes;
        plan_.repair_minutes = bench_.bill().repair_minutes;
        plan_.parts = bench_.bill().parts.size();
        return std::move(plan_);
    }

private:
    bool takes_too_long() const { return bench_.bill().minutes() > most_minutes_; }

    /// Tests until `next` says stop, on the vehicle as it stands now.
    WorkedRun work() {
        Technician technician(simulator_, bench_.vehicle(), drawn_meters(exercise_.seed), exercise_.lesson.tools);
        WorkedOptions options;
        options.match = options_;
        options.allowed = [&](const TestProposal& test) {
            return bench_.would_answer(action_of(*exercise_.circuit, test.test));
        };
        // What the tests cost is the bench's to say; on a bench of its own, for they are acted again when they are all
        // known.
        std::optional<Bench> counted;
        if (std::isfinite(most_minutes_)) counted.emplace(bench_);
        if (counted) {
            options.enough = [&](const WorkedStep& step) {
                counted->act(action_of(*exercise_.circuit, step.test.test));
                return counted->bill().minutes() > most_minutes_;
            };
        }
        options.conditions = {"bump", "hot", "wet", "cold"};
        Job job;
        job.concern = exercise_.lesson.concern;
        job.tools = exercise_.lesson.tools;
        for (const std::string& part : bench_.bill().parts)
            job.fitted.push_back({exercise_.circuit->find_part(part), "today"});
        WorkedRun run = work_through(*exercise_.circuit, std::move(job), technician, options);
        for (const WorkedStep& step : run.steps) act(action_of(*exercise_.circuit, step.test.test));
        return run;
    }

    ActionOutcome act(const Action& action) {
        plan_.actions.push_back(action);
        return bench_.act(action);
    }

    bool works_now() const {
        return bench_.vehicle().opened.empty() &&
               !anything_wrong(symptoms_of(simulator_, with_conditions_met(bench_.vehicle())));
    }

    ActionOutcome repair(const Action& action) {
        plan_.repairs.push_back(action.text);
        return act(action);
    }

    /// New fuses for those found blown; true when all hold.
    bool fit_fuses() {
        const std::vector<PartId> blown = bench_.vehicle().opened_parts();
        bool hold = true;
        for (const PartId fuse : blown) {
            const ActionOutcome fitted = repair(action_of(*exercise_.circuit, FitPart{fuse, std::nullopt}));
            hold = hold && fitted.measured && fitted.measured->blew.empty();
        }
        return hold;
    }

    /// The most probable repair that was not made yet; true when something is still wrong then.
    bool mend(const WorkedRun& run, bool first) {
        const MatchAnswer& answer = run.answer;
        const bool nothing =
            (run.stop && run.stop->nothing) || answer.candidates.empty() || answer.candidates.front().nothing;
        if (nothing && first) {
            said_nothing_ = true;
            repair(action_of(SayNothing{}));
        }
        if (nothing) return false;
        for (const Candidate& candidate : answer.candidates) {
            const bool known = std::any_of(done_.begin(), done_.end(),
                                           [&](const std::string& one) { return same_word(one, candidate.repair); });
            if (known || candidate.nothing) continue;
            done_.push_back(candidate.repair);
            repair(action_of(RepairPlace{candidate.repair}));
            mend_victims(candidate);
            if (!fit_fuses() || !works_now()) return true;
            mend_cause(candidate);
            return false;
        }
        return false;
    }

    /// What a cause has broken is mended with it: "R1 limiter open" behind a dragging motor.
    void mend_victims(const Candidate& candidate) {
        for (const BrokenThing& victim : candidate.led_to) {
            const bool known = std::any_of(done_.begin(), done_.end(),
                                           [&](const std::string& one) { return same_word(one, victim.place); });
            if (known) continue;
            done_.push_back(victim.place);
            repair(action_of(RepairPlace{victim.place}));
        }
    }

    void mend_cause(const Candidate& candidate) {
        for (const LikelyCause& cause : candidate.caused_by) {
            if (cause.probability < worth_mending) continue;
            repair(action_of(RepairPlace{cause.place}));
            return;
        }
    }

    Simulator& simulator_;
    const Exercise& exercise_;
    MatchOptions options_;
    double most_minutes_;
    Bench bench_;
    LessonPlan plan_;
    std::vector<std::string> done_;
    bool said_nothing_{false};
};

}  // namespace

LessonPlan plan_of(Simulator& simulator, const Exercise& exercise, const MatchOptions& options, double most_minutes) {
    return Planner(simulator, exercise, options, most_minutes).make();
}

double fair_budget(double usual, const LessonPlan& plan) {
    constexpr double margin = 1.25;
    return std::max(usual, 5 * std::ceil(margin * plan.minutes() / 5));
}

bool all_mended(const Vehicle& vehicle) {
    return vehicle.faults.empty() && vehicle.opened.empty();
}

}  // namespace voltfall
