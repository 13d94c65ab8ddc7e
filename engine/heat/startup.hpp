// Motors that start from standstill: their inrush, and the pulse that each fuse takes.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "engine/heat/fuse_pulse.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/transient.hpp"

namespace voltfall {

/// How one motor starts. Times are from switching on; amperes are sizes, the speed is signed.
struct MotorStart {
    BranchId winding;
    std::string name;
    double peak_amps{};
    double peak_seconds{};
    std::optional<double> to_63;  ///< seconds to 63 % of the speed at which it settles; nothing when not reached
    std::optional<double> to_95;
    double end_amps{};  ///< at the end of the time followed
    double end_rpm{};
    bool started{};  ///< it turns at the end
    Waveform amps;   ///< at most `drawn_points`
};

struct FuseStart {
    PartId part;
    std::string name;
    double rating{};  ///< of the fuse fitted, amperes
    FusePulse pulse;
    Waveform amps;  ///< at most `drawn_points`
};

struct StartUp {
    double seconds{};                ///< the time followed
    std::vector<MotorStart> motors;  ///< in the circuit's order
    std::vector<FuseStart> fuses;    ///< in the circuit's order; those of zero ohms have no current of their own
};

using StartUpResult = tl::expected<StartUp, SolveFailure>;

/// Points that are enough to draw a waveform.
inline constexpr std::size_t drawn_points = 200;

/// Switches a state on at 0 s, all motors at standstill, and follows it for `seconds`. Relays, switches and opens stand
/// as they are when the state has settled: a relay that sags during the inrush is not seen. Fuses stay whole, so what
/// follows an opening is the course's affair (`run_course`). Equations: reference parts 1.4.
StartUpResult run_startup(TransientSimulator& simulator, const Circuit& circuit, const State& state,
                          std::span<const Fault> faults, double seconds);

/// The same for a case that has settled already.
StartUpResult run_startup(TransientSimulator& simulator, const Settled& settled, double seconds);

}  // namespace voltfall
