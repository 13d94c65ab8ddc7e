// What people say of what they see: P(word | what the circuit does). ASSUMED throughout: judged from how the confirmed
// cases are told, no published table exists.
#pragma once

#include <string_view>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// How a load goes, as a person perceives it: the probabilities of six classes.
struct Perceived {
    double dead{0};
    double slow{0};
    double normal{0};
    double fast{0};
    double runs{0};       ///< works where it should stand still
    double faint{0};      ///< does a little where it should stand still: a lamp glows, a motor creeps
    bool wanted{true};    ///< a sound one works
    bool powered{false};  ///< stands, but current flows
};

/// Around the limits of `slow` and `fast` people differ, so the classes blend into each other there.
Perceived perceive(const LoadState& load, const LoadState& healthy);

/// P(word | perceived) of a word that a reading keeps of a load (`load_word_table`); any other is a bug.
double load_word_probability(std::string_view word, const Perceived& perceived);

/// P(word | perceived) of `air none|weak|normal`; `air_blocked` when the fault keeps air from a motor that runs.
double air_word_probability(std::string_view word, const Perceived& perceived, bool air_blocked);

/// P(word | coil pulled or not) of `relay K3 clicks|silent|pulled|released`.
double relay_word_probability(std::string_view word, bool pulled);

/// P(word | volts across the lamp) of `lamp A to B bright|dim|dark|lit`; `full` is what lights it fully.
double lamp_word_probability(std::string_view word, double volts, double full);

/// P(live or dead | volts) where no number was taken; `untouched` is the chance that the probe did not touch.
double live_probability(bool live, double volts, double full, double untouched);

}  // namespace voltfall
