#include "engine/solve/electronics_in_play.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace voltfall {

namespace {

constexpr int most_rounds = 60;
/// After so many rounds without coming nearer what is wanted is taken as it is: learned steps may jump over a threshold
/// and back.
constexpr int most_stuck_rounds = 4;
/// Rounds that bring the misses below this share of the least so far come nearer.
constexpr double nearer = 0.7;
/// Figures of two rounds are the same within this.
constexpr double same_figure = 1e-6;
/// A cycle jumps by more than this: what is nearer comes to rest, if slowly.
constexpr double least_cycle = 1e-3;
/// Misses that differ by less than this share are alike.
constexpr double alike_misses = 1e-3;
/// No longer cycle is looked for.
constexpr std::size_t longest_cycle = 4;
/// A figure (a duty, volts) that moves by less than this stands: a tenth of a microvolt of what follows from it.
constexpr double settled_figure = 1e-8;
/// A learned step may be this much longer or shorter than the misses.
constexpr double most_stretch = 20;

double greatest(const std::vector<double>& values) {
    double most = 0;
    for (const double value : values) most = std::max(most, std::abs(value));
    return most;
}

double sum(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0);
}

double dot(const double* a, const double* b, std::size_t count) {
    return std::inner_product(a, a + count, b, 0.0);
}

}  // namespace

void ElectronicsInPlay::begin(Network& network) {
    for (const Part& part : network.circuit->parts) {
        if (!part.electronics) continue;
        const Electronics& electronics = *part.electronics;
        One one{&electronics, electronics.full};
        const NetworkBranch& first = network.at(electronics.driven.front());
        // What a fault can hold is a stage.
        if (first.held && !std::get<Stage>(first.law).passes) one.figure = electronics.none;
        const bool held = first.held;
        set(network, one);
        if (!held) all_.push_back(one);
    }
    forget();
}

void ElectronicsInPlay::set(Network& network, const One& one) {
    const std::vector<Law> laws = one.part->laws(one.figure);
    for (std::size_t i = 0; i < laws.size(); ++i) network.at(one.part->driven[i]).law = laws[i];
}

/// Every figure answers to its own miss alone, with a step as long.
void ElectronicsInPlay::forget() {
    const std::size_t count = all_.size();
    answer_.assign(count * count, 0);
    for (std::size_t i = 0; i < count; ++i) answer_[i * count + i] = 1;
}

/// Broyden's update: the least change of the answers with which the last step would have been that for what it changed
/// of the misses (textbook form of Sherman and Morrison).
void ElectronicsInPlay::learn(const std::vector<double>& misses) {
    const std::size_t count = all_.size();
    std::vector<double> changed(count);
    for (std::size_t i = 0; i < count; ++i) changed[i] = misses_[i] - misses[i];
    std::vector<double> off(count);     // the last step less what the answers make of the change
    std::vector<double> weight(count);  // the last step by the answers
    for (std::size_t i = 0; i < count; ++i) {
        off[i] = step_[i] - dot(&answer_[i * count], changed.data(), count);
        for (std::size_t k = 0; k < count; ++k) weight[k] += step_[i] * answer_[i * count + k];
    }
    const double length = dot(weight.data(), changed.data(), count);
    if (!(std::abs(length) > 0)) return forget();
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t k = 0; k < count; ++k) answer_[i * count + k] += off[i] * weight[k] / length;
    }
}

std::vector<double> ElectronicsInPlay::step_for(const std::vector<double>& misses) {
    if (stuck_ >= most_stuck_rounds) return misses;
    if (rounds_ > 0) learn(misses);
    const std::size_t count = all_.size();
    std::vector<double> step(count);
    for (std::size_t i = 0; i < count; ++i) {
        // What stands is left where it is: a figure that is on or off has nothing between.
        if (std::abs(misses[i]) > settled_figure) step[i] = dot(&answer_[i * count], misses.data(), count);
    }
    const double stretch = greatest(step) / greatest(misses);
    if (stretch > 1 / most_stretch && stretch < most_stretch) return step;
    forget();
    return misses;
}

/// True where the figures were the same some rounds ago, with only what was wanted taken since: they will come again.
/// The branches are then set as in the round of that cycle that misses least.
bool ElectronicsInPlay::leave_cycle(Network& network, const std::vector<double>& misses) {
    Round now{{}, greatest(misses)};
    if (now.miss < least_cycle) return false;
    for (const One& one : all_) now.figures.push_back(one.figure);
    const auto is_now = [&](const Round& round) {
        return std::equal(round.figures.begin(), round.figures.end(), now.figures.begin(),
                          [](double a, double b) { return std::abs(a - b) <= same_figure; });
    };
    const auto again = std::find_if(last_.rbegin(), last_.rend(), is_now);
    if (again == last_.rend()) {
        last_.push_back(std::move(now));
        if (last_.size() > longest_cycle) last_.erase(last_.begin());
        return false;
    }
    auto best = again.base() - 1;
    for (auto round = best; round != last_.end(); ++round) {
        // Which of two that miss as much a solver's last digits must not decide: it tries on and on, so that on comes
        // before off.
        const bool alike = std::abs(round->miss - best->miss) < alike_misses * best->miss;
        if (alike ? sum(round->figures) > sum(best->figures) : round->miss < best->miss) best = round;
    }
    for (std::size_t i = 0; i < all_.size(); ++i) {
        all_[i].figure = best->figures[i];
        set(network, all_[i]);
    }
    return true;
}

bool ElectronicsInPlay::move(Network& network, const OperatingPoint& point) {
    if (given_up_ || rounds_ >= most_rounds) return false;
    std::vector<double> misses;
    for (const One& one : all_) {
        std::vector<double> volts;
        for (const JointId joint : one.part->seen) volts.push_back(point.volts[joint.index]);
        misses.push_back(one.part->wanted(volts) - one.figure);
    }
    const double miss = greatest(misses);
    if (miss <= settled_figure) return false;
    if (rounds_ == 0 || miss < nearer * least_miss_) {
        least_miss_ = miss;
        if (stuck_ < most_stuck_rounds) stuck_ = 0;
    } else {
        ++stuck_;
    }
    if (stuck_ >= most_stuck_rounds && leave_cycle(network, misses)) {
        given_up_ = true;
        return true;
    }
    step_ = step_for(misses);
    for (std::size_t i = 0; i < all_.size(); ++i) {
        all_[i].figure += step_[i];
        set(network, all_[i]);
    }
    misses_ = std::move(misses);
    ++rounds_;
    return true;
}

}  // namespace voltfall
