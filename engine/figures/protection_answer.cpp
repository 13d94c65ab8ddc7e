#include "engine/figures/protection_answer.hpp"

#include <algorithm>

#include "engine/diagnosis/priors.hpp"
#include "engine/heat/heat_values.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

namespace {

void put_likely_first(const Circuit& circuit, std::vector<ProtectionGap>& gaps) {
    const Priors priors = priors_of(circuit, Job{});
    std::stable_sort(gaps.begin(), gaps.end(), [&](const ProtectionGap& a, const ProtectionGap& b) {
        return priors.modes[a.mode] > priors.modes[b.mode];
    });
}

}  // namespace

bool ProtectAnswer::ok() const {
    return std::all_of(protection.fuses.begin(), protection.fuses.end(), [](const FuseGuard& fuse) {
        return std::all_of(fuse.wires.begin(), fuse.wires.end(), [](const WireVerdict& wire) { return wire.ok(); });
    });
}

tl::expected<ProtectAnswer, SolveFailure> protection_answer(Simulator& simulator, const Circuit& circuit,
                                                            std::span<const State> states, std::size_t shown) {
    const HeatModel heat(simulator, circuit);
    ProtectionResult protection = judge_protection(simulator, heat, states);
    if (!protection) return tl::unexpected(protection.error());
    ProtectAnswer answer{circuit.name, *std::move(protection), assumed_heat(circuit)};
    put_likely_first(circuit, answer.protection.gaps);
    confirm_gaps(simulator, circuit, states, answer.protection.gaps, shown);
    return answer;
}

}  // namespace voltfall
