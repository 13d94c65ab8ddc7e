#include "engine/diagnosis/weighing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "engine/diagnosis/word_evidence.hpp"
#include "engine/diagnosis/worker_pool.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

constexpr double minus_infinity = -std::numeric_limits<double>::infinity();
/// Every suspect is solved at every second size of the grid and, along a wire, in the middle; those whose weight comes
/// within this of the best (in ln) get the whole grid of sizes and places.
constexpr double still_counts = 14;
/// Suspects whose sizes are searched more finely, and how often.
constexpr std::size_t refined_suspects = 10;
constexpr int refining_rounds = 3;
/// A size within this share of its peak's width from a solved one needs no solution of its own.
constexpr double near_enough = 0.3;

/// One case to solve.
struct Task {
    std::size_t suspect{};
    std::size_t curve{};
    double at{};
    double size{};
    World world{World::as_stated};
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
        predictor_.emplace(simulator_, questions);
        scorer_.emplace(questions);
        hidden_ = predictor_->predict(nullptr, 0, 0.5);
        list_suspects();
        solve(grid_tasks(Grid::coarse));
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) weigh_suspect(i);
        solve(grid_tasks(Grid::rest));
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            if (counts(i)) weigh_suspect(i);
        }
        for (int round = 0; round < refining_rounds; ++round) refine();
        finish();
        return std::move(weighed_);
    }

