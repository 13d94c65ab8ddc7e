// The seam behind which a start is followed in time: a network in, currents and speeds over the seconds back.
#pragma once

#include <string>
#include <vector>

#include "engine/solve/simulator.hpp"

namespace voltfall {

/// What to follow and how far. The step control takes what steps it needs, none longer than `longest_step`.
struct TransientRun {
    double seconds{};
    double longest_step{};
    std::vector<BranchId> watched;
};

/// Waveforms from 0 s, where nothing flows and all stands, in the simulator's own steps.
struct Transient {
    std::vector<double> seconds;
    std::vector<std::vector<double>> amps;   ///< by watched branch; NaN for one of zero ohms
    std::vector<std::vector<double>> speed;  ///< by watched branch, rad/s; 0 for what is no motor
};

using TransientResult = tl::expected<Transient, SolveFailure>;

class TransientSimulator : public Simulator {
public:
    /// Switches the network on at 0 s with all motors at standstill (a seized one stays so). Contacts and opens are
    /// taken as given.
    virtual TransientResult transient(const Network& network, const TransientRun& wanted) = 0;
    /// Name and version of the library that solves: "ngspice-39.3".
    virtual std::string version() const = 0;
};

}  // namespace voltfall
