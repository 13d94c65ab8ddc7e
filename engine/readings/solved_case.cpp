#include "engine/readings/solved_case.hpp"

#include <algorithm>

#include "engine/readings/found_fuses.hpp"
#include "engine/readings/measurement_facts.hpp"

namespace voltfall {

namespace {

bool contains(std::span<const PartId> list, PartId part) {
    return std::find(list.begin(), list.end(), part) != list.end();
}

void merge(std::vector<PartId>& into, std::span<const PartId> from) {
    for (const PartId part : from) {
        if (!contains(into, part)) into.push_back(part);
    }
}

ModePtr shared(const Circuit& circuit, const FaultMode& mode) {
    for (const ModePtr& row : circuit.modes) {
        if (row.get() == &mode) return row;
    }
    return std::make_shared<FaultMode>(mode);
}

std::vector<bool> states_read(const Questions& questions) {
    std::vector<bool> needed(questions.states.size(), false);
    for (const Cell& cell : questions.cells) needed[cell.state] = true;
    for (const WordObservation& word : questions.words) {
        // An ohmmeter drives its own current: nothing of the fed circuit is asked.
        if (facts_of(questions.reading(word.reading).measurement).own_supply) continue;
        for (const auto& [weight, state] : word.states) needed[state] = true;
    }
    return needed;
}

/// Fuses that the job has found blown: open, or whole all the same.
enum class FoundBlown { open, whole };

/// The trials of one mode while they are solved, state by state.
class Batch {
public:
    Batch(Simulator& simulator, const Questions& questions, const FaultMode* mode, std::span<const Trial> trials,
          Dictionary* dictionary, FoundBlown found_blown = FoundBlown::open)
        : found_blown_(found_blown),
          simulator_(simulator),
          questions_(questions),
          trials_(trials),
          dictionary_(dictionary),
          solved_(trials.size()),
          known_(trials.size()),
          opened_after_(trials.size()),
          opened_since_(trials.size()),
          lost_(trials.size()) {
        const ModePtr row = mode ? shared(*questions.circuit, *mode) : nullptr;
        sets_supply_ = mode && sets_supply(*mode);
        of_battery_ = mode && is_of_battery(*mode);
        for (std::size_t t = 0; t < trials.size(); ++t) {
            SolvedCase& solved = solved_[t];
            solved.faults.assign(trials[t].also.begin(), trials[t].also.end());
            if (row) solved.faults.push_back(Fault{row, trials[t].size, trials[t].where, {}, {}});
            solved.courses.resize(questions.states.size());
            solved.read.resize(questions.states.size());
            solved.values.resize(questions.states.size());
            known_[t].resize(questions.states.size());
        }
    }

    std::vector<SolvedCase> run() {
        for (std::size_t i = 0; i < questions_.states.size(); ++i) {
            if (questions_.states[i].names_blowing) run_alone(i);
        }
        for (std::size_t t = 0; t < trials_.size(); ++t) {
            for (const auto& course : solved_[t].courses) {
                if (course) merge(solved_[t].opened, course.opened());
            }
            for (std::size_t i = 0; i < questions_.states.size(); ++i) {
                const auto& course = solved_[t].courses[i];
                if (course && !questions_.states[i].state.mended.empty()) merge(opened_since_[t], course.opened());
            }
            std::erase_if(solved_[t].opened, [&](PartId part) { return contains(questions_.fuses_seen_good, part); });
        }
        const std::vector<bool> needed = states_read(questions_);
        for (std::size_t i = 0; i < questions_.states.size(); ++i) {
            // What goes in such a state is open in every later one, whether or not anything is asked of it.
            const bool blows_after = questions_.states[i].names_blowing && !questions_.states[i].found_open.empty();
            if (needed[i] || blows_after) read_state(i);
        }
        for (const WordObservation& word : questions_.words) {
            for (const std::size_t i : word.blown_at) run_alone(i);
        }
        for (std::size_t t = 0; t < trials_.size(); ++t) solved_[t].ok = !lost_[t];
        return std::move(solved_);
    }

private:
    State state_in(std::size_t index, World world) const {
        const JobState& job_state = questions_.states[index];
        State state = job_state.state;
        if (world == World::new_part_bad) {
            state.fitted_new.clear();
            state.new_plugs.clear();
            state.mended.clear();
        }
        const Supply& supply = questions_.supplies[job_state.supply];
        if (of_battery_ && supply.overrides) state.supply_volts = supply.emf;
        if (sets_supply_) {
            state.supply_volts.reset();
            // Where no key word tells whether the engine ran, a weak battery is judged with the engine off.
            const bool key_told = supply.key.find('?') == std::string::npos;
            if (!key_told && state.key == KeyPosition::run) state.key = KeyPosition::on;
        }
        return state;
    }

