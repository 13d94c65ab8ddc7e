#include "engine/diagnosis/suspect_trials.hpp"

#include <algorithm>

namespace voltfall {

namespace {

ModePtr row_of(const Circuit& circuit, const FaultMode* mode) {
    return *std::find_if(circuit.modes.begin(), circuit.modes.end(),
                         [&](const ModePtr& row) { return row.get() == mode; });
}

}  // namespace

SuspectTrials::SuspectTrials(const Circuit& circuit, const Suspect& suspect, std::size_t count) {
    if (!suspect.second) {
        for (const SizeSample& sample : size_samples(suspect, count)) {
            list.push_back({sample.size, sample.where, suspect.world()});
            shares.push_back(sample.share);
        }
        return;
    }
    const SecondFault& second = *suspect.second;
    const ModePtr row = row_of(circuit, second.mode);
    const std::size_t sizes = std::min(std::max<std::size_t>(count, 1), second.sizes.size());
    double sum = 0;
    for (std::size_t i = 0; i < sizes; ++i) {
        seconds_.push_back({row, second.sizes[i].second, second.where, {}, {}});
        sum += second.sizes[i].share;
    }
    for (std::size_t i = 0; i < sizes; ++i) {
        list.push_back(
            {second.sizes[i].first, suspect.best.where, World::as_stated, std::span<const Fault>(&seconds_[i], 1)});
        shares.push_back(second.sizes[i].share / sum);
    }
}

std::vector<Fault> faults_at_best(const Circuit& circuit, const Suspect& suspect) {
    std::vector<Fault> faults;
    if (suspect.mode) faults.push_back({row_of(circuit, suspect.mode), suspect.best.size, suspect.best.where, {}, {}});
    if (suspect.second)
        faults.push_back({row_of(circuit, suspect.second->mode),
                          suspect.second->sizes.front().second,
                          suspect.second->where,
                          {},
                          {}});
    return faults;
}

}  // namespace voltfall