private:
    void list_suspects() {
        const Priors priors = priors_of(circuit_, job_);
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
                curve.logarithmic = suspect.mode && suspect.mode->size && suspect.mode->size->logarithmic;
            }
        }
    }

    /// A loose joint counts as one that comes and goes only where the job has something that is so sometimes.
    Story story_of(const FaultMode& mode) const {
        const std::vector<JobState>& states = weighed_->questions.states;
        const bool sometimes =
            std::any_of(states.begin(), states.end(), [](const JobState& state) { return state.sometimes; });
        if (mode.intermittent || (sometimes && comes_and_goes(mode))) return Story::intermittent;
        return new_part_matters(weighed_->questions, mode) ? Story::new_part : Story::plain;
    }

    void add_tasks(std::vector<Task>& tasks, std::size_t suspect, std::size_t curve, double at, double size) const {
        tasks.push_back({suspect, curve, at, size, World::as_stated});
        const Story story = weighed_->suspects[suspect].story;
        if (story == Story::new_part) tasks.push_back({suspect, curve, at, size, World::new_part_bad});
    }

    enum class Grid { coarse, rest };

    double weight(std::size_t i) const {
        return weighed_->suspects[i].log_evidence + std::log(weighed_->suspects[i].prior);
    }

    bool counts(std::size_t i) const { return weight(i) > best_weight_ - still_counts; }

    std::vector<Task> grid_tasks(Grid grid) {
        for (std::size_t i = 0; grid == Grid::rest && i < weighed_->suspects.size(); ++i)
            best_weight_ = std::max(best_weight_, weight(i));
        std::vector<Task> tasks;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            if (grid == Grid::rest && !counts(i)) continue;
            const std::size_t middle = weighed_->suspects[i].curves.size() / 2;
            for (std::size_t c = 0; c < weighed_->suspects[i].curves.size(); ++c) {
                if (grid == Grid::coarse && c == middle) {
                    add_grid(tasks, i, c, [](int k) { return k % 2 == 0; });
                } else if (grid == Grid::rest) {
                    add_grid(tasks, i, c, [&](int k) { return c != middle || k % 2 != 0; });
                }
            }
        }
        return tasks;
    }

    template <class Wanted>
    void add_grid(std::vector<Task>& tasks, std::size_t suspect, std::size_t curve, const Wanted& wanted) const {
        const FaultMode* mode = weighed_->suspects[suspect].mode;
        if (!mode || !mode->size) {
            if (wanted(0)) add_tasks(tasks, suspect, curve, 0, 0);
            return;
        }
        const auto sizes = static_cast<int>(default_value("grid_sizes"));
        const double low = scale_of(*mode->size, mode->size->low);
        const double high = scale_of(*mode->size, mode->size->high);
        for (int k = 0; k < sizes; ++k) {
            const double at = low + (high - low) * k / (sizes - 1);
            if (wanted(k)) add_tasks(tasks, suspect, curve, at, size_of(*mode->size, at));
        }
    }

    void solve(const std::vector<Task>& tasks) {
        const Questions& questions = weighed_->questions;
        const std::size_t width = Prediction::width(questions);
        const std::vector<double> numbers =
            run_jobs(tasks.size(), width, options_.workers, [&](std::size_t i, std::span<double> out) {
                const Task& task = tasks[i];
                const Suspect& suspect = weighed_->suspects[task.suspect];
                predictor_->predict(suspect.mode, task.size, suspect.curves[task.curve].where, task.world).write(out);
            });
        for (std::size_t i = 0; i < tasks.size(); ++i) {
            CurvePoint point{tasks[i].at, tasks[i].size, {}};
            const auto result = [&](std::size_t job) {
                return Prediction::read(std::span<const double>(numbers).subspan(job * width, width), questions);
            };
            point.worlds[0] = result(i);
            const bool two = i + 1 < tasks.size() && tasks[i + 1].world != World::as_stated;
            const std::size_t task = i;
            if (two) point.worlds[1] = result(++i);
            if (weighed_->suspects[tasks[task].suspect].story == Story::intermittent) point.worlds[1] = hidden_;
            weighed_->suspects[tasks[task].suspect].curves[tasks[task].curve].insert(std::move(point));
        }
    }

    void weigh_suspect(std::size_t index) {
        Suspect& suspect = weighed_->suspects[index];
        suspect.pieces.clear();
        suspect.log_evidence = minus_infinity;
        suspect.best.log_likelihood = minus_infinity;
        const auto solved = std::count_if(suspect.curves.begin(), suspect.curves.end(),
                                          [](const SizeCurve& c) { return !c.points.empty(); });
        for (const SizeCurve& curve : suspect.curves) {
            for (Piece& piece : weigh_curve(curve, *scorer_, suspect.story)) {
                piece.log_share -= std::log(static_cast<double>(solved));
                suspect.log_evidence = log_add(suspect.log_evidence, piece.log_mass());
                if (piece.log_likelihood > suspect.best.log_likelihood) suspect.best = piece;
                suspect.pieces.push_back(piece);
            }
        }
    }

    std::vector<std::size_t> leading() const {
        std::vector<std::size_t> order(weighed_->suspects.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::stable_sort(order.begin(), order.end(),
                         [&](std::size_t a, std::size_t b) { return weight(a) > weight(b); });
        std::erase_if(order, [&](std::size_t i) {
            const Suspect& suspect = weighed_->suspects[i];
            return !suspect.mode || !suspect.mode->size || suspect.log_evidence == minus_infinity;
        });
        if (order.size() > refined_suspects) order.resize(refined_suspects);
        return order;
    }

    /// Solves the leading suspects again at the peak of their weight and on both flanks.
    void refine() {
        std::vector<Task> tasks;
        std::vector<std::size_t> touched;
        for (const std::size_t i : leading()) {
            const std::size_t before = tasks.size();
            for (std::size_t c = 0; c < weighed_->suspects[i].curves.size(); ++c) refine_curve(i, c, tasks);
            if (tasks.size() > before) touched.push_back(i);
        }
        if (tasks.empty()) return;
        solve(tasks);
        for (const std::size_t i : touched) weigh_suspect(i);
    }

    void refine_curve(std::size_t index, std::size_t curve_index, std::vector<Task>& tasks) const {
        const Suspect& suspect = weighed_->suspects[index];
        const SizeCurve& curve = suspect.curves[curve_index];
        if (curve.points.size() < 2) return;
        double best = minus_infinity;
        double peak = 0;
        std::vector<double> logs;
        std::vector<double> ats;
        for (const Piece& piece : suspect.pieces) {
            if (piece.where != curve.where) continue;
            logs.push_back(piece.log_mass());
            ats.push_back(piece.at);
            if (piece.log_likelihood <= best) continue;
            best = piece.log_likelihood;
            peak = piece.at;
        }
        const std::vector<double> weights = weights_of_logs(logs);
        double mean = 0;
        double square = 0;
        for (std::size_t k = 0; k < ats.size(); ++k) mean += weights[k] * ats[k];
        for (std::size_t k = 0; k < ats.size(); ++k) square += weights[k] * (ats[k] - mean) * (ats[k] - mean);
        const double range = curve.points.back().at - curve.points.front().at;
        const double width = std::clamp(std::sqrt(square), range / 500, range / 8);
        for (const double at : {peak, peak - 1.2 * width, peak + 1.2 * width}) {
            if (at <= curve.points.front().at || at >= curve.points.back().at) continue;
            const bool near = std::any_of(curve.points.begin(), curve.points.end(), [&](const CurvePoint& point) {
                return std::abs(point.at - at) < near_enough * width;
            });
            if (!near) add_tasks(tasks, index, curve_index, at, size_of(*suspect.mode->size, at));
        }
    }

    void finish() {
        std::vector<double> logs;
        for (const Suspect& suspect : weighed_->suspects) {
            logs.push_back(suspect.log_evidence + std::log(suspect.prior));
            if (suspect.log_evidence == minus_infinity) ++weighed_->failed;
        }
        logs.push_back(scorer_->score_of_none() + std::log(prior_none_));
        const std::vector<double> weights = weights_of_logs(logs);
        weighed_->none = weights.back();
        weighed_->wrong.assign(job_.readings.size(), 0.0);
        std::vector<double> wrong;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            Suspect& suspect = weighed_->suspects[i];
            suspect.probability = weights[i];
            if (suspect.log_evidence == minus_infinity) continue;
            suspect.at_best = predict_between(suspect.best_curve(), suspect.best.at, 0);
            if (!suspect.at_best.ok || suspect.probability < 1e-4) continue;
            scorer_->score(suspect.at_best, scorer_->prepare(suspect.at_best), &wrong);
            for (std::size_t k = 0; k < wrong.size(); ++k) weighed_->wrong[k] += suspect.probability * wrong[k];
        }
    }

    Simulator& simulator_;
    const Circuit& circuit_;
    const Job& job_;
    const MatchOptions& options_;
    std::unique_ptr<Weighed> weighed_;
    std::optional<Predictor> predictor_;
    std::optional<Scorer> scorer_;
    Prediction hidden_;  ///< what is read while a fault that comes and goes is away
    double prior_none_{0};
    double best_weight_{minus_infinity};
};

