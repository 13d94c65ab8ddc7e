// Where an instrument is put: two leads, a clamp around a wire.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/phrases/test.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// `A to B`, `A to ?`, and `A` alone, which is `A to B1-`. Returns nullopt, and at least one problem, when a point is
/// missing or unknown; `example` is shown then.
std::optional<VoltsTest> take_leads(WordReader& words, const Circuit& circuit, std::string_view example);

/// The place behind the word `across`, which was taken already: its two sides, first-written side red. Returns nullopt,
/// and a problem, when it has not just two.
std::optional<VoltsTest> take_across(WordReader& words, const Circuit& circuit);

/// `command`, `command Z1`: the control input of the part that is named, or of the only one that has one, against that
/// part's own ground. Returns nullopt, and a problem, where there is none or it is not told which.
std::optional<VoltsTest> take_command(WordReader& words, const Circuit& circuit);

/// The wire that a clamp is around; invalid, and a problem, when none is so called.
WireId take_wire(WordReader& words, const Circuit& circuit);

/// Takes the next word where it is a connector's or a plug's name, as the file writes it; else nothing is taken.
std::optional<std::string> take_connector(WordReader& words, const Circuit& circuit);

/// One point; a problem when it is missing or unknown.
std::optional<Point> take_point(WordReader& words, const Circuit& circuit, std::string_view example);

/// The joints on both sides of what `across PLACE` names, first-written side first; anything but two has no two sides.
std::vector<JointId> sides_of(const Circuit& circuit, const std::string& place);

/// The test of volts between two joints, named `across PLACE` where that phrase means just these, else by its points.
VoltsTest volts_between(const Circuit& circuit, JointId red, JointId black, const std::string& place = {});

/// A point that is this joint, under its name.
Point point_at(const Circuit& circuit, JointId joint);

}  // namespace voltfall
