#include "engine/diagnosis/pairs.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "engine/readings/rounding.hpp"
#include "engine/solve/jobs.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Suspects that may be one of two: the most probable, and those that explain a single reading best.
constexpr std::size_t most_probable = 12;
constexpr std::size_t best_of_reading = 5;
constexpr std::size_t most_members = 30;
/// Sizes tried of each, as shares of its range on its scale; then around the best ones, in steps that halve.
constexpr std::array<double, 3> first_shares{1.0 / 6, 0.5, 5.0 / 6};
constexpr std::size_t refined_pairs = 12;
constexpr std::size_t near_pairs = 12;   // that would come nearest if sizes fitted
constexpr int pair_refining_rounds = 9;  // until a step is some thousandths of a size
/// Sizes whose likelihood (ln) is within this of the best stand for the pair, the outermost of them at most.
constexpr double still_fits = 2;
/// Likelihoods (ln) that differ by no more are equal, and the size tried first stands: a size that the readings do not
/// show is not chosen by a solver's last digits.
constexpr double same_pair_likelihood = 1e-6;
/// No word counts for less while sizes are searched.
constexpr double least_word = 1e-3;

/// Two suspects at two sizes.
struct PairTrial {
    std::size_t a{};
    std::size_t b{};
    double share_a{0.5};
    double share_b{0.5};
};

struct PairFit {
    PairTrial best;
    double log_likelihood{};                            ///< of the best trial
    double log_mean{};                                  ///< over the sizes tried first
    PairTrial nearest;                                  ///< where the search stands
    double nearness{};                                  ///< of that, at the step of the search
    std::vector<std::pair<double, PairTrial>> tried{};  ///< with their likelihoods
};

/// What a trial scores, and how near its numbers come to those read.
struct TrialScore {
    double log_likelihood{-std::numeric_limits<double>::infinity()};
    double nearness{-std::numeric_limits<double>::infinity()};
};

class Pairing {
public:
    Pairing(const Circuit& circuit, const Weighed& weighed, const MatchOptions& options)
        : circuit_(circuit),
          weighed_(weighed),
          options_(options),
          predictor_(*weighed.predictor),
          scorer_(weighed.questions) {}

    std::vector<PairFit> run() {
        const std::vector<std::size_t> members = choose();
        std::vector<PairTrial> trials;
        std::vector<std::size_t> first;
        std::vector<PairFit> fits;
        for (std::size_t i = 0; i < members.size(); ++i) {
            for (std::size_t j = 0; j < i; ++j) {
                if (same_work(members[i], members[j])) continue;
                first.push_back(trials.size());
                for (const double sa : shares(members[i])) {
                    for (const double sb : shares(members[j])) trials.push_back({members[i], members[j], sa, sb});
                }
            }
        }
        double step = 1.0 / 6;
        const std::vector<TrialScore> scores = solve(trials, step);
        for (std::size_t p = 0; p < first.size(); ++p) {
            const std::size_t end = p + 1 < first.size() ? first[p + 1] : trials.size();
            constexpr double none = -std::numeric_limits<double>::infinity();
            PairFit fit{trials[first[p]], none, none, trials[first[p]], none};
            for (std::size_t t = first[p]; t < end; ++t) {
                const double score = scores[t].log_likelihood;
                fit.log_mean = log_add(fit.log_mean, score - std::log(static_cast<double>(end - first[p])));
                take(fit, trials[t], scores[t]);
            }
            fits.push_back(fit);
        }
        keep_promising(fits);
        for (int round = 0; round < pair_refining_rounds; ++round, step /= 2) refine(fits, step);
        std::stable_sort(fits.begin(), fits.end(),
                         [&](const PairFit& a, const PairFit& b) { return weight(a) > weight(b); });
        if (fits.size() > refined_pairs) fits.resize(refined_pairs);
        return fits;
    }

    /// Logarithm of prior times likelihood.
    double weight(const PairFit& fit) const {
        return std::log(weighed_.suspects[fit.best.a].prior) + std::log(weighed_.suspects[fit.best.b].prior) +
               std::log(default_value("prior_second_fault")) + fit.log_mean;
    }

