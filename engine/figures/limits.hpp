// The lines of [limits] that a solved circuit can be held to: amperes, feed and ground drops.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// One line of [limits] beside what the circuit does.
struct LimitFigure {
    std::string key;   ///< "feed"
    std::string what;  ///< "feed of M1", "M1"
    std::optional<double> low;
    double high{};
    std::string unit;  ///< "V", "A"
    double healthy{};
    double faulted{};

    bool holds(double value) const { return value <= high && (!low || value >= *low); }
};

/// Every limit that this state tells of, healthy and faulted (just after the state is set). Limits on amperes are
/// compared at the supply that they name.
tl::expected<std::vector<LimitFigure>, SolveFailure> check_limits(Simulator& simulator, const Circuit& circuit,
                                                                  const State& state, std::span<const Fault> faults,
                                                                  const Settled& healthy, const Settled& faulted);

/// The line of [limits] for the amperes of this load in this position of the controls; null where there is none.
const Limit* amps_limit(const Circuit& circuit, const State& state, PartId load);
/// Amperes of the sound load with the battery's posts at `volts`.
tl::expected<double, SolveFailure> sound_amps_at(Simulator& simulator, const Circuit& circuit, const State& state,
                                                 PartId load, double volts);
/// The most volts that [limits] allows between battery plus and a load ("feed") or between a ground and battery minus
/// ("ground"); nullopt where the file says nothing.
std::optional<double> drop_limit(const Circuit& circuit, std::string_view key);

/// Limits of other things (a temperature), each with the reason why no figure stands beside it.
std::vector<std::string> limits_not_checked(const Circuit& circuit);

}  // namespace voltfall
