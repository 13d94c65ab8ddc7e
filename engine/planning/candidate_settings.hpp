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

/// The supplies of the readings taken, those that were read at what they were read.
std::vector<Supply> supplies_by_now(const Questions& taken);

/// Index of the supply with the key there, among those known; one that nothing tells is added.
std::size_t next_supply(const Circuit& circuit, KeyPosition key, std::vector<Supply>& supplies);

/// Gives the questions of tests to come the numbers that the job has read and that can be relied on. The states and
/// supplies of the readings stand first in `future`.
void give_numbers(const Job& job, const Weighed& weighed, Questions& future);

/// Chance that the next probing of two points in a state does not touch, 0 to 1: a second look at points where a probe
/// may have missed misses as often as such looks do.
double next_no_touch(const Circuit& circuit, const Job& job, const Weighed& weighed, const State& state, JointId red,
                     JointId black);

/// Puts the part to that position, in place of the one it was said to have.
void set_control(StatePhrase& phrase, PartId part, std::size_t position);

}  // namespace voltfall
