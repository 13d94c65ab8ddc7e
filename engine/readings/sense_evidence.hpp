// What a person smells, feels, or sees on a scope: evidence beside volts and amps.
#pragma once

#include "engine/readings/word_evidence.hpp"

namespace voltfall {

/// P(something smells or smokes at the place | case): damage of the fault there, or heat that the fault makes there in
/// some state that the job names (a pack behind a seized motor).
double smell_probability(const SmellReading& smell, const WordContext& context);

/// Chance of a rise or temperature that a person measured at a place in a state; a steady rise of what sits there,
/// known within a factor of about two (ASSUMED: no housing's K/W is published).
double heat_probability(const HeatReading& heat, std::size_t state, const WordContext& context);
/// The same for "C303.4 hotter C303.3 25C".
double hotter_probability(const HotterReading& hotter, std::size_t state, const WordContext& context);

/// A pin that slides without drag is a joint that may have ohms or be open.
double drag_probability(const DragReading& drag, const WordContext& context);

/// A motor's current on a scope: even commutator bars, one low, gaps.
double ripple_probability(const RippleReading& ripple, const WordContext& context);

}  // namespace voltfall
