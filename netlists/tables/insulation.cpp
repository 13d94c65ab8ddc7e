#include "netlists/tables/insulation.hpp"

#include <cmath>
#include <limits>
#include <numbers>

namespace voltfall {

double melt_through_seconds(double metal_celsius, double start_celsius, double melts_at_celsius, double wall_mm) {
    constexpr double diffusivity = 1.1e-7;  // m2/s, PVC
    if (metal_celsius <= melts_at_celsius) return std::numeric_limits<double>::infinity();
    if (start_celsius >= melts_at_celsius) return 0;
    const double wall = wall_mm / 1000;
    const double delay = 4 * wall * wall / (std::numbers::pi * std::numbers::pi * diffusivity);
    return delay * std::log((metal_celsius - start_celsius) / (metal_celsius - melts_at_celsius));
}

}  // namespace voltfall
