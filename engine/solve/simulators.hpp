// The two solvers of one run of the program: the core that sweeps, and ngspice, whose word counts.
#pragma once

#include <functional>
#include <memory>

#include "engine/solve/transient.hpp"

namespace voltfall {

class CoreSimulator;

/// Who solves the many cases that are only compared with each other.
enum class SweepBy { core, ngspice };

/// Hands out both solvers. ngspice is started when it is first needed (some milliseconds).
class Simulators {
public:
    /// `start` gives the process's one session; it may throw std::runtime_error where the library does not start.
    Simulators(std::function<TransientSimulator&()> start, SweepBy by);
    ~Simulators();
    Simulators(const Simulators&) = delete;
    Simulators& operator=(const Simulators&) = delete;

    /// For dictionaries: the core, or ngspice where everything shall be solved by it.
    Simulator& sweep();
    /// Cases that a person was to see and that the simulator of record gave no answer for.
    long not_confirmed() const;
    /// The simulator of record.
    TransientSimulator& of_record() { return start_(); }

private:
    class OnDemand;
    std::function<TransientSimulator&()> start_;
    SweepBy by_;
    std::unique_ptr<OnDemand> record_;
    std::unique_ptr<CoreSimulator> core_;
};

}  // namespace voltfall
