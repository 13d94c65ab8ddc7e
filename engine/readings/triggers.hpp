// What brings about a fault that comes and goes, and in which moments it then shows.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "engine/solve/state.hpp"
#include "netlists/circuit/fault_mode.hpp"

namespace voltfall {

/// `itself`: nothing that a person can bring about.
enum class Trigger { itself, heat, cold, water, movement };
inline constexpr std::size_t trigger_count = 5;
inline constexpr std::array<Trigger, trigger_count> all_triggers{Trigger::itself, Trigger::heat, Trigger::cold,
                                                                 Trigger::water, Trigger::movement};

/// By trigger: its share among the ways in which a fault comes and goes, 0 to 1; they sum to 1.
using TriggerShares = std::array<double, trigger_count>;
/// By nature of the thing: heat moves windings, brushes and modules, movement and water joints and wires (ASSUMED;
/// heat, water and vibration are what the trade induces a fault by: reference trade 1.1, A8).
TriggerShares trigger_shares(const FaultMode& mode);

/// What the state's condition is: `hot`, `cold`, `wet`, `bump`, or a run of `hot_after` seconds. Nothing where it names
/// none, or one in words of its own.
std::optional<Trigger> condition_made(const StatePhrase& state);
std::optional<Trigger> condition_made(const State& state);
/// "hot", "cold", "wet", "bump"; empty for `itself`.
std::string_view condition_word(Trigger trigger);

/// By itself such a fault shows in this share of the moments at which somebody looks (ASSUMED).
inline constexpr double shows_by_itself = 0.5;
/// Chance that such a fault shows in a moment with that condition, 0 to 1; without one it shows in half of them.
double shows_under(Trigger trigger, std::optional<Trigger> condition);
/// The same over all triggers.
double shows_under(const TriggerShares& shares, std::optional<Trigger> condition);
/// Chance that who tells of such a fault names that condition, or none.
double told_with(Trigger trigger, std::optional<Trigger> condition);

}  // namespace voltfall