    /// Courses of some trials in a state, each with its fuses open; a trial without a solution is lost.
    std::vector<KnownCourse> run_all(std::size_t index, const std::vector<std::size_t>& trials,
                                     const std::vector<std::vector<PartId>>& opened) {
        std::vector<State> states;
        states.reserve(trials.size());
        for (const std::size_t t : trials) states.push_back(state_in(index, trials_[t].world));
        std::vector<SettleCase> cases;
        for (std::size_t k = 0; k < trials.size(); ++k)
            cases.push_back({&states[k], solved_[trials[k]].faults, opened[k]});
        std::vector<KnownCourse> courses = dictionary_ ? dictionary_->courses(simulator_, cases) : solve(cases);
        for (std::size_t k = 0; k < trials.size(); ++k) {
            if (!courses[k].course) lost_[trials[k]] = true;
        }
        return courses;
    }

    std::vector<KnownCourse> solve(std::span<const SettleCase> cases) const {
        std::vector<KnownCourse> courses(cases.size());
        std::vector<CourseResult> results = run_courses(simulator_, *questions_.circuit, cases);
        for (std::size_t k = 0; k < cases.size(); ++k) {
            if (results[k]) courses[k].course = CourseRef(*std::move(results[k]));
        }
        return courses;
    }

    void keep_course(std::size_t trial, std::size_t index, KnownCourse known) {
        solved_[trial].courses[index] = known.course;
        known_[trial][index] = std::move(known);
    }

    /// The state from all fuses whole, for the trials that have no such course yet.
    void run_alone(std::size_t index) {
        std::vector<std::size_t> trials;
        for (std::size_t t = 0; t < trials_.size(); ++t) {
            if (!lost_[t] && !solved_[t].courses[index]) trials.push_back(t);
        }
        if (trials.empty()) return;
        auto courses = run_all(index, trials, std::vector<std::vector<PartId>>(trials.size()));
        for (std::size_t k = 0; k < trials.size(); ++k) keep_course(trials[k], index, std::move(courses[k]));
    }

    std::vector<PartId> opened_before(std::size_t trial, const JobState& job_state) const {
        std::vector<PartId> opened;
        if (job_state.earlier) return opened;
        if (found_blown_ == FoundBlown::open && !job_state.found_open.empty()) {
            opened = job_state.found_open;
            merge(opened, opened_after_[trial]);
        }
        // What had blown before a repair was renewed with it.
        merge(opened, job_state.state.mended.empty() ? solved_[trial].opened : opened_since_[trial]);
        std::erase_if(opened, [&](PartId part) { return contains(job_state.state.fitted_new, part); });
        return opened;
    }

    void read_state(std::size_t index) {
        const JobState& job_state = questions_.states[index];
        std::vector<std::size_t> trials;
        std::vector<std::vector<PartId>> opened;
        for (std::size_t t = 0; t < trials_.size(); ++t) {
            if (lost_[t]) continue;
            std::vector<PartId> before = opened_before(t, job_state);
            const CourseRef& alone = solved_[t].courses[index];
            const bool same_as_alone = alone && std::all_of(before.begin(), before.end(), [&](PartId part) {
                                           return contains(alone.opened(), part);
                                       });
            if (same_as_alone) {
                keep_reading(t, index, known_[t][index]);
            } else {
                trials.push_back(t);
                opened.push_back(std::move(before));
            }
        }
        if (trials.empty()) return;
        auto courses = run_all(index, trials, opened);
        for (std::size_t k = 0; k < trials.size(); ++k) {
            if (!courses[k].course) continue;
            note_opened_after(trials[k], job_state, courses[k].course);
            keep_reading(trials[k], index, courses[k]);
            if (!solved_[trials[k]].courses[index]) keep_course(trials[k], index, std::move(courses[k]));
        }
    }

