// How well what was seen or heard fits one solved case.
#pragma once

#include <span>

#include "engine/readings/solved_case.hpp"

namespace voltfall {

/// The ohms of a pair of points are the same for all that a meter may show there.
struct LastOhms {
    std::size_t state{};
    JointId red;
    JointId black;
    double ohms{};
};

struct WordContext {
    const Questions& questions;
    const SolvedCase& solved;  ///< ok: every state that is asked of was read
    const SolvedCase& healthy;
    const FaultMode* mode;          ///< null for the healthy circuit
    std::span<const double> means;  ///< volts of the cells
    LastOhms* last_ohms{nullptr};   ///< of this case, kept from word to word; null: worked out each time
};

/// P(word | case), without the chance that the word itself is wrong.
double word_probability(const WordObservation& word, const WordContext& context);

/// P(word) when the cause is none that is known.
double word_of_any_cause(const Circuit& circuit, const Reading& reading);

/// Does the fault sit at a place that a person names? "C101" holds "C101.4"; a part holds what is repaired with it and,
/// by its plug, the plug's cavities.
bool sits_at(const Circuit& circuit, const FaultMode& mode, const std::string& place);

/// Chance of a word for how a motor turns by hand (ASSUMED): a dry bearing is felt more often than not, a sound one
/// seldom called stiff. Returns nullopt for a word that says nothing of it.
std::optional<double> turned_by_hand(std::string_view word, bool rubs);

/// Chance to see one of these words at a place, given the fault. `fuse_opened_after`: seconds until the fuse at the
/// place opened, if it did; `softened`: chance, 0 to 1, that the fault's currents have softened the plastic there.
double look_probability(const Circuit& circuit, const FaultMode* mode, const LookReading& look,
                        std::optional<double> fuse_opened_after, double softened);

}  // namespace voltfall
