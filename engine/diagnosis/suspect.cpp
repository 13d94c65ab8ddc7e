#include "engine/diagnosis/suspect.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/readings/rounding.hpp"

namespace voltfall {

namespace {

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

std::string phrase_with_size(const FaultMode& mode, double size) {
    return mode.phrase() + (mode.size ? " " + two_digits(size, mode.size->unit) : "");
}

std::string Suspect::phrase() const {
    if (!mode) return "nothing";
    if (!second) return mode->phrase();
    const SecondFault::Sizes& best_sizes = second->sizes.front();
    return phrase_with_size(*mode, best_sizes.first) + " and " + phrase_with_size(*second->mode, best_sizes.second);
}

std::vector<const FaultMode*> Suspect::modes() const {
    std::vector<const FaultMode*> list;
    if (mode) list.push_back(mode);
    if (second) list.push_back(second->mode);
    return list;
}

const SizeCurve& Suspect::best_curve() const {
    const auto found =
        std::find_if(curves.begin(), curves.end(), [&](const SizeCurve& curve) { return curve.where == best.where; });
    return found == curves.end() ? curves.front() : *found;
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
    // A solved place stands for its stretch of the wire.
    const auto half = [&](double where) {
        const auto curve = std::find_if(suspect.curves.begin(), suspect.curves.end(),
                                        [&](const SizeCurve& c) { return c.where == where; });
        return curve == suspect.curves.end() ? 0.0 : curve->share / 2;
    };
    spread.low = std::max(spread.low - half(spread.low), 0.0);
    spread.high = std::min(spread.high + half(spread.high), 1.0);
    return spread;
}

std::vector<SizeSample> size_samples(const Suspect& suspect, std::size_t count) {
    if (suspect.pieces.size() <= 1 || count <= 1) return {{suspect.best.size, suspect.best.where, 1.0}};
    const std::vector<double> weights = piece_weights(suspect);
    std::vector<std::size_t> order(weights.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return suspect.pieces[a].where != suspect.pieces[b].where ? suspect.pieces[a].where < suspect.pieces[b].where
                                                                  : suspect.pieces[a].size < suspect.pieces[b].size;
    });
    // The pieces at the middles of equal shares of the weight.
    std::vector<SizeSample> samples;
    double sum = 0;
    std::size_t next = 0;
    for (const std::size_t i : order) {
        sum += weights[i];
        double share = 0;
        while (next < count && sum >= (static_cast<double>(next) + 0.5) / static_cast<double>(count)) {
            share += 1.0 / static_cast<double>(count);
            ++next;
        }
        if (share > 0) samples.push_back({suspect.pieces[i].size, suspect.pieces[i].where, share});
    }
    if (samples.empty()) return {{suspect.best.size, suspect.best.where, 1.0}};
    return samples;
}

}  // namespace voltfall
