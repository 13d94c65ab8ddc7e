#include "engine/diagnosis/weighing.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>
#include <stdexcept>

#include "engine/diagnosis/calibration.hpp"
#include "engine/diagnosis/carried_current.hpp"
#include "engine/diagnosis/moments.hpp"
#include "engine/diagnosis/pairs.hpp"
#include "engine/diagnosis/refining.hpp"
#include "engine/readings/word_evidence.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr double minus_infinity = -std::numeric_limits<double>::infinity();
/// Every suspect is solved at every second size of the grid and, along a wire, in the middle; those whose weight comes
/// within this of the best (in ln), or might between two sizes where something switches, get the whole grid of sizes
/// and places.
constexpr double still_counts = 14;
/// What a fault leads to is told where the readings speak for it by this much (ln 2).
constexpr double clearly_better = 0.7;
/// Suspects whose sizes are searched more finely, and how often.
constexpr std::size_t refined_suspects = 10;
constexpr int refining_rounds = 3;
/// Likelihoods (ln) that differ by no more are equal: a solver's last digits do not decide.
constexpr double same_likelihood = 1e-6;
/// No single fault fits well where none of them is this probable, or where a reading is wrong with this probability.
constexpr double poor_none = 0.15;
constexpr double poor_reading = 0.5;
/// Two faults at once are then told from this probability on.
constexpr double worth_suggesting = 0.05;

bool one_fits_poorly(const Weighed& weighed) {
    return weighed.none > poor_none ||
           std::any_of(weighed.wrong.begin(), weighed.wrong.end(), [](double wrong) { return wrong > poor_reading; });
}

void forget_pairs(Weighed& weighed) {
    weighed.pairs.clear();
    weighed.pairs_weighed = false;
    weighed.share_of_singles = 1;
}

/// One size to solve, at one of a suspect's places.
struct Task {
    std::size_t curve{};
    double at{};
    double size{};
};

class Weigher {
public:
    Weigher(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options)
        : simulator_(simulator),
          circuit_(circuit),
          job_(job),
          options_(options),
          weighed_(std::make_unique<Weighed>()) {
        weighed_->questions = make_questions(simulator, circuit, job);
    }

    std::unique_ptr<Weighed> run() {
        const Questions& questions = weighed_->questions;
        predictor_ = &*(weighed_->predictor = std::make_unique<Predictor>(simulator_, questions, options_.dictionary));
        if (!predictor_->healthy().ok)
            throw std::runtime_error("the sound circuit has no solution in a state that the readings name");
        scorer_.emplace(questions);
        hidden_ = predictor_->predict(nullptr, {});
        list_suspects();
        std::vector<std::size_t> all(weighed_->suspects.size());
        std::iota(all.begin(), all.end(), std::size_t{0});
        for_suspects(all, [&](std::size_t i) { return grid(i, middle_curve(i), [](int k) { return k % 2 == 0; }); });
        for_suspects(still_counting(), [&](std::size_t i) { return rest_of_grid(i); });
        for (int round = 0; round < refining_rounds; ++round) refine();
        finish();
        return std::move(weighed_);
    }

private:
    void list_suspects() {
        const CauseShares& causes = options_.causes ? *options_.causes : CauseShares::usual();
        const Priors priors = priors_of(circuit_, job_, carried_amps(simulator_, circuit_), causes);
        prior_none_ = priors.none;
        weighed_->suspects.emplace_back().prior = priors.nothing;
        for (std::size_t i = 0; i < circuit_.modes.size(); ++i) {
            const FaultMode& mode = *circuit_.modes[i];
            if (!mode.catalogued || priors.modes[i] <= 0) continue;
            Suspect& suspect = weighed_->suspects.emplace_back();
            suspect.mode = &mode;
            suspect.prior = priors.modes[i];
            suspect.story = story_of(mode);
        }
        for (Suspect& suspect : weighed_->suspects) {
            const bool along = suspect.mode && suspect.mode->along_wire;
            const auto places = along ? static_cast<int>(default_value("grid_places")) : 1;
            for (int place = 0; place < places; ++place) {
                SizeCurve& curve = suspect.curves.emplace_back();
                curve.where = (place + 0.5) / places;
                curve.share = 1.0 / places;
                if (!suspect.mode || !suspect.mode->size) continue;
                const SizeRange& range = *suspect.mode->size;
                curve.logarithmic = range.logarithmic;
                curve.range = scale_of(range, range.high) - scale_of(range, range.low);
            }
        }
    }

    /// A loose joint counts as one that comes and goes only where the job tells of moments: what is so sometimes, in a
    /// condition, or while something is handled.
    Story story_of(const FaultMode& mode) const {
        const bool moments = tells_of_moments(weighed_->questions);
        if (mode.is(ModeFact::only_sometimes)) return Story::intermittent;
        if (moments && mode.is(ModeFact::may_touch)) return Story::may_come_and_go;
        if (new_part_matters(weighed_->questions, mode)) return Story::new_part;
        return predictor_->consequences().possible(mode) ? Story::led_on : Story::plain;
    }

