// How the controls and plugs stand when a test is taken.
#pragma once

#include <cstddef>
#include <optional>

#include "engine/diagnosis/weighing.hpp"
#include "netlists/phrases/state_phrase.hpp"

namespace voltfall {

/// The one control that has an off at its off; nothing where none or several have one.
std::optional<StatePhrase> switched_off(const Circuit& circuit);

/// Do both ask the same of the hands, whatever the supply and the time?
bool same_setting(const State& a, const State& b);

/// What is known of the supply with the key there before the next test: as it was read, where it was.
Supply next_supply(const Circuit& circuit, const Questions& taken, KeyPosition key);

/// Chance that the next probing of two points in a state does not touch, 0 to 1: a second look at points where a probe
/// may have missed misses as often as such looks do.
double next_no_touch(const Circuit& circuit, const Job& job, const Weighed& weighed, const State& state, JointId red,
                     JointId black);

/// Puts the part to that position, in place of the one it was said to have.
void set_control(StatePhrase& phrase, PartId part, std::size_t position);

}  // namespace voltfall
