// What one suspected fault says each reading should be, with its spread.
#pragma once

#include <span>
#include <vector>

#include "engine/courses/consequences.hpp"
#include "engine/readings/solved_case.hpp"
#include "engine/readings/triggers.hpp"

namespace voltfall {

/// Means and spreads of everything asked, under one suspect at one size and place.
struct Prediction {
    bool ok{false};
    bool comes_and_goes{false};      ///< the fault is of a kind that shows only now and then
    TriggerShares triggers{1};       ///< how it then comes about
    std::vector<char> handled_here;  ///< by job state: somebody wiggled or tapped where the fault sits
    double signature{0};             ///< equal for cases whose relays, fuses, rotors and cut-off joints stand alike
    std::vector<double> mean;        ///< by cell
    std::vector<double> variance;    ///< by cell: parts, supply and the model's own error; not the instrument's
    std::vector<double> supply_variance;  ///< by cell: the share of the unknown supply in it
    std::vector<double> covariance;       ///< between the first cells of the number observations, row by row
    std::vector<double> words;            ///< by word observation: P(word | this case)
};

/// Are the spreads of numbers worked out? That costs far more than their means.
enum class Predicting { means, spreads_too };

/// Solves cases and turns them into predictions. Where a fault leads to nothing, `World::later` is `as_stated`.
class Predictor {
public:
    /// `dictionary`, if there is one, is of the questions' circuit and is asked first.
    Predictor(Simulator& simulator, const Questions& questions, Dictionary* dictionary = nullptr);

    /// One prediction a trial of the mode; null is the healthy circuit. Sizes asked for together are solved in one
    /// sweep. Without spreads the means are those at the EMF that the cases are solved at, the rest stays empty.
    std::vector<Prediction> predict_all(const FaultMode* mode, std::span<const Trial> trials,
                                        Predicting what = Predicting::spreads_too) const;
    Prediction predict(const FaultMode* mode, const Trial& trial) const {
        return std::move(predict_all(mode, std::span(&trial, 1)).front());
    }
    /// Has the case confirmed by the simulator of record, as the meter finds it in these states of the questions (all
    /// where none is named): before a person sees what the mode would read. Throws as `Simulator::confirm` does.
    void confirm(const FaultMode* mode, const Trial& trial, std::span<const std::size_t> states = {}) const;
    /// What faults lead to in this circuit.
    const Consequences& consequences() const { return *consequences_; }
    /// The healthy circuit in each state that is read (for words: what should have been).
    const SolvedCase& healthy() const { return healthy_; }

private:
    std::vector<SolvedCase> solve(const FaultMode* mode, std::span<const Trial> trials) const;
    Prediction prediction_of(const FaultMode* mode, const SolvedCase& solved) const;
    Prediction means_of(const FaultMode* mode, const SolvedCase& solved) const;
    std::vector<double> words_of(const FaultMode* mode, const SolvedCase& solved, std::span<const double> means) const;
    /// Of two faults at once, the one that a look or a smell tells more of counts.
    void tell_words_of(const FaultMode& second, const SolvedCase& solved, Prediction& p) const;
    /// A word of an earlier time, when the fault need not have been what it is: `now` is its probability if it was.
    double earlier_word(const WordObservation& word, double now) const;
    std::vector<double> sound_volts() const;

    Simulator& simulator_;
    const Questions& questions_;
    Dictionary* dictionary_;
    std::shared_ptr<const Consequences> consequences_;
    SolvedCase healthy_;
};

/// Own error of the model, one sigma, beside tolerances: a motor's curve, a warm wire (ASSUMED). Its relative part is
/// nearly the same at neighbouring points of one state.
double model_sigma(bool is_amps, double value);
double relative_model_sigma(bool is_amps, double value);

}  // namespace voltfall
