// A fault that comes and goes, over the moments at which somebody looked or measured.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "engine/readings/questions.hpp"
#include "engine/readings/triggers.hpp"

namespace voltfall {

/// While something is handled, the chance that a loose fault changes: at its own place, and elsewhere (ASSUMED, as
/// nobody has counted it).
inline constexpr double changes_where_handled = 0.6;
inline constexpr double changes_elsewhere = 0.1;

/// From one look or measurement to the next, with nothing handled and in the same condition, such a fault stays as it
/// is with this chance; otherwise it shows or hides anew (ASSUMED).
inline constexpr double stays_as_it_is = 0.8;

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
    std::size_t at{};                   ///< its place in the order of the readings
    bool earlier{false};                ///< at another time than those before and behind it
};

/// All moments of one vehicle under a fault that comes and goes, told in their order.
struct MomentsScore {
    double log{0};                  ///< ln of their likelihood
    std::optional<double> there{};  ///< chance that the fault is there in the last one, 0 to 1; nothing where all of
                                    ///< them are told, earlier or handled
    std::optional<Trigger> under{};  ///< the condition of that one
};
/// Of a fault that comes about so. In the first moment it shows as `shows_under` tells, without a condition in half of
/// them; in the next one of the same condition it mostly is as it was (a hidden Markov chain of two states, forward
/// algorithm: Rabiner, Proc. IEEE 77, 1989, 257). In moments that are told of it shows for certain; where something is
/// handled it changes often at the fault's own place and hardly elsewhere.
MomentsScore follow_moments(std::span<const Moment> moments, Trigger trigger);
/// ln of the likelihood alone.
double score_moments(std::span<const Moment> moments, Trigger trigger = Trigger::itself);
/// ln of the chance that people tell of these conditions, for a fault that comes about so: 0 where nothing is told.
double score_conditions_told(std::span<const Moment> moments, Trigger trigger);

/// Does the job tell that the fault is not always there: of what is so sometimes, in a condition, or while something
/// is handled?
bool tells_of_moments(const Questions& questions);

}  // namespace voltfall
