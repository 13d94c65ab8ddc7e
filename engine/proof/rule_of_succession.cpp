#include "engine/proof/rule_of_succession.hpp"

namespace voltfall {

double chance_unseen(std::size_t failed, std::size_t runs, std::size_t sound) {
    // B(a, b + k) / B(a, b) = product of (b + i) / (a + b + i) for i below k.
    const double a = static_cast<double>(failed) + 1;
    const double b = static_cast<double>(runs - failed) + 1;
    double chance = 1;
    for (std::size_t i = 0; i < sound; ++i) chance *= (b + static_cast<double>(i)) / (a + b + static_cast<double>(i));
    return chance;
}

std::size_t sound_runs_needed(std::size_t failed, std::size_t runs) {
    // A fault that never showed cannot be counted away: the bound keeps the search finite.
    constexpr std::size_t most = 99;
    std::size_t sound = 0;
    while (sound < most && chance_unseen(failed, runs, sound) > unseen_at_most) ++sound;
    return sound;
}

}  // namespace voltfall