    /// The pair as a suspect, without its probability: the best sizes, and the outermost that fit nearly as well.
    Suspect suspect_of(const PairFit& fit) const {
        Suspect pair;
        pair.mode = weighed_.suspects[fit.best.a].mode;
        pair.prior = weighed_.suspects[fit.best.a].prior * weighed_.suspects[fit.best.b].prior;
        pair.best.size = size_at(fit.best.a, fit.best.share_a);
        pair.best.where = weighed_.suspects[fit.best.a].best.where;
        pair.best.log_likelihood = fit.log_likelihood;
        pair.log_evidence = fit.log_mean;
        SecondFault& second = pair.second.emplace();
        second.mode = weighed_.suspects[fit.best.b].mode;
        second.where = weighed_.suspects[fit.best.b].best.where;
        second.sizes = sizes_of(fit);
        pair.at_best = std::move(predict(std::span(&fit.best, 1)).front());
        return pair;
    }

    double size_at(std::size_t suspect, double share) const {
        const FaultMode& mode = *weighed_.suspects[suspect].mode;
        if (!mode.size) return 0;
        const double low = scale_of(*mode.size, mode.size->low);
        return size_of(*mode.size, low + (scale_of(*mode.size, mode.size->high) - low) * share);
    }

private:
    std::vector<SecondFault::Sizes> sizes_of(const PairFit& fit) const {
        std::vector<std::pair<double, PairTrial>> chosen{{fit.log_likelihood, fit.best}};
        const auto add_outermost = [&](const auto& farther) {
            const std::pair<double, PairTrial>* outermost = &chosen.front();
            for (const auto& one : fit.tried) {
                if (one.first > fit.log_likelihood - still_fits && farther(one.second, outermost->second))
                    outermost = &one;
            }
            if (outermost != &chosen.front()) chosen.push_back(*outermost);
        };
        chosen.reserve(5);  // what is pointed at stays where it is
        add_outermost([](const PairTrial& one, const PairTrial& than) { return one.share_a < than.share_a; });
        add_outermost([](const PairTrial& one, const PairTrial& than) { return one.share_a > than.share_a; });
        add_outermost([](const PairTrial& one, const PairTrial& than) { return one.share_b < than.share_b; });
        add_outermost([](const PairTrial& one, const PairTrial& than) { return one.share_b > than.share_b; });
        std::vector<double> logs;
        for (const auto& one : chosen) logs.push_back(one.first);
        const std::vector<double> shares = weights_of_logs(logs);
        std::vector<SecondFault::Sizes> sizes;
        for (std::size_t i = 0; i < chosen.size(); ++i) {
            const PairTrial& trial = chosen[i].second;
            sizes.push_back({size_at(trial.a, trial.share_a), size_at(trial.b, trial.share_b), shares[i]});
        }
        return sizes;
    }

    double log_prior(const PairFit& fit) const {
        return std::log(weighed_.suspects[fit.best.a].prior) + std::log(weighed_.suspects[fit.best.b].prior);
    }

    /// Those that weigh most at the sizes tried first, and those that would come nearest at some between them: two
    /// numbers that a pair explains at two narrow sizes are wrong readings at all others, and weigh nothing there.
    void keep_promising(std::vector<PairFit>& fits) const {
        std::stable_sort(fits.begin(), fits.end(),
                         [&](const PairFit& a, const PairFit& b) { return weight(a) > weight(b); });
        const std::size_t kept = std::min(refined_pairs, fits.size());
        const auto near = [&](const PairFit& fit) { return fit.nearness + log_prior(fit); };
        std::stable_sort(fits.begin() + static_cast<std::ptrdiff_t>(kept), fits.end(),
                         [&](const PairFit& a, const PairFit& b) { return near(a) > near(b); });
        if (fits.size() > kept + near_pairs) fits.resize(kept + near_pairs);
    }

