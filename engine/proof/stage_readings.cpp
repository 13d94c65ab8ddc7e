#include "engine/proof/stage_readings.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace voltfall {

namespace {

Job with_readings(const Job& job, const std::vector<Reading>& readings) {
    Job copy = job;
    copy.readings = readings;
    copy.after.clear();
    return copy;
}

/// How far a typed range lies from the prediction, in sigmas; 0 inside it.
double sigmas_off(const NumberObservation& number, double predicted, double sigma) {
    const double below = number.value.low - predicted;
    const double above = predicted - number.value.high;
    return std::max({below, above, 0.0}) / sigma;
}

}  // namespace

bool is_plain(const State& state) {
    return state.unplugged.empty() && state.pulled.empty() && state.lamp_in.empty() && state.leads.empty();
}

bool same_position(const Circuit& circuit, const State& one, const State& other) {
    if (circuit.controls.empty()) return one.positions == other.positions;
    return std::all_of(circuit.controls.begin(), circuit.controls.end(), [&](const Control& control) {
        return one.positions[control.part.index] == other.positions[control.part.index];
    });
}

StageReadings::StageReadings(Simulator& simulator, const Circuit& circuit, const Job& job,
                             const std::vector<Reading>& readings)
    : job_(std::make_unique<Job>(with_readings(job, readings))),
      questions_(make_questions(simulator, circuit, *job_)),
      predictor_(std::make_unique<Predictor>(simulator, questions_)),
      sound_(predictor_->predict(nullptr, {})) {
    if (!sound_.ok) throw std::runtime_error("the sound circuit has no solution in a state that the readings name");
    judge_numbers();
    judge_words();
    std::stable_sort(judged_.begin(), judged_.end(),
                     [](const JudgedReading& a, const JudgedReading& b) { return a.reading < b.reading; });
}

void StageReadings::judge_numbers() {
    for (std::size_t i = 0; i < questions_.numbers.size(); ++i) {
        const NumberObservation& number = questions_.numbers[i];
        const Cell& cell = questions_.cells[number.cells.front().second];
        JudgedReading judged{&questions_.reading(number.reading), cell.state, true, std::nullopt, 0, cell.is_amps};
        double nearest = std::numeric_limits<double>::infinity();
        for (const auto& [weight, index] : number.cells) {
            const double sigma = std::hypot(std::sqrt(sound_.variance[index]), number.sigma);
            const double off = sigmas_off(number, sound_.mean[index], sigma);
            if (off >= nearest) continue;
            nearest = off;
            judged.expected = sound_.mean[index];
            judged.state = questions_.cells[index].state;
        }
        judged.sound = nearest <= sound_sigmas;
        if (number.exact()) judged.read = number.value.low;
        // A supply is what it is: it is held against nothing here.
        if (reads_supply(*questions_.circuit, judged.reading->measurement)) judged.sound = true;
        judged_.push_back(judged);
    }
}

void StageReadings::judge_words() {
    for (std::size_t i = 0; i < questions_.words.size(); ++i) {
        const WordObservation& word = questions_.words[i];
        JudgedReading judged;
        judged.reading = &questions_.reading(word.reading);
        if (!word.states.empty()) judged.state = word.states.front().second;
        judged.sound = sound_.words[i] >= sound_word;
        judged_.push_back(judged);
    }
}

const State* StageReadings::state_of(const JudgedReading& judged) const {
    return judged.state ? &questions_.states[*judged.state].state : nullptr;
}

bool StageReadings::stands_in(const JudgedReading& judged, const State& state) const {
    const State* own = state_of(judged);
    return own != nullptr && is_plain(*own) && same_position(*questions_.circuit, *own, state);
}

const Settled& StageReadings::sound_at(const JudgedReading& judged) const {
    // There is one in every state that the readings name, or they would not have been judged.
    return *predictor_->healthy().read[judged.state.value()];
}

std::optional<double> StageReadings::supply_read(const JudgedReading& judged) const {
    const std::size_t supply = questions_.states[judged.state.value()].supply;
    for (const JudgedReading& other : judged_) {
        // A number always has its state.
        if (!other.read || questions_.states[other.state.value()].supply != supply) continue;
        if (reads_supply(*questions_.circuit, other.reading->measurement)) return other.read;
    }
    return std::nullopt;
}

double StageReadings::speaks_against(const FaultMode& mode, const Trial& trial) const {
    const Scorer scorer(questions_);
    const Prediction fault = predictor_->predict(&mode, trial);
    if (!fault.ok) return 0;
    return scorer.score(sound_) - scorer.score(fault);
}

}  // namespace voltfall
