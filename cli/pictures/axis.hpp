// Round numbers for axes.
#pragma once

#include <cmath>

namespace voltfall {

/// 1, 2 or 5 times a power of ten, so that an axis to `most` has four to eight steps.
inline double axis_step(double most) {
    const double power = std::pow(10.0, std::floor(std::log10(most / 4)));
    const double share = most / 4 / power;
    return (share >= 5 ? 5 : share >= 2 ? 2 : 1) * power;
}

/// The end of an axis that holds `most`, a whole number of steps.
inline double axis_end(double most) {
    const double step = axis_step(most);
    return step * std::ceil(most / step - 1e-9);
}

}  // namespace voltfall
