#include "engine/lessons/lesson_plan.hpp"

#include <algorithm>

#include "engine/lessons/symptoms.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr std::size_t most_repairs = 4;
/// A cause this probable is mended with what it broke.
constexpr double worth_mending = 0.2;

class Planner {
public:
    Planner(Simulator& simulator, const Exercise& exercise, const MatchOptions& options)
        : simulator_(simulator), exercise_(exercise), options_(options), bench_(simulator, exercise) {}

    LessonPlan make() {
        MeterErrors errors = drawn_meters(exercise_.seed);
        Technician technician(simulator_, exercise_.found, errors, exercise_.lesson.tools);
        WorkedOptions options;
        options.match = options_;
        options.allowed = [&](const TestProposal& test) { return bench_.would_answer(test.test); };
        Job job;
        job.concern = exercise_.lesson.concern;
        job.tools = exercise_.lesson.tools;
        plan_.run = work_through(*exercise_.circuit, std::move(job), technician, options);
        for (const WorkedStep& step : plan_.run.steps) act(step.test.test);
        mend();
        plan_.test_minutes = bench_.bill().test_minutes;
        plan_.repair_minutes = bench_.bill().repair_minutes;
        plan_.parts = bench_.bill().parts.size();
        return std::move(plan_);
    }

private:
    ActionOutcome act(const std::string& line) {
        plan_.lines.push_back(line);
        return bench_.act(line);
    }

    bool works_now() const {
        return bench_.vehicle().opened.empty() &&
               !anything_wrong(symptoms_of(simulator_, with_conditions_met(bench_.vehicle())));
    }

    void repair(const std::string& line) {
        plan_.repairs.push_back(line);
        act(line);
    }

    /// New fuses for those found blown; true when all hold.
    bool fit_fuses() {
        const std::vector<PartId> blown = bench_.vehicle().opened_parts();
        bool hold = true;
        for (const PartId fuse : blown) {
            const std::string line = "new " + exercise_.circuit->part(fuse).name;
            plan_.repairs.push_back(line);
            const ActionOutcome fitted = act(line);
            hold = hold && fitted.measured && fitted.measured->blew.empty();
        }
        return hold;
    }

    void mend() {
        const MatchAnswer& answer = plan_.run.answer;
        const bool nothing = (plan_.run.stop && plan_.run.stop->fault == "nothing") || answer.candidates.empty() ||
                             answer.candidates.front().mode == "nothing";
        if (nothing) {
            repair("say nothing");
            plan_.solved = exercise_.hidden().empty();
            return;
        }
        std::vector<std::string> done;
        for (const Candidate& candidate : answer.candidates) {
            const bool known = std::any_of(done.begin(), done.end(),
                                           [&](const std::string& one) { return same_word(one, candidate.repair); });
            if (known || candidate.mode == "nothing") continue;
            if (done.size() == most_repairs) break;
            done.push_back(candidate.repair);
            repair("repair " + candidate.repair);
            const bool mended = fit_fuses() && works_now();
            if (!mended) continue;
            mend_cause(candidate);
            break;
        }
        plan_.solved = all_mended(bench_.vehicle());
    }

    void mend_cause(const Candidate& candidate) {
        for (const auto& [cause, probability] : candidate.caused_by) {
            if (probability < worth_mending) continue;
            const std::string place = cause.substr(0, cause.find(' '));
            repair("repair " + place);
            return;
        }
    }

    Simulator& simulator_;
    const Exercise& exercise_;
    MatchOptions options_;
    Bench bench_;
    LessonPlan plan_;
};

}  // namespace

LessonPlan plan_of(Simulator& simulator, const Exercise& exercise, const MatchOptions& options) {
    return Planner(simulator, exercise, options).make();
}

bool all_mended(const Vehicle& vehicle) {
    return vehicle.faults.empty() && vehicle.opened.empty();
}

}  // namespace voltfall
