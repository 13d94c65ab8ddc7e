// The sections of a circuit's file, each read into the draft in this order: parts and plugs, wires, then the optional
// ones.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/files/circuit_draft.hpp"

namespace voltfall {

/// [parts]
void read_parts(CircuitDraft& draft, const TomlSection& section);
/// [plugs]; after the parts.
void read_plugs(CircuitDraft& draft, const TomlSection& section);

/// [wires]: `541 = "F7.2 > C101.4  6mm2 RD 0.9m"`, one piece of wire or a chain of them; after parts and plugs. Ends
/// name parts and terminals (a bus: no part, and its word as terminal); joints and branches are laid later.
void read_wires(CircuitDraft& draft, const TomlSection& section);
/// Reads where a wire ends. Returns nullopt when the part or terminal is unknown, which is reported unless the name is
/// lost.
std::optional<WireEnd> read_wire_end(CircuitDraft& draft, const std::string& typed, const SourcePlace& place);

/// What a person sets, limits, access, care: reads one optional section by its name; true when there is a section of
/// that name.
bool read_optional_section(CircuitDraft& draft, const TomlSection& section);

/// The places that a key or word stands for: one, or the pieces of a chain; empty where it names nothing, which is
/// reported at `where`.
std::vector<std::string> places_of(CircuitDraft& draft, std::string_view typed, const SourcePlace& where);

/// [strip], [care], [together] and [closed].
void read_strips(CircuitDraft& draft, const TomlSection& section);
void read_care(CircuitDraft& draft, const TomlSection& section);
void read_together(CircuitDraft& draft, const TomlSection& section);
void read_closed(CircuitDraft& draft, const TomlSection& section);

/// Without [controls] every switch is a control, called by its own name.
void default_controls(CircuitDraft& draft);
/// Marks the joints that [closed] names.
void close_joints(Circuit& circuit);
/// Parts with electronics are closed to lamps, leads and loads, as if [closed] said "electronic"; a meter may go there.
void close_electronics(Circuit& circuit);

/// What a limit of that key looks like: "18-21A @13.5V", "0.5V".
std::string_view limit_example(std::string_view key);
/// Reads `18-21A @13.5V`, `0.5V`, `>9V` of [limits] into `limit`; false when reported.
bool read_limit(CircuitDraft& draft, const TypedText& text, Limit& limit);

}  // namespace voltfall
