// What a switch and a key share: positions that close contacts to a common terminal.
#pragma once

#include <span>
#include <string_view>

#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"

namespace voltfall {

/// Reads `off lo=1 ml=2 hi=4+5` from the next unused word to the first comma or end. Where `allowed` names positions,
/// any other is a problem. The common terminal must be known: a contact that closes onto it is one too.
void read_positions(PartReader& reader, Part& part, std::span<const std::string_view> allowed = {});

/// The contacts named by the positions, each once, in the order written.
std::vector<std::string> position_contacts(const Part& part);

/// Lays one contact branch per used contact, closed as the rest position says, and its fault modes:
/// `contact POSITION open`, `contact POSITION resistance`, `contact NUMBER …`, `stuck POSITION`.
void lay_position_contacts(const Part& part, Layout& layout, double closed_ohms);

}  // namespace voltfall