    double weight(std::size_t i) const {
        return weighed_->suspects[i].log_evidence + std::log(weighed_->suspects[i].prior);
    }

    /// The weight that the suspect may have at sizes not solved yet.
    double possible_weight(std::size_t i) const {
        const Suspect& suspect = weighed_->suspects[i];
        double possible = weight(i);
        for (const SizeCurve& curve : suspect.curves) {
            if (const auto gap = best_gap(curve, *scorer_, suspect.story)) {
                possible = std::max(possible, gap->bound + std::log(suspect.prior));
            }
        }
        return possible;
    }

    std::vector<Task> rest_of_grid(std::size_t i) const {
        std::vector<Task> tasks;
        for (std::size_t c = 0; c < weighed_->suspects[i].curves.size(); ++c) {
            std::ranges::move(grid(i, c, [&](int k) { return c != middle_curve(i) || k % 2 != 0; }),
                              std::back_inserter(tasks));
        }
        return tasks;
    }

    std::size_t middle_curve(std::size_t i) const { return weighed_->suspects[i].curves.size() / 2; }

    std::vector<std::size_t> still_counting() const {
        double best = minus_infinity;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) best = std::max(best, weight(i));
        std::vector<std::size_t> left;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            if (possible_[i] > best - still_counts) left.push_back(i);
        }
        return left;
    }

    /// The sizes of the grid at one place, those that `wanted` takes.
    template <class Wanted>
    std::vector<Task> grid(std::size_t suspect, std::size_t curve, const Wanted& wanted) const {
        const FaultMode* mode = weighed_->suspects[suspect].mode;
        std::vector<Task> tasks;
        if (!mode || !mode->size) {
            if (wanted(0)) tasks.push_back({curve, 0, 0});
            return tasks;
        }
        const auto sizes = static_cast<int>(default_value("grid_sizes"));
        const double low = scale_of(*mode->size, mode->size->low);
        const double high = scale_of(*mode->size, mode->size->high);
        for (int k = 0; k < sizes; ++k) {
            const double at = low + (high - low) * k / (sizes - 1);
            if (wanted(k)) tasks.push_back({curve, at, size_of(*mode->size, at)});
        }
        return tasks;
    }

    /// Solves and weighs suspects, each on one worker: what is solved of a suspect does not depend on the others.
    template <class TasksOf>
    void for_suspects(const std::vector<std::size_t>& suspects, const TasksOf& tasks_of) {
        possible_.resize(weighed_->suspects.size(), minus_infinity);
        run_jobs(
            suspects.size(), options_.workers,
            [&](std::size_t job) {
                const std::size_t i = suspects[job];
                const std::vector<Task> tasks = tasks_of(i);
                if (tasks.empty()) return;
                solve(weighed_->suspects[i], tasks);
                weigh_suspect(i);
                possible_[i] = possible_weight(i);
            },
            options_.progress, "weighing");
    }

    void solve(Suspect& suspect, const std::vector<Task>& tasks) const {
        const bool two = suspect.story == Story::new_part || suspect.story == Story::led_on;
        const World second = suspect.story == Story::new_part ? World::new_part_bad : World::later;
        std::vector<Trial> trials;
        for (const Task& task : tasks) trials.push_back({task.size, suspect.curves[task.curve].where});
        for (const Task& task : tasks) {
            if (two) trials.push_back({task.size, suspect.curves[task.curve].where, second});
        }
        std::vector<Prediction> predictions = predictor_->predict_all(suspect.mode, trials);
        for (std::size_t k = 0; k < tasks.size(); ++k) {
            CurvePoint point{tasks[k].at, tasks[k].size, {}};
            point.worlds[0] = std::move(predictions[k]);
            if (two) point.worlds[1] = std::move(predictions[tasks.size() + k]);
            if (suspect.story == Story::intermittent || suspect.story == Story::may_come_and_go)
                point.worlds[1] = hidden_;
            suspect.curves[tasks[k].curve].insert(std::move(point));
        }
    }

    void weigh_suspect(std::size_t index) {
        Suspect& suspect = weighed_->suspects[index];
        suspect.pieces.clear();
        suspect.log_evidence = minus_infinity;
        suspect.best.log_likelihood = minus_infinity;
        double solved = 0;  // share of the wire
        for (const SizeCurve& curve : suspect.curves) solved += curve.points.empty() ? 0 : curve.share;
        for (SizeCurve& curve : suspect.curves) {
            for (Piece& piece : weigh_curve(curve, *scorer_, suspect.story)) {
                piece.log_share += std::log(curve.share / solved);
                suspect.log_evidence = log_add(suspect.log_evidence, piece.log_mass());
                // Where the readings do not narrow the size, the first of its pieces stands for all.
                if (piece.log_likelihood > suspect.best.log_likelihood + same_likelihood) suspect.best = piece;
                suspect.pieces.push_back(piece);
            }
        }
    }

    /// The suspects with a size that lead, or would if what lies unsolved between two sizes were as good as it can be.
    std::vector<std::size_t> leading() const {
        std::vector<std::pair<double, std::size_t>> order;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            const Suspect& suspect = weighed_->suspects[i];
            if (!suspect.mode || !suspect.mode->size) continue;
            if (possible_[i] > minus_infinity) order.emplace_back(-possible_[i], i);
        }
        std::sort(order.begin(), order.end());
        if (order.size() > refined_suspects) order.resize(refined_suspects);
        std::vector<std::size_t> leading;
        for (const auto& [possible, i] : order) leading.push_back(i);
        return leading;
    }

    /// Solves the leading suspects again around the peak of their weight, in size and in place.
    void refine() {
        for_suspects(leading(), [&](std::size_t i) {
            Suspect& suspect = weighed_->suspects[i];
            split_best_place(suspect);
            std::vector<Task> tasks;
            for (std::size_t c = 0; c < suspect.curves.size(); ++c) {
                for (const double at : sizes_to_solve(suspect, suspect.curves[c], *scorer_))
                    tasks.push_back({c, at, size_of(*suspect.mode->size, at)});
            }
            return tasks;
        });
    }

    void finish() {
        std::vector<double> logs;
        for (const Suspect& suspect : weighed_->suspects) {
            logs.push_back(suspect.log_evidence + std::log(suspect.prior));
            if (suspect.log_evidence == minus_infinity) ++weighed_->failed;
        }
        logs.push_back(scorer_->score_of_none() + std::log(prior_none_));
        const std::vector<double> weights =
            calibrated(circuit_, weighed_->suspects, weights_of_logs(logs), calibrating_power());
        weighed_->none = weights.back();
        weighed_->wrong.assign(job_.readings.size(), 0.0);
        std::vector<double> wrong;
        // By reading, while what comes and goes is away.
        std::vector<double> wrong_away;
        if (hidden_.ok) scorer_->score(hidden_, scorer_->prepare(hidden_), &wrong_away);
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            Suspect& suspect = weighed_->suspects[i];
            suspect.probability = weights[i];
            if (suspect.log_evidence == minus_infinity) continue;
            choose_world(suspect);
            if (!suspect.at_best.ok || suspect.probability < 1e-4) continue;
            scorer_->score(suspect.at_best, scorer_->prepare(suspect.at_best), &wrong);
            for (std::size_t k = 0; k < wrong.size(); ++k) {
                // A reading as of the sound circuit is right where the fault was away.
                const double away = k < wrong_away.size() ? std::min(wrong[k], wrong_away[k]) : wrong[k];
                const double goes = suspect.going.share;
                weighed_->wrong[k] += suspect.probability * ((1 - goes) * wrong[k] + goes * away);
            }
        }
    }

    /// Numbers have densities of their own; it is words whose tables are counted one by one. Once a number is read,
    /// chances are plain Bayes.
    double calibrating_power() const {
        const Questions& questions = weighed_->questions;
        const bool words_alone = !questions.words.empty() && questions.numbers.empty();
        return options_.calibrated && words_alone ? default_value("words_power") : 1;
    }

    /// What the suspect predicts at its best fit, in the world that the readings speak for.
    void choose_world(Suspect& suspect) const {
        suspect.at_best = predict_between(suspect.best_curve(), suspect.best.at, 0);
        if (suspect.at_best.ok && hidden_.ok)
            suspect.going = scorer_->going_of(suspect.story, suspect.at_best, hidden_);
        if (suspect.story != Story::led_on) return;
        const Prediction later = predict_between(suspect.best_curve(), suspect.best.at, 1);
        suspect.led_on =
            later.ok && suspect.at_best.ok && scorer_->score(later) > scorer_->score(suspect.at_best) + clearly_better;
        if (!suspect.led_on) return;
        suspect.at_best = later;
        for (const Fault& fault : predictor_->consequences().of(*suspect.mode, suspect.best.size))
            suspect.led_to.push_back(fault.mode);
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    const Job& job_;
    const MatchOptions& options_;
    std::unique_ptr<Weighed> weighed_;
    const Predictor* predictor_{nullptr};
    std::optional<Scorer> scorer_;
    Prediction hidden_;             ///< what is read while a fault that comes and goes is away
    std::vector<double> possible_;  ///< by suspect: the weight that it may have at sizes not solved yet
    double prior_none_{0};
};

}  // namespace

std::unique_ptr<Weighed> weigh(Simulator& simulator, const Circuit& circuit, const Job& job,
                               const MatchOptions& options) {
    std::unique_ptr<Weighed> weighed = Weigher(simulator, circuit, job, options).run();
    const bool suggested = options.two_where_one_fits_poorly && one_fits_poorly(*weighed);
    if (options.two_faults || suggested) add_pairs(*weighed, circuit, options);
    // What is only suggested must be worth it.
    if (!options.two_faults && (weighed->pairs.empty() || weighed->pairs.front().probability < worth_suggesting))
        forget_pairs(*weighed);
    return weighed;
}

}  // namespace voltfall
