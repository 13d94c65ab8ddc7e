// What a typed name stands for: joints, parts, plugs, cavities, wires.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// Joints that a typed point stands for: one, or both halves of a cavity (`C101.4`). A whole name wins over a split at
/// `-` or `/` (`C101-4`). Empty when unknown.
std::vector<JointId> joints_named(const Circuit& circuit, std::string_view typed);

/// True when a part, plug, wire, cavity or joint has that name letter for letter.
bool is_exact_name(const Circuit& circuit, std::string_view typed);

/// The name of a plug of [plugs] or of a connector, as written, or nothing.
std::optional<std::string> find_connector(const Circuit& circuit, std::string_view typed);

/// Cavities in use of a connector, plug or splice: "C101.4", "C303.1", "SP1@541". In the order laid.
std::vector<std::string> cavities_of(const Circuit& circuit, std::string_view connector);

/// Does the branch sit at a place that a person names: the place itself, a cavity of it, or the part or plug so called?
bool sits_there(const Circuit& circuit, const Branch& branch, std::string_view place);

/// Names of a chain's pieces (`60` -> "60:1", "60:2"); empty unless there are several.
std::vector<std::string> pieces_of_chain(const Circuit& circuit, std::string_view number);

/// `C101-4` and `C101/4` as `C101.4`; nothing when there is no such sign.
std::optional<std::string> with_dot(std::string_view typed);

/// Advice for a name that the circuit has not: the nearest name; for one that looks like a splice, ground, connector or
/// fuse that nobody declared, the line to add. Empty where neither helps.
std::string names_near(const Circuit& circuit, std::string_view typed);

/// "did you mean 'clamp'?" for a word of the grammar: nearer than names must be, so that `speed` is no `feed`.
std::string word_near(std::string_view typed, const std::vector<std::string>& words);

/// "A, B and C", at most twelve of them.
std::string list_words(const std::vector<std::string>& words);

}  // namespace voltfall
