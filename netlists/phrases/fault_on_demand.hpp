// Faults that no catalogue row holds, because all pairs would grow with the square.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// A row built for one phrase, or why it cannot be: a message without its place and a suggestion.
struct CannotBuild {
    ProblemCode code;
    std::string message;
    std::string suggestion;
};
using BuiltMode = tl::expected<ModePtr, CannotBuild>;

/// `542 bridge 555`: the same share of both wires touches.
BuiltMode build_wire_bridge(const Circuit& circuit, WireId wire, std::string_view other);

/// `C310 bridge 1-3`: water or whiskers between two cavities of one connector, plug or part that plugs in.
BuiltMode build_cavity_bridge(const Circuit& circuit, std::string_view connector, std::string_view pair);

/// `swapped 541 555`: where both wires end at one part or connector they have changed places there; where they share
/// both ends or none, their last-written ends have.
BuiltMode build_swapped(const Circuit& circuit, std::string_view first, std::string_view second);

/// `nothing`: no fault found.
ModePtr build_nothing();

}  // namespace voltfall
