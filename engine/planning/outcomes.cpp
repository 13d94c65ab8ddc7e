#include "engine/planning/outcomes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/rounding.hpp"

namespace voltfall {

namespace {

constexpr std::size_t most_cuts = 3;
/// A cut that adds less than this is not made, bits.
constexpr double worth_a_cut = 0.05;
/// Places for a cut that are tried, at most.
constexpr std::size_t most_tried = 40;
/// Two readings nearer than this many sigma need no cut between them.
constexpr double apart_sigmas = 2;

double below(double cut, double mean, double sigma) {
    return 0.5 * std::erfc((mean - cut) / (sigma * std::sqrt(2.0)));
}

class Cutter {
public:
    Cutter(const Job& job, const TestCandidate& test, const Standings& standings, SupplyKnown supply)
        : standings_(standings),
          amps_(test.kind == TestKind::clamp),
          wrong_(measured_default("wrong_reading")),
          untouched_(!amps_ && !test.reads_supply ? test.no_touch : 0) {
        for (const Standing& standing : standings.list) {
            const double mean = standing.prediction.mean[test.cell];
            double variance = standing.prediction.variance[test.cell];
            if (supply == SupplyKnown::yes) variance -= standing.prediction.supply_variance[test.cell];
            means_.push_back(mean);
            sigmas_.push_back(read_sigma(variance, instrument_sigma_at(job, test.kind, mean)));
        }
    }

    Outcomes run() {
        std::vector<double> cuts;
        double told = 0;
        const std::vector<double> tried = places();
        while (cuts.size() < most_cuts) {
            double best_bits = told + worth_a_cut;
            std::optional<double> best;
            for (const double place : tried) {
                if (std::find(cuts.begin(), cuts.end(), place) != cuts.end()) continue;
                std::vector<double> with = cuts;
                with.insert(std::lower_bound(with.begin(), with.end(), place), place);
                const double bits = bits_with(with);
                if (bits <= best_bits) continue;
                best_bits = bits;
                best = place;
            }
            if (!best) break;
            cuts.insert(std::lower_bound(cuts.begin(), cuts.end(), *best), *best);
            told = best_bits;
        }
        return {labels(cuts), cuts, likelihood(cuts)};
    }

private:
    /// Between neighbouring means that a reading can tell apart.
    std::vector<double> places() const {
        std::vector<std::size_t> order(means_.size());
        for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return means_[a] < means_[b]; });
        std::vector<double> list;
        std::size_t from = 0;
        for (std::size_t i = 1; i < order.size(); ++i) {
            const double gap = means_[order[i]] - means_[order[from]];
            if (gap < apart_sigmas * std::min(sigmas_[order[i]], sigmas_[order[from]])) continue;
            const double a = means_[order[i - 1]];
            const double b = means_[order[i]];
            list.push_back(round_cut((a + b) / 2, b - a));
            from = i;
        }
        std::sort(list.begin(), list.end());
        list.erase(std::unique(list.begin(), list.end()), list.end());
        if (list.size() <= most_tried) return list;
        std::vector<double> fewer;
        for (std::size_t i = 0; i < most_tried; ++i) fewer.push_back(list[i * list.size() / most_tried]);
        return fewer;
    }

    /// A figure that a person can keep in mind, inside the middle half of the gap.
    static double round_cut(double middle, double gap) {
        for (const double step : {1.0, 0.5, 0.1, 0.05, 0.01}) {
            const double rounded = std::round(middle / step) * step;
            if (std::abs(rounded - middle) <= gap / 4) return rounded;
        }
        return middle;
    }

    std::vector<double> likelihood(const std::vector<double>& cuts) const {
        const std::size_t count = cuts.size() + 1;
        std::vector<double> table;
        table.reserve(means_.size() * count);
        for (std::size_t s = 0; s < means_.size(); ++s) {
            double so_far = 0;
            double so_far_untouched = 0;
            for (std::size_t o = 0; o < count; ++o) {
                const double up_to = o < cuts.size() ? below(cuts[o], means_[s], sigmas_[s]) : 1;
                const double untouched = o < cuts.size() ? below(cuts[o], 0, untouched_sigma) : 1;
                table.push_back((1 - untouched_) *
                                    ((1 - wrong_) * (up_to - so_far) + wrong_ / static_cast<double>(count)) +
                                untouched_ * (untouched - so_far_untouched));
                so_far = up_to;
                so_far_untouched = untouched;
            }
        }
        return table;
    }

    double bits_with(const std::vector<double>& cuts) const {
        std::vector<Possibility> possibilities;
        for (const Standing& standing : standings_.list)
            possibilities.push_back({standing.weight, standing.group, 0, 0});
        return information_of_words(possibilities, standings_.groups.size(), likelihood(cuts), cuts.size() + 1);
    }

    std::string figure(double value) const { return fmt::format("{:g}", std::round(value * 100) / 100); }
    std::vector<std::string> labels(const std::vector<double>& cuts) const {
        const char* unit = amps_ ? "A" : "V";
        if (cuts.empty()) return {"any reading"};
        std::vector<std::string> list{fmt::format("below {} {}", figure(cuts.front()), unit)};
        for (std::size_t i = 1; i < cuts.size(); ++i)
            list.push_back(fmt::format("{} to {} {}", figure(cuts[i - 1]), figure(cuts[i]), unit));
        list.push_back(fmt::format("above {} {}", figure(cuts.back()), unit));
        return list;
    }

    const Standings& standings_;
    bool amps_;
    double wrong_;
    double untouched_;
    std::vector<double> means_;
    std::vector<double> sigmas_;
};

}  // namespace

Outcomes outcomes_of(const Circuit& circuit, const Job& job, const Weighed& weighed, const TestCandidate& test,
                     const Standings& standings, SupplyKnown supply) {
    if (test.is_number()) return Cutter(job, test, standings, supply).run();
    return {test.words, {}, word_outcomes(circuit, job, weighed, test, standings.list)};
}

}  // namespace voltfall
