#include "engine/heat/gap_sizes.hpp"

#include <cmath>
#include <cstdint>
#include <utility>

#include "netlists/text/digits.hpp"

namespace voltfall {

std::vector<double> sizes_tried(const FaultMode& mode) {
    if (!mode.size) return {0};
    const SizeRange& range = *mode.size;
    // As it is told, so that the phrase typed again gives the same watts.
    const double middle =
        significant(range.logarithmic ? std::sqrt(range.low * range.high) : (range.low + range.high) / 2, 2);
    return {range.usual, middle, range.low, range.high};
}

tl::expected<std::optional<double>, SolveFailure> size_borne(Simulator& simulator, const Circuit& circuit,
                                                             const ModePtr& mode, const State& state) {
    constexpr int halvings = 12;
    std::optional<SolveFailure> lost;
    const auto opens = [&](double size) {
        const Fault fault{mode, size, 0.5, {}, {}};
        const SettleResult settled = settle(simulator, circuit, state, std::span(&fault, 1));
        if (!settled) {
            lost = settled.error();
            return false;
        }
        for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
            if (opening_seconds(*settled, {i})) return true;
        }
        return false;
    };
    double holding = mode->size->low;
    double opening = mode->size->high;
    const bool low_opens = opens(holding);
    const bool high_opens = opens(opening);
    if (lost) return tl::unexpected(*lost);
    if (low_opens == high_opens) return std::nullopt;
    if (low_opens) std::swap(holding, opening);
    for (int i = 0; i < halvings; ++i) {
        const double middle = (holding + opening) / 2;
        (opens(middle) ? opening : holding) = middle;
    }
    if (lost) return tl::unexpected(*lost);
    return holding;
}

}  // namespace voltfall
