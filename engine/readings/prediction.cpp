#include "engine/readings/prediction.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <optional>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/cells_together.hpp"
#include "engine/readings/handling.hpp"
#include "engine/readings/measurement_facts.hpp"
#include "engine/readings/word_evidence.hpp"
#include "engine/solve/linear_circuit.hpp"

namespace voltfall {

namespace {

/// An EMF that the fault itself sets is still not known better than this, volts (ASSUMED).
constexpr double set_supply_sigma = 0.1;

// What was seen earlier: the fault was there as it is now; it was not there yet; or it has become another since, such
// as a contact that burnt open and then welded (ASSUMED).
constexpr double as_it_is_now = 0.5;
constexpr double not_yet_there = 0.35;

class Hash {
public:
    void add(std::uint64_t value) { value_ ^= value + 0x9e3779b97f4a7c15ULL + (value_ << 6) + (value_ >> 2); }
    std::uint64_t value() const { return value_; }
    /// 52 bits, so that a double holds it.
    double number() const { return static_cast<double>(value_ >> 12); }

private:
    std::uint64_t value_{1469598103934665603ULL};
};

std::uint64_t stand_of(const Settled& settled) {
    Hash hash;
    for (const bool pulled : settled.relay_pulled) hash.add(pulled ? 1 : 2);
    // A fuse that takes its time may stand whole in one size's reading and open in the next one's.
    for (const Part& part : settled.network.circuit->parts) {
        if (part.fuse) hash.add(settled.network.at(part.fuse->element).open ? 7 : 8);
    }
    for (const NetworkBranch& branch : settled.network.branches) {
        if (sort_of(branch.law) == LawSort::motor) hash.add(branch.turning == Turning::standing ? 3 : 4);
    }
    return hash.value();
}

/// A meter's 10 Mohm pull a joint that nothing else holds to the other lead.
bool reads_nothing(const Cell& cell, const Settled& settled) {
    if (cell.is_amps) return !std::isfinite(settled.point.amps[cell.branch.index]);
    return settled.floats(cell.red) || settled.floats(cell.black);
}

/// With its sign, V or A.
double mean_of(const Cell& cell, const Settled& settled) {
    if (reads_nothing(cell, settled)) return 0;
    if (cell.is_amps) return settled.point.amps[cell.branch.index];
    return settled.point.volts[cell.red.index] - settled.point.volts[cell.black.index];
}

CellValue volts_cell(const Cell& cell, const Settled& settled, const LinearCircuit& linear) {
    CellValue value;
    if (reads_nothing(cell, settled)) {
        value.own_sigma = untouched_sigma;
        return value;
    }
    value.mean = mean_of(cell, settled);
    const ReadingSlope slope = linear.volts(cell.red, cell.black);
    value.slope = slope.tolerance;
    value.supply = slope.supply;
    return value;
}

CellValue amps_cell(const Cell& cell, const Settled& settled, const LinearCircuit& linear) {
    CellValue value;
    if (reads_nothing(cell, settled)) return value;
    value.mean = mean_of(cell, settled);
    const ReadingSlope slope = linear.amps(cell.branch);
    value.slope = slope.tolerance;
    value.supply = slope.supply;
    return value;
}

/// The value of a cell, from what was read there before where that is kept. `linear` is made when it is first needed.
std::shared_ptr<const CellValue> cell_value(const Cell& cell, const SettledRef& read, CellValues* known,
                                            std::optional<LinearCircuit>& linear) {
    const CellPlace place{cell.red, cell.black, cell.is_amps ? cell.branch : BranchId{}};
    if (known) {
        if (auto value = known->find(place)) return value;
    }
    const Settled& settled = *read;
    if (!linear) linear.emplace(settled.network, settled.point);
    auto value = std::make_shared<const CellValue>(cell.is_amps ? amps_cell(cell, settled, *linear)
                                                                : volts_cell(cell, settled, *linear));
    if (known) known->keep(place, value);
    return value;
}

}  // namespace

double relative_model_sigma(bool is_amps, double value) {
    return (is_amps ? 0.02 : 0.005) * value;
}

double model_sigma(bool is_amps, double value) {
    return std::hypot(is_amps ? 0.05 : 0.01, relative_model_sigma(is_amps, value));
}

Predictor::Predictor(Simulator& simulator, const Questions& questions, Dictionary* dictionary)
    : simulator_(simulator),
      questions_(questions),
      dictionary_(dictionary),
      consequences_(dictionary ? dictionary->consequences()
                               : std::make_shared<const Consequences>(simulator, *questions.circuit)),
      healthy_(solve_sound(simulator, questions, dictionary)) {}

std::vector<SolvedCase> Predictor::solve(const FaultMode* mode, std::span<const Trial> trials) const {
    std::vector<Trial> laid(trials.begin(), trials.end());
    std::vector<std::vector<Fault>> also(trials.size());
    for (std::size_t t = 0; t < laid.size(); ++t) {
        if (laid[t].world != World::later) continue;
        also[t].assign(laid[t].also.begin(), laid[t].also.end());
        if (mode) std::ranges::move(consequences_->of(*mode, laid[t].size), std::back_inserter(also[t]));
        laid[t].also = also[t];
        laid[t].world = World::as_stated;
    }
    return solve_cases(simulator_, questions_, mode, laid, dictionary_);
}

std::vector<Prediction> Predictor::predict_all(const FaultMode* mode, std::span<const Trial> trials,
                                               Predicting what) const {
    const std::vector<SolvedCase> solved = solve(mode, trials);
    std::vector<Prediction> predictions(trials.size());
    for (std::size_t t = 0; t < trials.size(); ++t) {
        if (!solved[t].ok) continue;
        predictions[t] = what == Predicting::means ? means_of(mode, solved[t]) : prediction_of(mode, solved[t]);
        for (const Fault& second : trials[t].also) tell_words_of(*second.mode, solved[t], predictions[t]);
    }
    return predictions;
}

Prediction Predictor::means_of(const FaultMode* mode, const SolvedCase& solved) const {
    Prediction p;
    p.ok = true;
    p.mean.reserve(questions_.cells.size());
    for (const Cell& cell : questions_.cells) {
        const double mean = mean_of(cell, *solved.read[cell.state]);
        p.mean.push_back(cell.any_sign ? std::abs(mean) : mean);
    }
    p.words = words_of(mode, solved, p.mean);
    return p;
}

std::vector<double> Predictor::words_of(const FaultMode* mode, const SolvedCase& solved,
                                        std::span<const double> means) const {
    std::vector<double> words;
    words.reserve(questions_.words.size());
    LastOhms ohms;
    const WordContext context{questions_, solved, healthy_, mode, means, &ohms};
    for (const WordObservation& word : questions_.words) {
        const double now = word_probability(word, context);
        words.push_back(questions_.reading(word.reading).state.earlier ? earlier_word(word, now) : now);
    }
    return words;
}

void Predictor::tell_words_of(const FaultMode& second, const SolvedCase& solved, Prediction& p) const {
    const auto tells = [](double by_fault, double without) {
        constexpr double least = 1e-9;
        return std::abs(std::log(std::max(by_fault, least)) - std::log(std::max(without, least)));
    };
    for (std::size_t i = 0; i < p.words.size(); ++i) {
        const WordObservation& word = questions_.words[i];
        const Reading& reading = questions_.reading(word.reading);
        // How things go is solved with both faults; only what one of them leaves behind is told by its kind.
        if (facts_of(reading.measurement).of_a_moment || reading.state.earlier) continue;
        const double without = word_probability(word, {questions_, solved, healthy_, nullptr, p.mean});
        const double by_second = word_probability(word, {questions_, solved, healthy_, &second, p.mean});
        if (tells(by_second, without) > tells(p.words[i], without)) p.words[i] = by_second;
    }
}

void Predictor::confirm(const FaultMode* mode, const Trial& trial, std::span<const std::size_t> states) const {
    const SolvedCase solved = std::move(solve(mode, std::span(&trial, 1)).front());
    for (std::size_t i = 0; i < solved.read.size(); ++i) {
        const bool asked = states.empty() || std::find(states.begin(), states.end(), i) != states.end();
        if (asked && solved.read[i]) voltfall::confirm(simulator_, *solved.read[i]);
    }
}

double Predictor::earlier_word(const WordObservation& word, double now) const {
    const std::vector<double> volts = sound_volts();
    const double sound = word_probability(word, {questions_, healthy_, healthy_, nullptr, volts});
    const double anything = facts_of(questions_.reading(word.reading).measurement).anything;
    return as_it_is_now * now + not_yet_there * sound + (1 - as_it_is_now - not_yet_there) * anything;
}

std::vector<double> Predictor::sound_volts() const {
    std::vector<double> means;
    std::vector<std::optional<LinearCircuit>> linear(questions_.states.size());
    for (const Cell& cell : questions_.cells) {
        means.push_back(
            cell_value(cell, healthy_.read[cell.state], healthy_.values[cell.state].get(), linear[cell.state])->mean);
    }
    return means;
}

Prediction Predictor::prediction_of(const FaultMode* mode, const SolvedCase& solved) const {
    Prediction p;
    p.ok = true;
    p.comes_and_goes = mode && mode->is(ModeFact::may_touch);
    if (mode) p.triggers = trigger_shares(*mode);
    for (const JobState& job_state : questions_.states) {
        const auto& handled = job_state.state.handled;
        p.handled_here.push_back(mode && std::any_of(handled.begin(), handled.end(), [&](const std::string& words) {
                                     return is_handled_at(*questions_.circuit, *mode, words);
                                 }));
    }
    Hash hash;
    for (const PartId part : solved.opened) hash.add(100 + part.index);
    std::vector<std::optional<LinearCircuit>> linear(questions_.states.size());
    std::vector<ToldValue> values(questions_.cells.size());
    const bool of_battery = mode && is_of_battery(*mode);
    const bool own_supply = of_battery && sets_supply(*mode);
    const auto supply_variance = [&](std::size_t state) {
        const Supply& supply = questions_.supplies[questions_.states[state].supply];
        const double sigma = own_supply ? set_supply_sigma : of_battery ? supply.emf_sigma : supply.sigma;
        return sigma * sigma;
    };
    for (std::size_t i = 0; i < questions_.states.size(); ++i) {
        if (!solved.read[i]) continue;
        CellValues* const kept = solved.values[i].get();
        const auto known = kept ? kept->stand() : std::nullopt;
        const std::uint64_t stand = known ? *known : stand_of(*solved.read[i]);
        if (kept && !known) kept->keep_stand(stand);
        hash.add(stand);
    }
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Cell& cell = questions_.cells[i];
        ToldValue& value = values[i];
        value.cell = cell_value(cell, solved.read[cell.state], solved.values[cell.state].get(), linear[cell.state]);
        value.sign = cell.any_sign && value.cell->mean < 0 ? -1 : 1;
        hash.add(value.cell->slope.empty() ? 5 : 6);
        const Supply& supply = questions_.supplies[questions_.states[cell.state].supply];
        // A fault of the battery is solved at the EMF itself, whatever was read between the posts.
        const double shift = of_battery ? 0 : supply.mean - supply.solved_at;
        const double own = std::hypot(value.cell->own_sigma, model_sigma(cell.is_amps, value.mean()));
        p.mean.push_back(value.mean() + value.supply() * shift);
        p.supply_variance.push_back(value.supply() * value.supply() * supply_variance(cell.state));
        p.variance.push_back(covariance(value, value, supply_variance(cell.state)) + own * own);
    }
    fill_covariance(questions_, values, supply_variance, p);
    know_given(questions_, values, supply_variance, p);
    p.words = words_of(mode, solved, p.mean);
    p.signature = hash.number();
    return p;
}

}  // namespace voltfall
