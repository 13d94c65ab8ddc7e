// A fault that comes and goes, over the moments at which somebody looked or measured.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace voltfall {

/// One look or measurement, ln of its likelihood either way.
struct Moment {
    double shows{};                     ///< while the fault is there
    double hides{};                     ///< while all is as it should be
    bool handled{false};                ///< something was wiggled, tapped or turned
    bool handled_here{false};           ///< and it was where the fault sits
    std::optional<std::size_t> beside;  ///< the moment before, of the same state with nothing handled
};

/// ln of the likelihood of all moments. By itself the fault shows in half of them, each time anew; where something is
/// handled it changes often at the fault's own place and hardly elsewhere.
double score_moments(std::span<const Moment> moments);

}  // namespace voltfall
