// The likelihood of all readings together under one prediction.
#pragma once

#include <optional>
#include <vector>

#include "engine/diagnosis/moments.hpp"
#include "engine/readings/joint_normal.hpp"
#include "engine/readings/prediction.hpp"

namespace voltfall {

/// How a mode's predictions are told together.
enum class Story {
    plain,
    new_part,         ///< two worlds: the new part is good, or bad in the same way
    led_on,           ///< two worlds: the fault alone, or what it leads to has happened too
    intermittent,     ///< at every moment anew the fault shows, or it does not and all is healthy
    may_come_and_go,  ///< a loose contact or the like: it is always there, or intermittent
};

/// Of a fault that may come and go: how probable it is that it does, and what then brings it about.
struct Going {
    double share{0};  ///< 0 to 1; the rest is always there
    TriggerShares triggers{1};
    std::optional<double> last{};         ///< chance that it was there when last looked at, where it comes and goes
    std::optional<Trigger> last_under{};  ///< the condition of that look

    /// Chance that the fault is there while a test is taken with that condition, 0 to 1.
    double there(std::optional<Trigger> condition) const { return 1 - share * (1 - shows(condition)); }
    /// The same of one that comes and goes.
    double shows(std::optional<Trigger> condition) const;
};

class Scorer {
public:
    explicit Scorer(const Questions& questions);
    const Questions& questions() const { return questions_; }

    /// What can be kept while only the means move a little: which numbers are weighed together, and their normal.
    struct Prepared {
        std::vector<std::size_t> joint;  ///< number observations in the normal
        std::optional<JointNormal> normal;
    };
    Prepared prepare(const Prediction& prediction) const { return prepare(prediction, std::nullopt); }

    /// Logarithm of the likelihood; `wrong`, if given, receives by reading the chance that it is wrong.
    double score(const Prediction& prediction, const Prepared& prepared, std::vector<double>* wrong = nullptr) const;
    double score(const Prediction& prediction) const { return score(prediction, prepare(prediction)); }
    /// The two predictions of a story as one likelihood.
    double score(Story story, const Prediction& first, const Prediction& second) const;

    /// Does the fault come and go, given the readings, and how? `shows` and `hides` are what it predicts while it is
    /// there and while it is away.
    Going going_of(Story story, const Prediction& shows, const Prediction& hides) const;

    /// Likelihood of the readings when the cause is none of the catalogue: any value, any word.
    double score_of_none() const;
    /// Logarithm of one reading's own likelihood, others unseen (for reasons).
    double score_of_reading(const Prediction& prediction, std::size_t reading) const;

    /// Where the reading's number lies against its prediction.
    struct Residual {
        double predicted{};
        double residual{};  ///< read less predicted
        double sigma{};
    };
    Residual residual(const Prediction& prediction, std::size_t number) const;
    /// The same with all other numbers known.
    Residual residual_given_others(const Prediction& prediction, const Prepared& prepared, std::size_t number) const;

private:
    /// What a person says of one thing, in one line or in several: a word is right or wrong for all its positions at
    /// once, because one idea of "slow" stands behind it.
    struct Statement {
        std::vector<std::size_t> words;     ///< word observations
        std::vector<std::size_t> readings;  ///< that say it
    };
    void collect_statements();
    using StateFilter = std::optional<std::size_t>;
    Prepared prepare(const Prediction& prediction, StateFilter state) const;
    double score_numbers(const Prediction& prediction, const Prepared& prepared, StateFilter state,
                         std::vector<double>* wrong) const;
    double alone(const NumberObservation& number, const Prediction& prediction, double* wrong) const;
    enum class Stays { always, comes_and_goes };
    static Stays stays(const Prediction& prediction);
    double say(const Statement& statement, const Prediction& prediction, Stays stays, double* wrong) const;
    /// The look that a handled one changed: the nearest before of the same thing in one of its states, else one that is
    /// told to be so sometimes.
    std::optional<std::size_t> look_beside(const std::vector<Moment>& moments,
                                           const std::vector<const Statement*>& looks, std::size_t of) const;
    bool is_handled_here(const Statement& statement, const Prediction& prediction) const;
    double score_lasting(const Prediction& prediction) const;
    double score_coming_and_going(const Prediction& shows, const Prediction& hides) const;
    /// All that was looked at and measured, as moments.
    struct Moments {
        std::vector<Moment> list;  ///< what was measured, then what was seen
        double lasting{};          ///< ln of what is told of things that stay as they are

        double score(Trigger trigger) const;
        bool name_conditions() const;
    };
    std::optional<std::size_t> first_number_in(std::size_t state) const;
    Moments moments_of(const Prediction& shows, const Prediction& hides) const;
    void add_measured(const Prediction& shows, const Prediction& hides, std::vector<Moment>& moments) const;
    /// Gives ln of what is told of things that stay as they are.
    double add_seen(const Prediction& shows, const Prediction& hides, std::vector<Moment>& moments) const;
    std::size_t state_of(const NumberObservation& number) const;
    bool is_amps(const NumberObservation& number) const;

    const Questions& questions_;
    std::vector<Statement> statements_;
};

/// Chance of the second world of a story that holds for all readings together (`new_part`, `led_on`).
double second_world(Story story);

/// A new part may be as bad as the old one (ASSUMED).
inline constexpr double new_part_is_bad = 0.05;
/// A loose or worn contact is always open, or always poor, as often as it comes and goes (ASSUMED).
inline constexpr double lasting_though_loose = 0.5;

}  // namespace voltfall