    static void take(PairFit& fit, const PairTrial& trial, const TrialScore& score) {
        if (score.nearness > fit.nearness + same_pair_likelihood) {
            fit.nearness = score.nearness;
            fit.nearest = trial;
        }
        if (score.log_likelihood > fit.log_likelihood - still_fits) fit.tried.emplace_back(score.log_likelihood, trial);
        if (score.log_likelihood <= fit.log_likelihood + same_pair_likelihood) return;
        fit.log_likelihood = score.log_likelihood;
        fit.best = trial;
    }

    /// How near the numbers come, where a size may still be off by a step of its range: a heavy-tailed density, so that
    /// each number draws the sizes to it from afar.
    double nearness(const Prediction& prediction, double step) const {
        constexpr double range = 8;  // ln of the widest range of sizes
        const double off = std::min(step * range, 1.0);
        double sum = 0;
        for (std::size_t i = 0; i < weighed_.questions.numbers.size(); ++i) {
            const Scorer::Residual one = scorer_.residual(prediction, i);
            const double spread =
                std::hypot(one.sigma, off * std::max(std::abs(one.predicted), std::abs(one.predicted + one.residual)));
            const double sigmas = one.residual / spread;
            sum -= std::log1p(sigmas * sigmas);
        }
        for (const double word : prediction.words) sum += std::log(std::max(word, least_word));
        return sum;
    }

    std::vector<double> shares(std::size_t suspect) const {
        const Suspect& member = weighed_.suspects[suspect];
        if (!member.mode->size) return {0.5};
        std::vector<double> list{first_shares.begin(), first_shares.end()};
        // What fits alone is where a narrow peak may lie.
        const double low = scale_of(*member.mode->size, member.mode->size->low);
        const double high = scale_of(*member.mode->size, member.mode->size->high);
        list.push_back(std::clamp((scale_of(*member.mode->size, member.best.size) - low) / (high - low), 0.0, 1.0));
        return list;
    }

    bool same_work(std::size_t a, std::size_t b) const {
        return same_word(weighed_.suspects[a].mode->repair, weighed_.suspects[b].mode->repair);
    }

    std::vector<std::size_t> choose() const {
        std::vector<std::size_t> members;
        const auto add = [&](std::size_t i) {
            const Suspect& suspect = weighed_.suspects[i];
            if (!suspect.mode || !suspect.at_best.ok || members.size() >= most_members) return;
            if (std::find(members.begin(), members.end(), i) == members.end()) members.push_back(i);
        };
        const std::vector<std::size_t> ranked = weighed_.ranked();
        for (std::size_t k = 0; k < std::min(most_probable, ranked.size()); ++k) add(ranked[k]);
        for (std::size_t reading = 0; reading < weighed_.questions.job->readings.size(); ++reading) {
            std::vector<std::pair<double, std::size_t>> order;
            for (std::size_t i = 0; i < weighed_.suspects.size(); ++i) {
                const Suspect& suspect = weighed_.suspects[i];
                if (!suspect.mode || !suspect.at_best.ok) continue;
                order.emplace_back(-scorer_.score_of_reading(suspect.at_best, reading) - std::log(suspect.prior), i);
            }
            std::stable_sort(order.begin(), order.end());
            for (std::size_t k = 0; k < std::min(best_of_reading, order.size()); ++k) add(order[k].second);
        }
        return members;
    }

    /// The trials of one pair, which stand together, are solved as one sweep.
    std::vector<TrialScore> solve(const std::vector<PairTrial>& trials, double step) const {
        std::vector<std::size_t> first;
        for (std::size_t t = 0; t < trials.size(); ++t) {
            const bool same = t > 0 && trials[t].a == trials[t - 1].a && trials[t].b == trials[t - 1].b;
            if (!same) first.push_back(t);
        }
        std::vector<TrialScore> scores(trials.size());
        run_jobs(
            first.size(), options_.workers,
            [&](std::size_t job) {
                const std::size_t end = job + 1 < first.size() ? first[job + 1] : trials.size();
                const std::span<const PairTrial> of_pair(trials.data() + first[job], end - first[job]);
                const std::vector<Prediction> predictions = predict(of_pair);
                for (std::size_t k = 0; k < predictions.size(); ++k) {
                    if (!predictions[k].ok) continue;
                    scores[first[job] + k] = {scorer_.score(predictions[k]), nearness(predictions[k], step)};
                }
            },
            options_.progress, "weighing pairs");
        return scores;
    }

