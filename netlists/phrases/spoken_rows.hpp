// Sentences of the trade and the phrases that they mean: the rows. Who fits them to a circuit is `spoken_lines`.
#pragma once

#include <span>
#include <string_view>

#include "netlists/phrases/spoken_lines.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

/// What was done to the vehicle, anywhere in a line; ways to say one stand between bars. The first that fits counts.
struct SpokenState {
    std::string_view said;
    std::string_view meant;
};
std::span<const SpokenState> spoken_states();

/// A whole line, or what is left of it without its state; with a number of that unit, or none.
struct SpokenRow {
    Unit unit;
    SpokenAs as;
    std::string_view said;
    std::string_view meant;
};
/// Readings, of which the first that fits counts; then those of what is seen and of what came of something done; and
/// tests as they are asked for.
std::span<const SpokenRow> spoken_readings();
std::span<const SpokenRow> spoken_sights();
std::span<const SpokenRow> spoken_tests();

}  // namespace voltfall
