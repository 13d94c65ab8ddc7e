#include "engine/planning/information.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "engine/readings/accuracy.hpp"
#include "engine/readings/joint_normal.hpp"

namespace voltfall {

namespace {

/// A normal is followed this many sigma to either side.
constexpr double tails = 5;

/// Joint probabilities of group and bin.
class Table {
public:
    Table(std::size_t groups, std::size_t bins)
        : bins_(bins), cells_(groups * bins, 0.0), everywhere_(groups, 0.0), used_(bins, 0) {}
    void add(std::size_t group, std::size_t bin, double probability) {
        cells_[group * bins_ + bin] += probability;
        used_[bin] = 1;
    }
    /// The same to every bin of a group.
    void add_everywhere(std::size_t group, double probability) { everywhere_[group] += probability; }

    double information() const {
        const std::size_t groups = everywhere_.size();
        std::vector<double> of_group(groups, 0.0);
        double sum = 0;
        for (std::size_t g = 0; g < groups; ++g) {
            for (std::size_t b = 0; b < bins_; ++b) of_group[g] += cells_[g * bins_ + b] + everywhere_[g];
            sum += of_group[g];
        }
        if (sum <= 0) return 0;
        // Bins that hold nothing of their own are all alike: one stands for them.
        double bits = 0;
        std::size_t alike = 0;
        std::size_t one_alike = bins_;
        for (std::size_t b = 0; b < bins_; ++b) {
            if (used_[b]) {
                bits += bits_of_bin(b, of_group, sum);
            } else {
                ++alike;
                one_alike = b;
            }
        }
        if (alike > 0) bits += static_cast<double>(alike) * bits_of_bin(one_alike, of_group, sum);
        return std::max(bits, 0.0);
    }

private:
    double bits_of_bin(std::size_t bin, const std::vector<double>& of_group, double sum) const {
        double of_bin = 0;
        for (std::size_t g = 0; g < everywhere_.size(); ++g) of_bin += cells_[g * bins_ + bin] + everywhere_[g];
        double bits = 0;
        for (std::size_t g = 0; g < everywhere_.size(); ++g) {
            const double p = cells_[g * bins_ + bin] + everywhere_[g];
            if (p > 0) bits += p / sum * std::log2(p * sum / (of_group[g] * of_bin));
        }
        return bits;
    }

    std::size_t bins_;
    std::vector<double> cells_;
    std::vector<double> everywhere_;  ///< by group
    std::vector<char> used_;          ///< by bin: has it something of its own?
};

/// A normal's share of each bin, from bin `first` on.
struct BinnedNormal {
    std::size_t first{};
    std::vector<double> shares;

    void add_to(Table& table, std::size_t group, double weight) const {
        if (weight <= 0) return;
        for (std::size_t k = 0; k < shares.size(); ++k) table.add(group, first + k, weight * shares[k]);
    }
};

struct Axis {
    double low{};
    double width{};
    std::size_t bins{};

    void bin(double mean, double sigma, BinnedNormal& normal) const {
        const auto bin_at = [&](double value) {
            return std::clamp((value - low) / width, 0.0, static_cast<double>(bins - 1));
        };
        normal.first = static_cast<std::size_t>(bin_at(mean - tails * sigma));
        const auto last = static_cast<std::size_t>(bin_at(mean + tails * sigma));
        normal.shares.clear();
        double below = 0;  // the tails go to the outer bins
        for (std::size_t at = normal.first; at <= last; ++at) {
            const double edge = low + width * static_cast<double>(at + 1);
            const double up_to =
                at == last ? 1.0 : normal_between(-std::numeric_limits<double>::infinity(), edge, mean, sigma);
            normal.shares.push_back(up_to - below);
            below = up_to;
        }
    }
};

Axis axis_of(std::span<const Possibility> possibilities, const OutcomeRules& rules) {
    double low = std::numeric_limits<double>::infinity();
    double high = -low;
    double narrowest = low;
    for (const Possibility& p : possibilities) {
        low = std::min(low, p.mean - tails * p.sigma);
        high = std::max(high, p.mean + tails * p.sigma);
        narrowest = std::min(narrowest, p.sigma);
    }
    if (rules.untouched > 0) {
        low = std::min(low, -tails * untouched_sigma);
        high = std::max(high, tails * untouched_sigma);
    }
    Axis axis;
    axis.low = low;
    const double wanted = std::ceil((high - low) / (narrowest / rules.bins_per_sigma));
    axis.bins = static_cast<std::size_t>(std::clamp(wanted, 2.0, static_cast<double>(rules.most_bins)));
    axis.width = (high - low) / static_cast<double>(axis.bins);
    return axis;
}

}  // namespace

double entropy(std::span<const double> weights) {
    double sum = 0;
    for (const double weight : weights) sum += weight;
    double bits = 0;
    for (const double weight : weights) {
        if (weight > 0) bits -= weight / sum * std::log2(weight / sum);
    }
    return bits;
}

double information_of_number(std::span<const Possibility> possibilities, std::size_t groups,
                             const OutcomeRules& rules) {
    if (possibilities.empty()) return 0;
    const Axis axis = axis_of(possibilities, rules);
    Table table(groups, axis.bins);
    std::vector<double> wrong_of_group(groups, 0.0);
    BinnedNormal read;
    BinnedNormal untouched;  // the same for every possibility
    if (rules.untouched > 0) axis.bin(0, untouched_sigma, untouched);
    for (const Possibility& p : possibilities) {
        const double touched = p.weight * (1 - rules.untouched);
        axis.bin(p.mean, p.sigma, read);
        read.add_to(table, p.group, touched * (1 - rules.wrong));
        untouched.add_to(table, p.group, p.weight * rules.untouched);
        wrong_of_group[p.group] += touched * rules.wrong;
    }
    for (std::size_t g = 0; g < groups; ++g) {
        table.add_everywhere(g, wrong_of_group[g] / static_cast<double>(axis.bins));
    }
    return table.information();
}

double information_of_words(std::span<const Possibility> possibilities, std::size_t groups,
                            std::span<const double> outcomes, std::size_t outcome_count) {
    if (possibilities.empty() || outcome_count == 0) return 0;
    Table table(groups, outcome_count);
    for (std::size_t i = 0; i < possibilities.size(); ++i) {
        for (std::size_t o = 0; o < outcome_count; ++o) {
            table.add(possibilities[i].group, o, possibilities[i].weight * outcomes[i * outcome_count + o]);
        }
    }
    return table.information();
}

}  // namespace voltfall
