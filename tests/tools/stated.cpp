#include "tests/tools/stated.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

template <class Loss>
double mean_of(std::span<const Stated> stated, const Loss& loss) {
    double sum = 0;
    for (const auto& [probability, was_so] : stated) sum += loss(probability, was_so);
    return stated.empty() ? 0 : sum / static_cast<double>(stated.size());
}

}  // namespace

std::vector<StatedBin> bins_of(std::span<const Stated> stated) {
    constexpr std::size_t count = 10;
    std::vector<StatedBin> bins(count);
    for (std::size_t b = 0; b < count; ++b) {
        bins[b].from = static_cast<double>(b) / count;
        bins[b].to = static_cast<double>(b + 1) / count;
    }
    for (const auto& [probability, was_so] : stated) {
        StatedBin& bin = bins[std::min(count - 1, static_cast<std::size_t>(probability * count))];
        ++bin.count;
        bin.stated += probability;
        bin.was_so += was_so ? 1 : 0;
    }
    std::erase_if(bins, [](const StatedBin& bin) { return bin.count == 0; });
    for (StatedBin& bin : bins) {
        bin.stated /= static_cast<double>(bin.count);
        bin.was_so /= static_cast<double>(bin.count);
    }
    return bins;
}

double calibration_error(std::span<const Stated> stated) {
    double sum = 0;
    for (const StatedBin& bin : bins_of(stated))
        sum += static_cast<double>(bin.count) * std::abs(bin.stated - bin.was_so);
    return stated.empty() ? 0 : sum / static_cast<double>(stated.size());
}

double log_loss(std::span<const Stated> stated) {
    static constexpr double least = 1e-3;
    return mean_of(stated, [](double probability, bool was_so) {
        return -std::log(std::max(least, was_so ? probability : 1 - probability));
    });
}

double brier_score(std::span<const Stated> stated) {
    return mean_of(stated, [](double probability, bool was_so) {
        const double apart = probability - (was_so ? 1 : 0);
        return apart * apart;
    });
}

}  // namespace voltfall
