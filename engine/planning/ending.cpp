#include "engine/planning/ending.hpp"

#include <algorithm>

#include "engine/planning/information.hpp"

namespace voltfall {

namespace {

bool opens_no_more(const TestOffer& test, const TestOffer& first) {
    return std::all_of(test.openings.begin(), test.openings.end(), [&](std::size_t opening) {
        return std::find(first.openings.begin(), first.openings.end(), opening) != first.openings.end();
    });
}

}  // namespace

std::vector<bool> worth_their_minutes(std::span<const double> shares, std::span<const TestOffer> offers,
                                      double wrong_repair) {
    std::vector<bool> worth(offers.size(), false);
    const double most = shares.empty() ? 0 : *std::max_element(shares.begin(), shares.end());
    const double at_stake = (1 - most) * wrong_repair;
    const double doubt = entropy(shares);
    if (doubt <= 0) return worth;
    const auto pays = [&](double bits, double minutes) { return minutes < at_stake * std::min(1.0, bits / doubt); };
    std::vector<const TestOffer*> by_bits;
    for (const TestOffer& offer : offers) by_bits.push_back(&offer);
    std::stable_sort(by_bits.begin(), by_bits.end(),
                     [](const TestOffer* a, const TestOffer* b) { return a->bits > b->bits; });
    for (std::size_t i = 0; i < offers.size(); ++i) {
        const TestOffer& first = offers[i];
        double bits = first.bits;
        double minutes = first.minutes;
        worth[i] = pays(bits, minutes);
        if (first.openings.empty()) continue;
        for (const TestOffer* behind : by_bits) {
            if (worth[i]) break;
            if (behind == &first || !opens_no_more(*behind, first)) continue;
            bits += behind->bits;
            minutes += behind->own_minutes;
            worth[i] = pays(bits, minutes);
        }
    }
    return worth;
}

}  // namespace voltfall
