// The pressure or temperature that moves a contact, with the figures at which the contact opens and closes.
#pragma once

#include <optional>

#include "netlists/text/quantity.hpp"

namespace voltfall {

/// Pa over the air's pressure, or °C, by `unit`. Between `opens` and `closes` the contact stands as it last did.
struct MovingQuantity {
    Unit unit{Unit::pascal};
    double opens{};
    double closes{};
    std::optional<double> healthy;  ///< what it is while all is well, where the file says
    bool closes_above{true};        ///< closed at high values (a low-pressure switch), else at low ones
    bool rests_closed{true};        ///< how the contact stands while all is well

    /// Where the contact leaves its healthy position.
    double threshold() const { return rests_closed ? opens : closes; }
    /// Where it is back in its healthy position for certain.
    double back() const { return rests_closed ? closes : opens; }
    /// Does it leave its healthy position below the threshold, or above?
    bool leaves_below() const { return closes_above == rests_closed; }
};

}  // namespace voltfall
