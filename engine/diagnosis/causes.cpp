#include "engine/diagnosis/causes.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "engine/readings/rounding.hpp"
#include "engine/readings/word_evidence.hpp"

namespace voltfall {

namespace {

/// Candidates that are asked for a cause, and how probable they must be.
constexpr std::size_t most_asked = 3;
constexpr double worth_asking = 0.05;
/// Causes less probable than this are not named.
constexpr double cause_worth_naming = 0.02;

/// Sizes of a cause that stand for its range.
std::vector<double> sizes_of(const FaultMode& mode) {
    if (!mode.size) return {0};
    const SizeRange& range = *mode.size;
    std::vector<double> sizes;
    constexpr int count = 4;
    const double low = scale_of(range, range.low);
    const double high = scale_of(range, range.high);
    for (int i = 0; i < count; ++i) sizes.push_back(size_of(range, low + (high - low) * (i + 0.5) / count));
    return sizes;
}

class CauseFinder {
public:
    CauseFinder(const Circuit& circuit, const Weighed& weighed)
        : circuit_(circuit), weighed_(weighed), predictor_(*weighed.predictor), scorer_(weighed.questions) {}

    std::vector<LikelyCause> causes_of(const Suspect& victim) const {
        const ModePtr element = shared(victim.mode);
        const double alone = std::log(victim.prior) + victim.log_evidence;
        std::vector<const FaultMode*> found;
        std::vector<double> logs{alone};
        for (const Suspect& cause : weighed_.suspects) {
            if (!cause.mode || cause.mode == victim.mode || !predictor_.consequences().possible(*cause.mode)) continue;
            const double weight = weight_behind(cause, element);
            if (weight == -std::numeric_limits<double>::infinity()) continue;
            logs.push_back(weight);
            found.push_back(cause.mode);
        }
        const std::vector<double> shares = weights_of_logs(logs);
        std::vector<LikelyCause> causes;
        for (std::size_t i = 0; i < found.size(); ++i) {
            if (shares[i + 1] >= cause_worth_naming)
                causes.push_back({found[i]->phrase(), found[i]->place, nine_digits(shares[i + 1])});
        }
        std::stable_sort(causes.begin(), causes.end(),
                         [](const LikelyCause& a, const LikelyCause& b) { return a.probability > b.probability; });
        return causes;
    }

private:
    ModePtr shared(const FaultMode* mode) const {
        const auto found = std::find_if(circuit_.modes.begin(), circuit_.modes.end(),
                                        [&](const ModePtr& row) { return row.get() == mode; });
        return *found;
    }

    /// Does the cause at this size open the element in some position?
    bool opens(const Fault& cause, const ModePtr& element) const {
        const std::vector<Fault> opened = predictor_.consequences().of(cause);
        return std::any_of(opened.begin(), opened.end(), [&](const Fault& fault) { return fault.mode == element; });
    }

    /// Logarithm of prior times the likelihood of the readings with both faults, over the sizes that open the element.
    double weight_behind(const Suspect& cause, const ModePtr& element) const {
        const std::vector<double> sizes = sizes_of(*cause.mode);
        double sum = -std::numeric_limits<double>::infinity();
        for (const double size : sizes) {
            const Fault fault{shared(cause.mode), size, 0.5, {}, {}};
            if (!opens(fault, element)) continue;
            const Fault opened{element, 0, 0.5, {}, {}};
            const Prediction both =
                predictor_.predict(cause.mode, {size, 0.5, World::as_stated, std::span(&opened, 1)});
            if (both.ok) sum = log_add(sum, scorer_.score(both) - std::log(static_cast<double>(sizes.size())));
        }
        return sum + std::log(cause.prior * has_led_to_it);
    }

    const Circuit& circuit_;
    const Weighed& weighed_;
    const Predictor& predictor_;
    Scorer scorer_;
};

}  // namespace

void add_causes(MatchAnswer& answer, const Circuit& circuit, const Weighed& weighed,
                const std::vector<std::size_t>& list) {
    std::optional<CauseFinder> finder;
    for (std::size_t k = 0; k < list.size() && k < most_asked; ++k) {
        const Suspect& suspect = weighed.suspects[list[k]];
        if (suspect.probability < worth_asking || !suspect.mode || !suspect.mode->is(ModeFact::limiter_open)) continue;
        if (!finder) finder.emplace(circuit, weighed);
        answer.candidates[k].caused_by = finder->causes_of(suspect);
    }
}

}  // namespace voltfall
