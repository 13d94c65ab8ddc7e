#include "engine/diagnosis/solved_case.hpp"

#include <algorithm>

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

/// Everything that one case needs while it is solved.
struct Run {
    Simulator& simulator;
    const Questions& questions;
    std::vector<Fault> faults;
    World world;
    bool sets_supply;

    State state(std::size_t index) const {
        const JobState& job_state = questions.states[index];
        State state = job_state.state;
        if (world == World::new_part_bad) state.fitted_new.clear();
        if (sets_supply) {
            state.supply_volts.reset();
            // Where no key word tells whether the engine ran, a weak battery is judged with the engine off.
            const bool key_told = questions.supplies[job_state.supply].key.find('?') == std::string::npos;
            if (!key_told && state.key == KeyPosition::run) state.key = KeyPosition::on;
        }
        return state;
    }
    std::optional<Course> course(std::size_t index, std::span<const PartId> opened) const {
        CourseResult result = run_course(simulator, *questions.circuit, state(index), faults, opened);
        if (!result) return std::nullopt;
        return std::move(*result);
    }
};

std::vector<bool> states_read(const Questions& questions) {
    std::vector<bool> needed(questions.states.size(), false);
    for (const Cell& cell : questions.cells) needed[cell.state] = true;
    for (const WordObservation& word : questions.words) {
        // An ohmmeter drives its own current: nothing of the fed circuit is asked.
        const Measurement& m = questions.reading(word.reading).measurement;
        if (std::holds_alternative<OhmsReading>(m) || std::holds_alternative<BeepReading>(m)) continue;
        for (const auto& [weight, state] : word.states) needed[state] = true;
    }
    return needed;
}

/// A fuse that was seen good and would go only after a while was still whole when the reading was taken.
bool read_before_it_opened(const Questions& questions, const Course& course) {
    constexpr double a_while = 3;  // seconds in which a meter is read (ASSUMED)
    return !course.aftermath.empty() &&
           std::all_of(course.aftermath.begin(), course.aftermath.end(), [&](const Event& event) {
               return contains(questions.fuses_seen_good, event.part) && event.seconds > a_while;
           });
}

bool read_state(const Run& run, std::size_t index, SolvedCase& solved) {
    const JobState& job_state = run.questions.states[index];
    std::vector<PartId> opened;
    if (!job_state.earlier) {
        for (const PartId part : solved.opened) {
            if (!contains(job_state.state.fitted_new, part)) opened.push_back(part);
        }
    }
    std::optional<Course>& alone = solved.courses[index];
    const bool same_as_alone =
        alone && std::all_of(opened.begin(), opened.end(), [&](PartId part) { return contains(alone->opened, part); });
    std::optional<Course> again;
    if (!same_as_alone) {
        again = run.course(index, opened);
        if (!again) return false;
    }
    Course& course = again ? *again : *alone;
    if (!alone) alone = course;
    const bool at_once = job_state.new_fuse || read_before_it_opened(run.questions, course);
    solved.read[index] = at_once ? course.faulted : course.end();
    return true;
}

}  // namespace

bool SolvedCase::has_opened(PartId part) const {
    return contains(opened, part);
}

SolvedCase solve_case(Simulator& simulator, const Questions& questions, const FaultMode* mode, double size,
                      double where, World world, std::span<const Fault> also) {
    Run run{simulator, questions, {also.begin(), also.end()}, world, false};
    if (mode && world != World::healthy) {
        Fault fault;
        fault.mode = shared(*questions.circuit, *mode);
        fault.size = size;
        fault.where = where;
        run.faults.push_back(std::move(fault));
        run.sets_supply = sets_supply(*questions.circuit, *mode);
    }
    SolvedCase solved;
    solved.faults = run.faults;
    solved.courses.resize(questions.states.size());
    solved.read.resize(questions.states.size());
    for (std::size_t i = 0; i < questions.states.size(); ++i) {
        if (!questions.states[i].names_blowing) continue;
        solved.courses[i] = run.course(i, {});
        if (!solved.courses[i]) return solved;
        merge(solved.opened, solved.courses[i]->opened);
    }
    std::erase_if(solved.opened, [&](PartId part) { return contains(questions.fuses_seen_good, part); });
    const std::vector<bool> needed = states_read(questions);
    for (std::size_t i = 0; i < questions.states.size(); ++i) {
        if (needed[i] && !read_state(run, i, solved)) return solved;
    }
    for (const WordObservation& word : questions.words) {
        for (const std::size_t i : word.blown_at) {
            if (!solved.courses[i] && !(solved.courses[i] = run.course(i, {}))) return solved;
        }
    }
    solved.ok = true;
    return solved;
}

bool new_part_matters(const Questions& questions, const FaultMode& mode) {
    Fault fault;
    fault.mode = shared(*questions.circuit, mode);
    if (mode.size) fault.size = mode.size->usual;
    for (const JobState& job_state : questions.states) {
        if (job_state.state.fitted_new.empty()) continue;
        State without = job_state.state;
        without.fitted_new.clear();
        if (present(*questions.circuit, fault, without) && !present(*questions.circuit, fault, job_state.state))
            return true;
    }
    return false;
}

bool sets_supply(const Circuit& circuit, const FaultMode& mode) {
    if (mode.fault_class != FaultClass::battery) return false;
    const std::vector<Change> changes = mode.changes(mode.size ? mode.size->usual : 0, 0.5);
    return std::any_of(changes.begin(), changes.end(), [&](const Change& change) {
        const auto* law = std::get_if<SetLaw>(&change);
        return law && std::holds_alternative<Source>(law->law) && circuit.branch(law->branch).part == circuit.battery;
    });
}

}  // namespace voltfall
