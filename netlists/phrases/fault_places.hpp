// Which rows of the fault catalogue a typed place means.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// The place as the catalogue writes it: `R1.1` is "C303.1" where a plug is named, `SP1.2` is "SP1@555", `60b` is
/// "60:2", `C101-4` is "C101.4". Nothing when no row has such a place.
std::optional<std::string> find_fault_place(const Circuit& circuit, std::string_view typed);

/// The wire that "CMD wire" means: the one of that name, or the only one at a terminal of that name. Nothing where
/// there is none, or several.
std::optional<std::string> find_wire_said(const Circuit& circuit, std::string_view typed);

/// Rows of a place, in the order of the catalogue.
std::vector<ModePtr> modes_at(const Circuit& circuit, std::string_view place);

/// All places of the catalogue, for suggestions.
std::vector<std::string> fault_place_names(const Circuit& circuit);

/// Words of a mode cut at blanks and at `-`, small: "worn-brushes" -> worn, brushes.
std::vector<std::string> mode_words(std::string_view text);

}  // namespace voltfall
