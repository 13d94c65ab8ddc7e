// The laws of branches: all that a solver knows of a part.
#pragma once

#include <type_traits>
#include <variant>

#include "netlists/laws/diode.hpp"
#include "netlists/laws/motor.hpp"
#include "netlists/laws/resistor.hpp"
#include "netlists/laws/source.hpp"
#include "netlists/laws/stage.hpp"

namespace voltfall {

/// Holds its alternatives only if each is a branch law.
template <BranchLaw... Laws>
using LawOf = std::variant<Laws...>;

/// A new law is a file of its own and its name here.
using Law = LawOf<Resistor, Contact, Source, Diode, Motor, Stage>;

inline LawSort sort_of(const Law& law) {
    return std::visit([](const auto& of) { return std::decay_t<decltype(of)>::sort; }, law);
}
inline std::optional<double> plain_ohms(const Law& law) {
    return std::visit([](const auto& of) { return of.plain_ohms(); }, law);
}
inline bool conducts(const Law& law) {
    return std::visit([](const auto& of) { return of.conducts(); }, law);
}

}  // namespace voltfall
