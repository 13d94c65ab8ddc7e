// Motor constants from the nameplate.
#pragma once

#include "netlists/laws/laws.hpp"

namespace voltfall {

/// What a nameplate and a bench test say. Volts, amperes, revolutions per minute.
struct Nameplate {
    double volts{};
    double amps{};
    double rpm{};
    double stall_amps{};
    double idle_amps{};  ///< with no fan
    double brush_volts{};
};

/// Ra = (V - Vb)/Istall; K = (V - Vb - I Ra)/w; Tf = K Iidle; kq = (K I - Tf)/w^2 (reference parts 1.4).
Motor motor_from_nameplate(const Nameplate& plate);

/// Shaft speed of a nameplate figure in rad/s.
double radians_per_second(double rpm);

}  // namespace voltfall
