#include "engine/planning/seen_sizes.hpp"

#include <algorithm>
#include <cmath>

#include "engine/diagnosis/size_curve.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// A size is seen when it moves the reading by this many sigma.
constexpr double seen_sigmas = 2;

}  // namespace

SeenSizes::SeenSizes(const Outlook& outlook) : outlook_(outlook) {
    const auto& groups = outlook_.standings.groups;
    // What a test sees of one size is another thing where a second fault stands beside it.
    if (!groups.empty() && outlook_.suspect(groups.front().suspects.front()).is_pair()) return;
    for (const std::size_t i : outlook_.weighed->ranked()) {
        if (outlook_.suspect(i).probability < 0.005) break;
        if (!outlook_.suspect(i).mode || !outlook_.suspect(i).mode->size) continue;
        // Volts and amps do not show how far a system outside the circuit is off.
        if (outlook_.suspect(i).mode->is(ModeFact::outside_circuit)) continue;
        sized_ = i;
        break;
    }
    if (!sized_) return;
    const SizeRange& range = *outlook_.suspect(*sized_).mode->size;
    const auto count = static_cast<std::size_t>(default_value("grid_sizes"));
    for (std::size_t k = 0; k < count; ++k) {
        const double low = scale_of(range, range.low);
        const double share = static_cast<double>(k) / static_cast<double>(count - 1);
        sizes_.push_back(size_of(range, low + (scale_of(range, range.high) - low) * share));
    }
    const Suspect& sized = outlook_.suspect(*sized_);
    std::vector<Trial> trials;
    for (const double size : sizes_) trials.push_back({size, sized.best.where, sized.world()});
    at_size_ = outlook_.predictor.predict_all(sized.mode, trials);
    at_size_.push_back(outlook_.predictor.predict(nullptr, {}));
}

std::string SeenSizes::seen_by(const TestCandidate& test) const {
    const bool is_number = test.kind == TestKind::volts || test.kind == TestKind::clamp;
    if (!sized_ || !is_number || !at_size_.back().ok) return {};
    const SizeRange& range = *outlook_.suspect(*sized_).mode->size;
    const double healthy = at_size_.back().mean[test.cell];
    const double sigma =
        read_sigma(at_size_.back().variance[test.cell], instrument_sigma_at(outlook_.job, test.kind, healthy));
    const auto moved = [&](std::size_t k) {
        return at_size_[k].ok ? std::abs(at_size_[k].mean[test.cell] - healthy) / sigma : 0.0;
    };
    // A factor below 1 grows worse downwards.
    const bool downwards = range.high <= 1 && range.unit == Unit::none;
    const std::size_t count = sizes_.size();
    double before = 0;
    for (std::size_t n = 0; n < count; ++n) {
        const std::size_t k = downwards ? count - 1 - n : n;
        const double now = moved(k);
        if (now >= seen_sigmas) {
            double size = sizes_[k];
            if (n > 0 && now > before) {
                const double t = (seen_sigmas - before) / (now - before);
                const double from = scale_of(range, sizes_[downwards ? k + 1 : k - 1]);
                size = size_of(range, from + t * (scale_of(range, sizes_[k]) - from));
            }
            return outlook_.suspect(*sized_).mode->phrase() + " of " + two_digits(size, range.unit) +
                   (downwards ? " or less" : " or more");
        }
        before = now;
    }
    return "nothing of " + outlook_.suspect(*sized_).phrase() + " at any size; it separates the other suspects";
}

}  // namespace voltfall
