// What the readings so far say of every repair: the learner's suspicion is held against it.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/match.hpp"
#include "engine/lessons/section.hpp"

namespace voltfall {

/// Probabilities after some readings. With `nothing` and `none` the modes sum to 1.
struct Belief {
    std::vector<double> modes;  ///< by mode of the catalogue
    double nothing{};
    double none{};

    double in(const Section& section) const;
};

Belief belief_of(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options);

/// Everything that one and the same repair would mend, with its probability; most probable first.
struct RepairShare {
    std::string repair;  ///< "C101.4", "M1"; "nothing" for a sound vehicle
    double probability{};
    bool nothing{false};  ///< the sound vehicle
};
std::vector<RepairShare> by_repair(const Circuit& circuit, const Belief& belief);
double share_of(const std::vector<RepairShare>& shares, const std::string& repair);

/// The same of a whole plug or splice with all that is in it.
double share_mended_by(const std::vector<RepairShare>& shares, const std::string& target);

/// Bits that the step from one belief to the next told of the repair (Kullback-Leibler).
double bits_told(const Circuit& circuit, const Belief& before, const Belief& after);

/// Repairs that were worth a thought before and are out of the question now, most probable first.
std::vector<std::string> ruled_out_between(const Circuit& circuit, const Belief& before, const Belief& after);

}  // namespace voltfall
