// Words for a position of a control: its name, and high or low where it has another name for them.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// A position of a control that a bare word may mean.
struct PositionMeaning {
    PartId part;
    std::size_t position;
};

/// Exact case wins among the positions too; a word for high or low is taken where no position has that name.
std::vector<PositionMeaning> position_meanings(const Circuit& circuit, std::string_view word, bool& exact);

/// "2" of a switch whose positions have no numbers for names: the second that is on, counted from the least.
std::optional<std::size_t> position_numbered(const Part& part, std::string_view typed);

/// The position of this part that was typed; nullopt where it has none of that name or height.
std::optional<std::size_t> position_called(const Part& part, std::string_view typed);

/// The part of that name, else the part of a control of that word; not valid where there is neither.
PartId control_called(const Circuit& circuit, const std::string& name);

}  // namespace voltfall
