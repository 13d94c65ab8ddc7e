#include "engine/heat/waveform.hpp"

#include <algorithm>
#include <cmath>
#include <queue>

namespace voltfall {

namespace {

/// A stretch between two kept points, and the point in it that the straight line misses by the most.
struct Stretch {
    std::size_t first;
    std::size_t last;
    std::size_t worst;
    double miss;

    bool operator<(const Stretch& other) const { return miss < other.miss; }
};

double straight(const Waveform& wave, std::size_t from, std::size_t to, double when) {
    const double span = wave.seconds[to] - wave.seconds[from];
    const double share = span > 0 ? (when - wave.seconds[from]) / span : 0;
    return wave.values[from] + share * (wave.values[to] - wave.values[from]);
}

Stretch stretch(const Waveform& wave, std::size_t first, std::size_t last) {
    Stretch found{first, last, first, -1};
    for (std::size_t i = first + 1; i < last; ++i) {
        const double miss = std::abs(wave.values[i] - straight(wave, first, last, wave.seconds[i]));
        if (miss > found.miss) {
            found.worst = i;
            found.miss = miss;
        }
    }
    return found;
}

}  // namespace

double Waveform::at(double when) const {
    if (seconds.empty()) return 0;
    const auto next =
        static_cast<std::size_t>(std::lower_bound(seconds.begin(), seconds.end(), when) - seconds.begin());
    if (next == 0) return values.front();
    return next == seconds.size() ? values.back() : straight(*this, next - 1, next, when);
}

std::optional<double> Waveform::reaches(double level) const {
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double now = std::abs(values[i]);
        if (now < level) continue;
        const double before = i == 0 ? now : std::abs(values[i - 1]);
        if (!(now > before)) return seconds[i];
        return seconds[i - 1] + (seconds[i] - seconds[i - 1]) * (level - before) / (now - before);
    }
    return std::nullopt;
}

std::size_t Waveform::peak() const {
    const auto largest =
        std::max_element(values.begin(), values.end(), [](double a, double b) { return std::abs(a) < std::abs(b); });
    return static_cast<std::size_t>(largest - values.begin());
}

Waveform thinned(const Waveform& whole, std::size_t most) {
    if (whole.values.size() <= most) return whole;
    std::vector<std::size_t> kept{0, whole.peak(), whole.values.size() - 1};
    std::sort(kept.begin(), kept.end());
    kept.erase(std::unique(kept.begin(), kept.end()), kept.end());
    std::priority_queue<Stretch> stretches;
    for (std::size_t i = 1; i < kept.size(); ++i) stretches.push(stretch(whole, kept[i - 1], kept[i]));
    while (kept.size() < most && stretches.top().miss > 0) {
        const Stretch worst = stretches.top();
        stretches.pop();
        kept.push_back(worst.worst);
        stretches.push(stretch(whole, worst.first, worst.worst));
        stretches.push(stretch(whole, worst.worst, worst.last));
    }
    std::sort(kept.begin(), kept.end());
    Waveform thin;
    for (const std::size_t i : kept) {
        thin.seconds.push_back(whole.seconds[i]);
        thin.values.push_back(whole.values[i]);
    }
    return thin;
}

}  // namespace voltfall