/// Quantiles of weighted values, 5 % and 95 %.
Spread spread_of(std::vector<std::pair<double, double>> weighted, double best) {
    std::sort(weighted.begin(), weighted.end());
    Spread spread{best, weighted.front().first, weighted.back().first};
    double sum = 0;
    bool low_found = false;
    for (const auto& [value, weight] : weighted) {
        sum += weight;
        if (!low_found && sum >= 0.05) {
            spread.low = value;
            low_found = true;
        }
        if (sum >= 0.95) {
            spread.high = value;
            break;
        }
    }
    spread.low = std::min(spread.low, best);
    spread.high = std::max(spread.high, best);
    return spread;
}

std::vector<double> piece_weights(const Suspect& suspect) {
    std::vector<double> logs;
    for (const Piece& piece : suspect.pieces) logs.push_back(piece.log_mass());
    return weights_of_logs(logs);
}

}  // namespace

const SizeCurve& Suspect::best_curve() const {
    const auto found =
        std::find_if(curves.begin(), curves.end(), [&](const SizeCurve& curve) { return curve.where == best.where; });
    return found == curves.end() ? curves.front() : *found;
}

std::vector<std::size_t> Weighed::ranked() const {
    std::vector<std::size_t> order(suspects.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return suspects[a].probability > suspects[b].probability; });
    return order;
}

std::unique_ptr<Weighed> weigh(Simulator& simulator, const Circuit& circuit, const Job& job,
                               const MatchOptions& options) {
    return Weigher(simulator, circuit, job, options).run();
}

std::optional<Spread> size_spread(const Suspect& suspect) {
    if (!suspect.mode || !suspect.mode->size || suspect.pieces.empty()) return std::nullopt;
    const std::vector<double> weights = piece_weights(suspect);
    std::vector<std::pair<double, double>> sizes;
    for (std::size_t i = 0; i < weights.size(); ++i) sizes.emplace_back(suspect.pieces[i].size, weights[i]);
    return spread_of(std::move(sizes), suspect.best.size);
}

std::optional<Spread> place_spread(const Suspect& suspect) {
    if (!suspect.mode || !suspect.mode->along_wire || suspect.pieces.empty()) return std::nullopt;
    const std::vector<double> weights = piece_weights(suspect);
    std::vector<std::pair<double, double>> places;
    for (std::size_t i = 0; i < weights.size(); ++i) places.emplace_back(suspect.pieces[i].where, weights[i]);
    Spread spread = spread_of(std::move(places), suspect.best.where);
    // A place of the grid stands for its stretch of the wire.
    const double half = 0.5 / static_cast<double>(suspect.curves.size());
    spread.low = std::max(spread.low - half, 0.0);
    spread.high = std::min(spread.high + half, 1.0);
    return spread;
}

std::vector<Stand> stands_for(const Suspect& suspect, std::size_t count) {
    if (suspect.pieces.size() <= 1 || count <= 1) return {{suspect.best.size, suspect.best.where, 1.0}};
    const std::vector<double> weights = piece_weights(suspect);
    std::vector<std::size_t> order(weights.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return suspect.pieces[a].where != suspect.pieces[b].where ? suspect.pieces[a].where < suspect.pieces[b].where
                                                                  : suspect.pieces[a].size < suspect.pieces[b].size;
    });
    // The pieces at the middles of equal shares of the weight.
    std::vector<Stand> stands;
    double sum = 0;
    std::size_t next = 0;
    for (const std::size_t i : order) {
        sum += weights[i];
        double share = 0;
        while (next < count && sum >= (static_cast<double>(next) + 0.5) / static_cast<double>(count)) {
            share += 1.0 / static_cast<double>(count);
            ++next;
        }
        if (share > 0) stands.push_back({suspect.pieces[i].size, suspect.pieces[i].where, share});
    }
    if (stands.empty()) return {{suspect.best.size, suspect.best.where, 1.0}};
    return stands;
}

}  // namespace voltfall
