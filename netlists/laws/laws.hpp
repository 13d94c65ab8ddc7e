// The laws of branches: all that a solver knows of a part.
#pragma once

#include <variant>

#include "netlists/laws/diode.hpp"
#include "netlists/laws/motor.hpp"
#include "netlists/laws/resistor.hpp"
#include "netlists/laws/source.hpp"

namespace voltfall {

/// Holds its alternatives only if each is a branch law.
template <BranchLaw... Laws>
using LawOf = std::variant<Laws...>;

/// A new law is a file of its own and its name here.
using Law = LawOf<Resistor, Contact, Source, Diode, Motor>;

}  // namespace voltfall
