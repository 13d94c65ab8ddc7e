// One state of the circuit, with nothing left open: what `whatif` solves and a reading is taken in.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/circuit/network.hpp"
#include "netlists/phrases/state_phrase.hpp"

namespace voltfall {

struct State {
    KeyPosition key{KeyPosition::on};
    std::vector<std::size_t> positions;  ///< by part; meaningful for switches and contacts
    std::vector<std::string> unplugged;
    std::vector<PartId> pulled;
    std::vector<PartId> lamp_in;
    std::vector<PartId> fitted_new;
    std::vector<std::string> new_plugs;
    std::vector<std::string> mended;
    std::vector<AddedLead> leads;
    std::vector<std::string> conditions;
    std::vector<std::string> handled;
    std::optional<double> supply_volts;  ///< EMF override, for a supply that is not the file's
    std::string label;                   ///< "hi", "off, unplug C303"

    /// The same electrically and by condition; the label does not count.
    bool operator==(const State& other) const;
};

/// A run this long has warmed what warms in use, seconds (ASSUMED): `after 20min` says `hot`, where nothing else is
/// said.
inline constexpr double hot_after = 300;

/// The states that `whatif`, `faults` and `next` go through when none is named: each control's positions in turn, the
/// others at off; `key on` alone where the circuit has no control. Without `[controls]` every switch is one.
std::vector<StatePhrase> default_phrases(const Circuit& circuit);
std::vector<State> default_states(const Circuit& circuit);

/// The phrase of the first state that it stands for, with the circuit's only control and the key named.
StatePhrase definite(const Circuit& circuit, StatePhrase phrase);

/// A phrase made definite. A control not named is at off, else at its first position. Several positions give several
/// states. Key: as said, be it by `key run` or as a control (`S9=run`), else `run` as soon as another control is not at
/// its off, else `on`.
std::vector<State> states_of(const Circuit& circuit, const StatePhrase& phrase);

/// How the battery stands with the key there: at rest, charged by the running engine, or under the starter.
BatteryState battery_state(KeyPosition key);

/// The position of a drawn key; where it has no such position, the nearest that does the same.
std::optional<std::size_t> drawn_key_position(const Part& part, KeyPosition key);

/// Lays a state over a network: key, positions, unplugged parts, pulled fuses, leads, lamps. Conditions and handling
/// are for `apply_faults`, which comes first, so that contacts and positions that a fault holds stay held.
void apply_state(Network& network, const State& state);

/// Sets key, switches and contacts as the state says, and nothing else of it.
void apply_controls(Network& network, const State& state);

/// Ohms of a lead that a person clips on, both clips and the wire; ASSUMED.
inline constexpr double lead_ohms = 0.005;

}  // namespace voltfall
