// The order in which `next` asks for tests, against the best order of the same tests.
#pragma once

#include <cstdint>
#include <filesystem>
#include <span>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Sums over the vehicles whose best order could be computed: of a dozen tests each, with the outcomes, the errors, the
/// strip-down and the price of a wrong repair that a plan stands on.
struct Orders {
    std::size_t vehicles{};
    std::size_t computed{};  ///< every sequence was weighed
    double best_cost{};      ///< expected minutes a vehicle, a wrong repair at its price
    double rule_cost{};
    double best_minutes{};  ///< of them the tests' own
    double rule_minutes{};
};

/// Vehicles with faults drawn at random come in with nothing but how every load goes in every position.
Orders weigh_orders(const Circuit& circuit, std::size_t vehicles, std::uint64_t seed);

/// A line a circuit file; one that cannot be read is passed over.
void print_orders(std::span<const std::filesystem::path> circuits, std::size_t vehicles, std::uint64_t seed);

}  // namespace voltfall
