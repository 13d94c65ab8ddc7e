// What happens to a case with time: fuses that open, limiters that open, things that reach the temperature that harms
// them, one after the other.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/heat/bodies.hpp"
#include "netlists/tables/fuse_model.hpp"

namespace voltfall {

enum class HeatEventKind {
    fuse_opens,
    breaker_closes,  ///< one that resets by itself has cooled
    limiter_opens,
    harmed,  ///< a body reaches the temperature that harms it; the circuit stays as it is
};

/// One thing that happens by itself.
struct HeatEvent {
    HeatEventKind kind{HeatEventKind::harmed};
    double seconds{};
    std::optional<double> earliest;  ///< of a fuse: its quickest and slowest parts, where nothing opened before it
    std::optional<double> latest;
    PartId part;  ///< of a fuse or pack
    std::string name;
    std::string what;  ///< "F7 opens", "R1 limiter opens at 121 C", "M1 winding reaches 155 C"
    double watts{};    ///< made in the body then; a fuse: 0
    double amps{};     ///< through the body or fuse then
    BodyKind body{BodyKind::wire};
    bool goes_on{false};  ///< harmed, and in the end it still heats: nothing has protected it
};

/// A body as it is when the time is over.
struct BodyHeat {
    std::string name;
    BodyKind kind{BodyKind::wire};
    double celsius{};
    double hottest{};  ///< °C, of all the time
    double limit{};
    double ambient{};
    double watts{};          ///< just after the state is set
    double healthy_watts{};  ///< in the same state without faults
};

struct Aftermath {
    Settled faulted;  ///< just after the state is set
    std::vector<HeatEvent> events;
    std::optional<Settled> after;  ///< nothing when no event changed the circuit
    std::vector<PartId> opened;    ///< fuses
    std::vector<BodyHeat> bodies;  ///< the warmest first
    double seconds{};              ///< how long it was followed

    const Settled& end() const { return after ? *after : faulted; }
};
using AftermathResult = tl::expected<Aftermath, SolveFailure>;

/// With the temperatures of all bodies, or without.
enum class HeatReport { bodies, events_only };

/// Follows a case for `seconds` from cold (fuses at `ambient_fuse`, everything else at the temperature around it).
/// Currents are those of the settled circuit: the start-up of a motor is the transient's matter. `opened` fuses stand
/// open from the start.
AftermathResult run_aftermath(Simulator& simulator, const HeatModel& model, const State& state,
                              std::span<const Fault> faults, double seconds, std::span<const PartId> opened = {},
                              HeatReport report = HeatReport::bodies);

}  // namespace voltfall
