// The optional sections of a circuit: what a person sets, limits, access, care.
#pragma once

#include "netlists/files/circuit_draft.hpp"

namespace voltfall {

/// Reads one optional section by its name; true when there is a section of that name.
bool read_optional_section(CircuitDraft& draft, const TomlSection& section);
/// Names of the optional sections.
std::vector<std::string> optional_section_names();

/// Without [controls] every switch is a control, called by its own name.
void default_controls(CircuitDraft& draft);
/// Marks the joints that [closed] names.
void close_joints(Circuit& circuit);

/// Reads `18-21A @13.5V`, `0.5V`, `>9V` of [limits] into `limit`; false when reported.
bool read_limit(CircuitDraft& draft, const TypedText& text, Limit& limit);

}  // namespace voltfall
