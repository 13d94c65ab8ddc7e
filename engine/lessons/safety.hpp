// What ends an exercise at once, and why.
#pragma once

#include <optional>
#include <string>

#include "engine/lessons/bench.hpp"

namespace voltfall {

/// Why this test harms someone or something: a jumper around a fuse or onto a short, a lead or lamp in a connector of
/// airbags, a lamp on an electronic output or in another closed place. Nothing when it is safe. `state` is that of the
/// test.
std::optional<std::string> unsafe_test(Simulator& simulator, const Vehicle& vehicle, const Test& test,
                                       const State& state);

/// Why a fuse of these amperes must not go in.
std::optional<std::string> unsafe_fuse(const Part& fuse, double amps);

/// Why a probe may not go there, though it harms nothing: sealed, inside a part, under insulation. Nothing when it may.
std::optional<std::string> closed_to_probe(const Circuit& circuit, const Test& test);

}  // namespace voltfall
