// How matching takes each kind of measurement. A new measurement does not compile until it has its facts.
#pragma once

#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// What of a solved case a measurement is held against.
enum class WeighedAs : unsigned char {
    numbers,  ///< volts or amperes of its states, as a number
    cells,    ///< the same, as a word
    states,   ///< its states as a whole
    whole,    ///< all states, or none
    nothing,  ///< it is kept, and said not to be weighed
};

struct MeasurementFacts {
    WeighedAs weighed{WeighedAs::nothing};
    bool own_supply{false};   ///< the meter drives its own current: nothing is fed, so nothing blows
    bool of_a_moment{false};  ///< another look may show another thing: a load's word, a lamp; not a burnt plug
    bool of_a_load{false};    ///< how a load, the air or a relay goes, by eye or ear
    double anything{0.4};     ///< chance of the word when the cause is unknown (ASSUMED)
};

MeasurementFacts facts_of(const Measurement& measurement);

/// A duty as it is weighed: the mean volts that an ordinary meter shows of it, its share of the supply's volts.
VoltsReading mean_volts(const DutyReading& duty, double supply);

/// Is it taken in a state that must be solved?
bool needs_state(const Measurement& measurement);

}  // namespace voltfall