    /// With a fuse found blown another beside it carries all: what then opens in a reading is open in the later ones.
    void note_opened_after(std::size_t trial, const JobState& job_state, const CourseRef& course) {
        if (job_state.found_open.empty() || !job_state.names_blowing || found_blown_ != FoundBlown::open) return;
        if (read_before_opening(course.aftermath(), questions_.fuses_seen_good)) return;
        for (const Event& event : course.aftermath()) merge(opened_after_[trial], std::span(&event.part, 1));
    }

    void keep_reading(std::size_t trial, std::size_t index, const KnownCourse& known) {
        const bool at_once = questions_.states[index].new_fuse ||
                             read_before_opening(known.course.aftermath(), questions_.fuses_seen_good);
        solved_[trial].read[index] = {known.course, at_once ? SettledRef::Moment::start : SettledRef::Moment::end};
        solved_[trial].values[index] = at_once ? known.at_start : known.at_end;
    }

    FoundBlown found_blown_;
    Simulator& simulator_;
    const Questions& questions_;
    std::span<const Trial> trials_;
    Dictionary* dictionary_;
    std::vector<SolvedCase> solved_;
    std::vector<std::vector<KnownCourse>> known_;    ///< by trial and state: the courses of `solved_`
    std::vector<std::vector<PartId>> opened_after_;  ///< by trial: fuses that went after others were found blown
    std::vector<std::vector<PartId>> opened_since_;  ///< by trial: what blows in a state after the repair
    std::vector<char> lost_;                         ///< by trial: some state has no solution
    bool sets_supply_{false};
    bool of_battery_{false};
};

}  // namespace

bool SolvedCase::has_opened(PartId part) const {
    return contains(opened, part);
}

LoadState SolvedCase::load(std::size_t state, PartId part, const SolvedCase& healthy) const {
    // What is kept was seen beside a sound circuit whose fuses are whole.
    CellValues* const kept = healthy.opened.empty() ? values[state].get() : nullptr;
    if (kept) {
        if (const auto known = kept->find_load(part)) return *known;
    }
    LoadState now = load_state(*read[state], part, &*healthy.read[state]);
    if (kept) kept->keep_load(part, now);
    return now;
}

std::vector<SolvedCase> solve_cases(Simulator& simulator, const Questions& questions, const FaultMode* mode,
                                    std::span<const Trial> trials, Dictionary* dictionary) {
    return Batch(simulator, questions, mode, trials, dictionary).run();
}

SolvedCase solve_sound(Simulator& simulator, const Questions& questions, Dictionary* dictionary) {
    const Trial sound{};
    return std::move(
        Batch(simulator, questions, nullptr, std::span(&sound, 1), dictionary, FoundBlown::whole).run().front());
}

SolvedCase solve_case(Simulator& simulator, const Questions& questions, const FaultMode* mode, const Trial& trial,
                      Dictionary* dictionary) {
    return std::move(solve_cases(simulator, questions, mode, std::span(&trial, 1), dictionary).front());
}

bool new_part_matters(const Questions& questions, const FaultMode& mode) {
    Fault fault;
    fault.mode = shared(*questions.circuit, mode);
    if (mode.size) fault.size = mode.size->usual;
    for (const JobState& job_state : questions.states) {
        State without = job_state.state;
        without.fitted_new.clear();
        without.new_plugs.clear();
        without.mended.clear();
        if (without == job_state.state) continue;
        if (present(*questions.circuit, fault, without) && !present(*questions.circuit, fault, job_state.state))
            return true;
    }
    return false;
}

bool is_of_battery(const FaultMode& mode) {
    return mode.fault_class == FaultClass::battery;
}

bool sets_supply(const FaultMode& mode) {
    // The one law of a battery is its EMF.
    if (!is_of_battery(mode)) return false;
    const std::vector<Change> changes = mode.changes(mode.size ? mode.size->usual : 0, 0.5);
    return std::any_of(changes.begin(), changes.end(),
                       [](const Change& change) { return std::holds_alternative<SetLaw>(change); });
}

}  // namespace voltfall
