// The rules of wiring sense, by what they are about. Each adds located problems with one suggestion.
#pragma once

#include "netlists/checks/survey.hpp"
#include "netlists/checks/wired_terminals.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/text/problem.hpp"

namespace voltfall {

/// Parts without wires, ends in the air, splices with one wire, cavities bypassed, fed twice, guessed values.
void check_parts(const Circuit& circuit, const WiredTerminals& ends, Problems& problems);

/// Loads without feed or return, relays half wired.
void check_loads(const Circuit& circuit, const WiredTerminals& ends, const Survey& survey, Problems& problems);
void check_relays(const Circuit& circuit, const WiredTerminals& ends, const Survey& survey, Problems& problems);

/// Positions that reach nothing, contacts without a wire, a key without 15.
void check_switches(const Circuit& circuit, const WiredTerminals& ends, Problems& problems);

/// Control inputs without a wire, panels whose output their module cannot read, loads on a command wire.
void check_commands(const Circuit& circuit, const WiredTerminals& ends, Problems& problems);

/// Fuses against the wires behind them, dead shorts as drawn, batteries that fight.
void check_supply(const Circuit& circuit, const Survey& survey, Problems& problems);

/// Fuses against what their loads draw: above 75 % of the rating for minutes (row F33), a start above half of the
/// melting heat (row F36), both as warnings. Amperes come from the laws of the loads behind the ohms of their ways, at
/// the battery's charging volts; loads that meet are not solved together. A start is judged where a motor's line names
/// its inertia. Fuses side by side are left out.
void check_fuse_loads(const Circuit& circuit, Problems& problems);

/// A fuse that something is wired behind and nothing in front of: `check_parts` reports it.
bool lacks_feed(const WiredTerminals& ends, PartId id, const Part& part);
bool any_lacks_feed(const Circuit& circuit, const WiredTerminals& ends);

/// True for a part that is neither wired nor fed and was reported as such by `check_parts`.
bool stands_alone(const Circuit& circuit, const WiredTerminals& ends, PartId part);

}  // namespace voltfall
