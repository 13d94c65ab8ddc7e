// What a fault has led to by the time the vehicle comes in: a dragging motor that has opened its pack's limiter.
#pragma once

#include <map>
#include <mutex>
#include <vector>

#include "engine/heat/aftermath.hpp"

namespace voltfall {

/// Fuses are the course's matter (`solve/course`): they open in the states that a job names. A limiter opens after
/// minutes in a position that nobody need have named.
class Consequences {
public:
    Consequences(Simulator& simulator, const Circuit& circuit);

    /// Can the mode open a limiter at all? Motor faults can, where the circuit has one.
    bool possible(const FaultMode& mode) const;
    /// What is once known is kept. May be called from several threads.
    /// The limiters that the fault opens in some position within `aftermath_seconds`, as faults; empty: none.
    std::vector<Fault> of(const Fault& cause) const;
    std::vector<Fault> of(const FaultMode& cause, double size) const;

private:
    /// The positions in which some pack with a limiter carries current.
    std::vector<State> states_with_current(const Fault& cause) const;

    Simulator& simulator_;
    const Circuit& circuit_;
    HeatModel heat_;
    std::vector<State> states_;
    std::vector<ModePtr> limiters_;
    mutable std::mutex lock_;
    mutable std::map<std::pair<const FaultMode*, double>, std::vector<Fault>> known_;  ///< by mode and size
};

/// A cause that would open the limiter has done so by the time the vehicle comes in (ASSUMED).
inline constexpr double has_led_to_it = 0.5;

}  // namespace voltfall
