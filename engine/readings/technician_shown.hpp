// What a technician's test shows while it is taken; of the technician's own files.
#pragma once

#include "engine/readings/technician.hpp"

namespace voltfall {

/// What the instrument shows of a test, with the truth behind it.
struct Technician::Shown {
    Measurement measurement;
    std::string shown;
    double truth{};
    Unit unit{Unit::none};
};

/// A test while it is taken.
struct Technician::Taken {
    State state;
    std::string words;  ///< the test as written: what is drawn at random is drawn by it
    Measured& measured;
};

}  // namespace voltfall
