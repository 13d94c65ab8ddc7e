// Random numbers: the same seed gives the same ones on every machine.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

namespace voltfall {

/// splitmix64 (Steele, Lea, Flood 2014).
class RandomNumbers {
public:
    explicit RandomNumbers(std::uint64_t seed) : state_(seed) {}
    /// Numbers for one purpose: other purposes with the same seed draw others.
    RandomNumbers(std::uint64_t seed, std::string_view purpose) : state_(seed) {
        for (const char c : purpose) state_ = (state_ ^ static_cast<unsigned char>(c)) * 1099511628211ULL;
        next();
    }

    std::uint64_t next() {
        std::uint64_t value = state_ += 0x9e3779b97f4a7c15ULL;
        value = (value ^ (value >> 30)) * 0xbf58476d1ce4e5b9ULL;
        value = (value ^ (value >> 27)) * 0x94d049bb133111ebULL;
        return value ^ (value >> 31);
    }
    /// 0 to below 1.
    double share() { return static_cast<double>(next() >> 11) * 0x1p-53; }
    /// 0 to below `count`.
    std::size_t below(std::size_t count) { return static_cast<std::size_t>(share() * static_cast<double>(count)); }
    /// An index by weight; the last one where rounding leaves nothing. Weights are not negative, their sum is positive.
    std::size_t by_weight(std::span<const double> weights) {
        double sum = 0;
        for (const double weight : weights) sum += weight;
        double left = share() * sum;
        for (std::size_t i = 0; i < weights.size(); ++i) {
            if (left < weights[i]) return i;
            left -= weights[i];
        }
        return weights.size() - 1;
    }

private:
    std::uint64_t state_;
};

}  // namespace voltfall
