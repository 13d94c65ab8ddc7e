// The forms of the phrases, each once: what begins it, how it is written, what it tells. From here come the words that
// begin a measurement or a state, the help, and the table of the README.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// One form, or several of one kind with "; " between. Names of a circuit stand in braces: "clamp {wire} 12.1A"; words
/// to choose from, at the end of a form, too: "{relay words}".
struct PhraseForm {
    std::string_view pattern;
    std::string_view tells;
    std::string_view
        keywords;  ///< the words that begin it where they are no names, blanks between: "fuse breaker link"
};

std::span<const PhraseForm> reading_forms();
std::span<const PhraseForm> state_forms();
/// Forms of a fault's phrase: what may be wrong with each sort of thing.
std::span<const PhraseForm> fault_forms();

/// The words that begin a form of the list where they are no names of the circuit.
std::vector<std::string_view> first_words(std::span<const PhraseForm> forms);

/// The form with names of this circuit, words to choose from as `a|b|c`; nullopt where the circuit has nothing of the
/// kind.
std::optional<std::string> form_of_circuit(const PhraseForm& form, const Circuit& circuit);
/// The form with the names of an invented circuit, a plain one: nullopt for what only electronics have.
std::optional<std::string> form_of_example(const PhraseForm& form);

/// The forms of a row with their choices (`a|b|c`) written out, one phrase each.
std::vector<std::string> choices_of(const std::string& form);

}  // namespace voltfall
