#include "engine/diagnosis/weighed.hpp"

#include <algorithm>
#include <numeric>

namespace voltfall {

namespace {

/// Probabilities (a share of the greater) that differ by no more are equal: a solver's last digits do not decide.
constexpr double same_probability = 1e-6;

/// The first so many, most probable first. Equals stand in the order of the catalogue, whatever the last digits say.
std::vector<std::size_t> ranked_of(const Weighed& weighed, std::size_t count) {
    std::vector<std::size_t> order(count);
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return weighed.chance(a) > weighed.chance(b); });
    for (auto first = order.begin(); first != order.end();) {
        const double least = weighed.chance(*first) * (1 - same_probability);
        const auto last = std::find_if(first, order.end(), [&](std::size_t i) { return weighed.chance(i) < least; });
        std::sort(first, last);
        first = last;
    }
    return order;
}

}  // namespace

std::vector<std::size_t> Weighed::ranked() const {
    return ranked_of(*this, suspects.size());
}

std::vector<std::size_t> Weighed::ranked_with_pairs() const {
    return ranked_of(*this, all());
}

}  // namespace voltfall
