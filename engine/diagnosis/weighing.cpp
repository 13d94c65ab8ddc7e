#include "engine/diagnosis/weighing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "engine/diagnosis/refining.hpp"
#include "engine/diagnosis/word_evidence.hpp"
#include "engine/diagnosis/worker_pool.hpp"
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
        solve(coarse_tasks());
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) weigh_suspect(i);
        const std::vector<std::size_t> left = still_counting();
        solve(tasks_left(left));
        for (const std::size_t i : left) weigh_suspect(i);
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
                curve.share = 1.0 / places;
                if (!suspect.mode || !suspect.mode->size) continue;
                const SizeRange& range = *suspect.mode->size;
                curve.logarithmic = range.logarithmic;
                curve.range = scale_of(range, range.high) - scale_of(range, range.low);
            }
        }
    }

    /// A loose joint counts as one that comes and goes only where the job has something that is so sometimes.
    Story story_of(const FaultMode& mode) const {
        const std::vector<JobState>& states = weighed_->questions.states;
        const bool sometimes =
            std::any_of(states.begin(), states.end(), [](const JobState& state) { return state.sometimes; });
        if (mode.intermittent || (sometimes && comes_and_goes(mode))) return Story::intermittent;
        if (new_part_matters(weighed_->questions, mode)) return Story::new_part;
        return predictor_->consequences().possible(mode) ? Story::led_on : Story::plain;
    }

    void add_tasks(std::vector<Task>& tasks, std::size_t suspect, std::size_t curve, double at, double size) const {
        tasks.push_back({suspect, curve, at, size, World::as_stated});
        const Story story = weighed_->suspects[suspect].story;
        if (story == Story::new_part) tasks.push_back({suspect, curve, at, size, World::new_part_bad});
        if (story == Story::led_on) tasks.push_back({suspect, curve, at, size, World::later});
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

    std::vector<Task> coarse_tasks() const {
        std::vector<Task> tasks;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            add_grid(tasks, i, middle_curve(i), [](int k) { return k % 2 == 0; });
        }
        return tasks;
    }

    std::vector<Task> tasks_left(const std::vector<std::size_t>& suspects) const {
        std::vector<Task> tasks;
        for (const std::size_t i : suspects) {
            for (std::size_t c = 0; c < weighed_->suspects[i].curves.size(); ++c) {
                add_grid(tasks, i, c, [&](int k) { return c != middle_curve(i) || k % 2 != 0; });
            }
        }
        return tasks;
    }

    std::size_t middle_curve(std::size_t i) const { return weighed_->suspects[i].curves.size() / 2; }

    std::vector<std::size_t> still_counting() const {
        double best = minus_infinity;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) best = std::max(best, weight(i));
        std::vector<std::size_t> left;
        for (std::size_t i = 0; i < weighed_->suspects.size(); ++i) {
            if (possible_weight(i) > best - still_counts) left.push_back(i);
        }
        return left;
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
        double solved = 0;  // share of the wire
        for (const SizeCurve& curve : suspect.curves) solved += curve.points.empty() ? 0 : curve.share;
        for (const SizeCurve& curve : suspect.curves) {
            for (Piece& piece : weigh_curve(curve, *scorer_, suspect.story)) {
                piece.log_share += std::log(curve.share / solved);
                suspect.log_evidence = log_add(suspect.log_evidence, piece.log_mass());
                if (piece.log_likelihood > suspect.best.log_likelihood) suspect.best = piece;
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
            if (const double possible = possible_weight(i); possible > minus_infinity) order.emplace_back(-possible, i);
        }
        std::sort(order.begin(), order.end());
        if (order.size() > refined_suspects) order.resize(refined_suspects);
        std::vector<std::size_t> leading;
        for (const auto& [possible, i] : order) leading.push_back(i);
        return leading;
    }

    /// Solves the leading suspects again around the peak of their weight, in size and in place.
    void refine() {
        std::vector<Task> tasks;
        std::vector<std::size_t> touched;
        for (const std::size_t i : leading()) {
            Suspect& suspect = weighed_->suspects[i];
            split_best_place(suspect);
            const std::size_t before = tasks.size();
            for (std::size_t c = 0; c < suspect.curves.size(); ++c) {
                for (const double at : sizes_to_solve(suspect, suspect.curves[c], *scorer_)) {
                    add_tasks(tasks, i, c, at, size_of(*suspect.mode->size, at));
                }
            }
            if (tasks.size() > before) touched.push_back(i);
        }
        if (tasks.empty()) return;
        solve(tasks);
        for (const std::size_t i : touched) weigh_suspect(i);
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
            choose_world(suspect);
            if (!suspect.at_best.ok || suspect.probability < 1e-4) continue;
            scorer_->score(suspect.at_best, scorer_->prepare(suspect.at_best), &wrong);
            for (std::size_t k = 0; k < wrong.size(); ++k) weighed_->wrong[k] += suspect.probability * wrong[k];
        }
    }

    /// What the suspect predicts at its best fit, in the world that the readings speak for.
    void choose_world(Suspect& suspect) const {
        suspect.at_best = predict_between(suspect.best_curve(), suspect.best.at, 0);
        if (suspect.story != Story::led_on) return;
        const Prediction later = predict_between(suspect.best_curve(), suspect.best.at, 1);
        suspect.led_on =
            later.ok && suspect.at_best.ok && scorer_->score(later) > scorer_->score(suspect.at_best) + clearly_better;
        if (!suspect.led_on) return;
        suspect.at_best = later;
        for (const Fault& fault : predictor_->consequences().of(*suspect.mode, suspect.best.size))
            suspect.led_to.push_back(fault.mode->phrase());
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
};

}  // namespace

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

}  // namespace voltfall
