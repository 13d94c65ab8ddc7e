#include "cli/commands/report_view.hpp"

#include <algorithm>
#include <cmath>

#include "engine/courses/dictionary.hpp"
#include "engine/diagnosis/job_at_hand.hpp"
#include "engine/diagnosis/suspect_trials.hpp"
#include "engine/diagnosis/weighing.hpp"
#include "engine/figures/repair_reach.hpp"
#include "engine/lessons/lesson_plan.hpp"
#include "engine/lessons/reason.hpp"
#include "engine/readings/questions.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/digits.hpp"

namespace voltfall {

namespace {

/// Suspects less probable than this have no line in the ladder.
constexpr double worth_a_line = 0.05;
constexpr std::size_t most_lines = 3;

/// The candidate's faults with their likeliest sizes: itself, then what it has led to. Empty for "nothing".
std::vector<Fault> faults_of(const Circuit& circuit, const Candidate& candidate) {
    std::vector<Fault> faults;
    const auto add = [&](const std::string& phrase, double size, double where) {
        for (const ModePtr& mode : circuit.modes)
            if (mode->phrase() == phrase) return faults.push_back({mode, size, where, {}, {}});
    };
    if (candidate.nothing) return faults;
    add(candidate.fault, candidate.size ? candidate.size->best : 0, candidate.where ? candidate.where->best : 0.5);
    for (const BrokenThing& victim : candidate.led_to) add(victim.fault, 0, 0.5);
    return faults;
}

/// The fault with its size and place as they are told: two digits.
Fault rounded(Fault fault) {
    fault.size = significant(fault.size, 2);
    fault.where = significant(fault.where, 2);
    return fault;
}

/// The volts of B1+ to B1- that the job has read with the key there; nullopt where it has not.
std::optional<double> supply_read(const Circuit& circuit, const Job& job, const State& state) {
    std::optional<double> volts;
    for (const Reading& reading : job.readings) {
        const auto* read = std::get_if<VoltsReading>(&reading.measurement);
        if (read == nullptr || !reads_supply(circuit, reading.measurement) || read->value.open) continue;
        const std::vector<State> states = states_of(circuit, reading.state);
        const bool number = std::isfinite(read->value.low + read->value.high);
        if (!states.empty() && states.front().key == state.key && number)
            volts = (read->value.low + read->value.high) / 2;
    }
    return volts;
}

enum class Extent { whole, live };

class ReportBuilder {
public:
    ReportBuilder(const Console& console, const Input& input, Dictionary& dictionary, Extent extent)
        : simulator_(console.sweep()), circuit_(*input.circuit), input_(input), extent_(extent) {
        options_.workers = workers_of(console);
        options_.dictionary = &dictionary;
        options_.two_where_one_fits_poorly = true;
        view_.circuit = input.circuit;
        view_.job = input.job;
        view_.is_job = input.job.path != input.job.circuit_path;
    }

    /// With the faults that are known to be there.
    ReportView make_with(std::vector<Fault> faults) {
        if (!faults.empty()) {
            ReportSuspect known{write_fault(circuit_, faults.front()),
                                faults.front().mode->plain,
                                faults.front().mode->place,
                                1,
                                {},
                                0,
                                {}};
            view_.suspects.push_back(known);
            cases_.push_back({known.fault, std::move(faults)});
        }
        choose_position();
        solve();
        return std::move(view_);
    }

    ReportView make() {
        if (view_.is_job) weigh();
        choose_position();
        solve();
        return std::move(view_);
    }

private:
    void weigh() {
        const std::shared_ptr<const Weighed> weighed = voltfall::weigh(simulator_, circuit_, input_.job, options_);
        const MatchAnswer answer = match(simulator_, circuit_, input_.job, options_, *weighed);
        view_.none_of_these = answer.none_of_these;
        view_.notes = answer.notes;
        for (const Candidate& candidate : answer.candidates) add_suspect(candidate);
        for (const Suspect& pair : weighed->pairs) add_pair(pair);
        view_.next = next_tests(simulator_, circuit_, input_.job, options_, weighed);
        const bool over = !input_.job.repaired.empty() || !input_.job.after.empty();
        if (over)
            prove_it();
        else if (extent_ != Extent::live)
            view_.plan = PlanView{input_.circuit, input_.job.concern,
                                  plan_tests(simulator_, circuit_, input_.job, options_, weighed)};
    }

    /// Where the repair has not brought everything back, what is left is looked for with all that was read.
    void prove_it() {
        view_.proof = prove(simulator_, circuit_, input_.job, options_);
        view_.still_faulty = is_still_faulty(*view_.proof) && !input_.job.repaired.empty();
        if (view_.still_faulty) view_.next = next_tests(simulator_, circuit_, job_at_hand(input_.job), options_);
    }

    /// Where its probability puts it among the suspects and the lines of the ladder.
    void add_pair(const Suspect& pair) {
        std::vector<Fault> faults = faults_at_best(circuit_, pair);
        ReportSuspect suspect;
        suspect.fault = pair.phrase();
        suspect.plain = faults.front().mode->plain + ", and " + faults.back().mode->plain;
        suspect.place = faults.front().mode->place;
        suspect.probability = pair.probability;
        suspect.repair = faults.front().mode->repair + " and " + faults.back().mode->repair;
        for (const Fault& fault : faults) {
            suspect.minutes += reach_of_repair(circuit_, fault.mode->repair).minutes;
            for (std::string& one : replaced_with(circuit_, fault.mode->repair)) suspect.with_it.push_back(one);
        }
        const auto behind = std::find_if(view_.suspects.begin(), view_.suspects.end(), [&](const ReportSuspect& one) {
            return one.probability < suspect.probability;
        });
        const bool leads = behind == view_.suspects.begin();
        if (leads) cases_.insert(cases_.begin(), {suspect.fault, std::move(faults)});
        if (cases_.size() > most_lines) cases_.pop_back();
        view_.suspects.insert(behind, std::move(suspect));
    }

