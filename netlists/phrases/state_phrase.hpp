// What was set while something was looked at: `hi`, `S1=hi, key run`, `unplug C303`, `hot`.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

enum class KeyPosition { off, acc, on, run, start };
std::string_view key_word(KeyPosition key);

/// A lead put on by a person: `jumper A to B`, `feed A`, `load 55W A to B`.
struct AddedLead {
    enum class Kind { jumper, feed, load } kind;
    JointId a;
    JointId b;  ///< invalid for `feed`
    double watts{0};
    bool operator==(const AddedLead&) const = default;
};

/// Control settings, several positions of one control meaning "the same in each".
struct ControlSetting {
    PartId part;
    std::vector<std::size_t> positions;
    bool operator==(const ControlSetting&) const = default;
};

struct StatePhrase {
    std::vector<ControlSetting> settings;
    std::optional<KeyPosition> key;
    std::vector<std::string> unplugged;  ///< connector, part or cavity names
    std::vector<PartId> pulled;          ///< fuses, relays
    std::vector<PartId> lamp_in;         ///< a lamp in this fuse's place
    std::vector<PartId> fitted_new;      ///< `new M1`
    std::vector<std::string> new_plugs;  ///< `new C303`: a connector or a part's plug, renewed with its pins
    std::vector<std::string> mended;     ///< places under [repaired]; not typed: readings under [after] have them
    std::vector<AddedLead> leads;
    std::vector<std::string> conditions;  ///< hot, cold, wet, bump, or words in quotes
    std::vector<std::string> handled;     ///< "tap M1", "turn M1", "wiggle 542", "heat C101", "cool K3"
    std::optional<double> after_seconds;
    bool earlier{false};
    bool sometimes{false};
    std::string text;  ///< as typed

    bool empty() const;
    /// The same state; how it was typed does not count.
    bool operator==(const StatePhrase& other) const;
};

/// The phrase that reads as this state: "hi, key run", "S1=hi, unplug C303". Positions stand alone where the circuit
/// has one control. Empty for a state that says nothing.
std::string write_state(const Circuit& circuit, const StatePhrase& state);

/// "jumper A to B", "feed A", "load 55W A to B".
std::string write_lead(const Circuit& circuit, const AddedLead& lead);

/// Reads state words from the front until a word that is none; the rest stays in the reader.
StatePhrase read_state_words(WordReader& words, const Circuit& circuit);

/// Reads a whole phrase as a state (`--state`); left-over words are problems.
std::optional<StatePhrase> read_state_phrase(const TypedText& phrase, const Circuit& circuit, Problems& problems);

}  // namespace voltfall