    std::vector<Prediction> predict(std::span<const PairTrial> of_pair) const {
        const Suspect& a = weighed_.suspects[of_pair.front().a];
        const Suspect& b = weighed_.suspects[of_pair.front().b];
        const ModePtr second = shared(b.mode);
        std::vector<Fault> also;
        for (const PairTrial& trial : of_pair)
            also.push_back({second, size_at(trial.b, trial.share_b), b.best.where, {}, {}});
        std::vector<Trial> sizes;
        for (std::size_t k = 0; k < of_pair.size(); ++k) {
            sizes.push_back(
                {size_at(of_pair[k].a, of_pair[k].share_a), a.best.where, World::as_stated, std::span(&also[k], 1)});
        }
        return predictor_.predict_all(a.mode, sizes);
    }

    void refine(std::vector<PairFit>& fits, double step) const {
        std::vector<PairTrial> trials;
        std::vector<std::size_t> owner;
        const auto add_around = [&](std::size_t p, const PairTrial& centre) {
            for (const double da : {-step, 0.0, step}) {
                for (const double db : {-step, 0.0, step}) {
                    PairTrial trial = centre;
                    trial.share_a = std::clamp(trial.share_a + da, 0.0, 1.0);
                    trial.share_b = std::clamp(trial.share_b + db, 0.0, 1.0);
                    trials.push_back(trial);
                    owner.push_back(p);
                }
            }
        };
        for (std::size_t p = 0; p < fits.size(); ++p) {
            add_around(p, fits[p].nearest);
            add_around(p, fits[p].best);
            // At a finer step the same trial is less near.
            fits[p].nearness = -std::numeric_limits<double>::infinity();
        }
        const std::vector<TrialScore> scores = solve(trials, step);
        for (std::size_t t = 0; t < trials.size(); ++t) {
            PairFit& fit = fits[owner[t]];
            const bool likelier = scores[t].log_likelihood > fit.log_likelihood + same_pair_likelihood;
            // A narrow peak between the sizes tried first: about one step of them wide.
            if (likelier)
                fit.log_mean = std::max(fit.log_mean, scores[t].log_likelihood - std::log(1 / (step * step) + 1));
            take(fit, trials[t], scores[t]);
        }
    }

    ModePtr shared(const FaultMode* mode) const {
        return *std::find_if(circuit_.modes.begin(), circuit_.modes.end(),
                             [&](const ModePtr& row) { return row.get() == mode; });
    }

    const Circuit& circuit_;
    const Weighed& weighed_;
    const MatchOptions& options_;
    const Predictor& predictor_;
    Scorer scorer_;
};

}  // namespace

void add_pairs(Weighed& weighed, const Circuit& circuit, const MatchOptions& options) {
    const std::vector<std::size_t> ranked = weighed.ranked();
    weighed.pairs_weighed = true;
    if (weighed.suspects[ranked.front()].probability <= 0) return;
    const Suspect& leader = weighed.suspects[ranked.front()];
    // What a probability of 1 is worth in ln, so that pairs stand beside single faults.
    const double whole = std::log(leader.prior) + leader.log_evidence - std::log(leader.probability);
    Pairing pairing(circuit, weighed, options);
    const std::vector<PairFit> fits = pairing.run();
    double sum = 1;
    for (const PairFit& fit : fits) {
        Suspect pair = pairing.suspect_of(fit);
        pair.probability = std::exp(std::min(pairing.weight(fit) - whole, 600.0));
        sum += pair.probability;
        if (pair.at_best.ok) weighed.pairs.push_back(std::move(pair));
    }
    for (Suspect& pair : weighed.pairs) pair.probability /= sum;
    weighed.share_of_singles = 1 / sum;
    std::stable_sort(weighed.pairs.begin(), weighed.pairs.end(),
                     [](const Suspect& a, const Suspect& b) { return a.probability > b.probability; });
}

}  // namespace voltfall
