// A fault that comes and goes, over the moments at which somebody looked or measured.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

#include "engine/readings/questions.hpp"
#include "engine/readings/triggers.hpp"

namespace voltfall {

/// While something is handled, the chance that a loose fault changes: at its own place, and elsewhere (ASSUMED, as
/// nobody has counted it).
inline constexpr double changes_where_handled = 0.6;
inline constexpr double changes_elsewhere = 0.1;

/// What is only sometimes so: said of a fault that comes and goes, and of one that is always there (ASSUMED).
inline constexpr double sometimes_if_loose = 0.6;
inline constexpr double sometimes_if_lasting = 0.15;

/// One look or measurement, ln of its likelihood either way.
struct Moment {
    double shows{};                     ///< while the fault is there
    double hides{};                     ///< while all is as it should be
    bool handled{false};                ///< something was wiggled, tapped or turned
    bool handled_here{false};           ///< and it was where the fault sits
    std::optional<std::size_t> beside;  ///< what it changed: the moment before, or one told of, with nothing handled
    bool told{false};                   ///< it is said that the fault showed in it: "sometimes dead"
    std::optional<Trigger> under{};     ///< a condition that was made in it
};

/// ln of the likelihood of all moments of a fault that comes about so. Without a condition the fault shows in half of
/// them, each time anew, with one as `shows_under` tells, and in those that are told of for certain; where something is
/// handled it changes often at the fault's own place and hardly elsewhere.
double score_moments(std::span<const Moment> moments, Trigger trigger = Trigger::itself);
/// ln of the chance that people tell of these conditions, for a fault that comes about so: 0 where nothing is told.
double score_conditions_told(std::span<const Moment> moments, Trigger trigger);

/// Does the job tell that the fault is not always there: of what is so sometimes, in a condition, or while something
/// is handled?
bool tells_of_moments(const Questions& questions);

}  // namespace voltfall