    void add_suspect(const Candidate& candidate) {
        std::vector<Fault> faults = faults_of(circuit_, candidate);
        ReportSuspect suspect;
        suspect.probability = candidate.probability;
        suspect.fault = faults.empty() ? candidate.fault : write_fault(circuit_, rounded(faults.front()));
        suspect.plain = faults.empty() ? "no fault in this circuit" : faults.front().mode->plain;
        suspect.place = candidate.place;
        suspect.repair = candidate.repair;
        if (!candidate.repair.empty()) {
            suspect.minutes = reach_of_repair(circuit_, candidate.repair).minutes;
            suspect.with_it = replaced_with(circuit_, candidate.repair);
        }
        view_.suspects.push_back(suspect);
        if (cases_.size() < most_lines && candidate.probability >= worth_a_line && !faults.empty())
            cases_.push_back({suspect.fault, std::move(faults)});
    }

    /// Where the leading suspect changes most, else where most current flows; and the load that tells it.
    void choose_position() {
        const bool leads = !cases_.empty() && view_.suspects.front().fault == cases_.front().name;
        double best = -1;
        for (State state : default_states(circuit_)) {
            if (const auto volts = supply_read(circuit_, input_.job, state)) state.supply_volts = volts;
            const SettleResult sound = settle(simulator_, circuit_, state, {});
            if (!sound) continue;
            std::optional<Settled> now;
            if (leads)
                if (SettleResult faulted = settle(simulator_, circuit_, state, cases_.front().faults))
                    now = *std::move(faulted);
            for (const PartId load : loads_of(circuit_)) {
                const double change = change_of(*sound, now ? &*now : nullptr, load);
                if (change <= best + 1e-9) continue;
                best = change;
                state_ = state;
                load_ = load;
            }
        }
    }

    double change_of(const Settled& sound, const Settled* now, PartId load) const {
        const LoadState was = load_state(sound, load, &sound);
        constexpr double of_current = 0.001;  // the hardest of positions that change alike
        if (now == nullptr) return of_current * std::abs(was.amps);
        const LoadState is = load_state(*now, load, &sound);
        return std::abs(is.volts - was.volts) + std::abs(is.amps - was.amps) + of_current * std::abs(was.amps);
    }

    void solve() {
        if (!state_) return;
        view_.state = state_->label;
        if (SettleResult sound = settle(simulator_, circuit_, *state_, {})) view_.sound = *std::move(sound);
        std::vector<Fault> leading;
        const bool mended = view_.proof && view_.proof->proved;
        if (!mended && !cases_.empty() && view_.suspects.front().fault == cases_.front().name)
            leading = cases_.front().faults;
        if (!leading.empty())
            if (SettleResult now = settle(simulator_, circuit_, *state_, leading)) view_.now = *std::move(now);
        if (view_.sound) confirm(simulator_, *view_.sound);
        if (view_.now) confirm(simulator_, *view_.now);
        view_.ladder = voltage_ladder(simulator_, circuit_, *state_, load_, cases_, input_.job.readings);
        if (extent_ == Extent::live) return;
        view_.speeds = speed_rows(simulator_, circuit_, leading);
        view_.fuses = fuse_curves(simulator_, circuit_, leading);
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    const Input& input_;
    Extent extent_;
    MatchOptions options_;
    std::vector<NamedCase> cases_;
    std::optional<State> state_;
    PartId load_;
    ReportView view_;
};

}  // namespace

ReportView lesson_view(const Console& console, const Exercise& exercise) {
    Input input;
    input.circuit = exercise.circuit;
    Dictionary dictionary(console.sweep(), *exercise.circuit);
    ReportView view = ReportBuilder(console, input, dictionary, Extent::whole).make_with(exercise.hidden());
    view.job.concern = exercise.lesson.concern;
    MatchOptions options;
    options.workers = workers_of(console);
    options.dictionary = &dictionary;
    const LessonPlan plan = plan_of(console.sweep(), exercise, options);
    ReportLesson lesson;
    lesson.title = exercise.lesson.title;
    for (const Fault& fault : exercise.lesson.faults) lesson.hidden.push_back(write_fault(*exercise.circuit, fault));
    for (const Fault& root : exercise.lesson.roots) lesson.roots.push_back(write_fault(*exercise.circuit, root));
    for (const WorkedStep& step : plan.run.steps)
        lesson.steps.push_back(
            {write_test(*exercise.circuit, step.measured.test()), step.measured.shown, step.test.minutes});
    lesson.repairs = plan.repairs;
    lesson.reason = electrical_reason(console.sweep(), exercise);
    view.lesson = std::move(lesson);
    return view;
}

ReportView report_view(const Console& console, const Input& input) {
    Dictionary dictionary(console.sweep(), *input.circuit);
    return ReportBuilder(console, input, dictionary, Extent::whole).make();
}

ReportView live_view(const Console& console, const Input& input, Dictionary& dictionary) {
    return ReportBuilder(console, input, dictionary, Extent::live).make();
}

}  // namespace voltfall
