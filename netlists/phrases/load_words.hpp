// How a person says that a load goes: a motor turns, a lamp is lit, a heater is warm.
#pragma once

#include <span>
#include <string_view>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/sayings.hpp"

namespace voltfall {

/// How often a word is said of a load, 0 to 1, by how the load goes (ASSUMED throughout: judged from how the confirmed
/// cases are told, no published table exists).
struct SaidOf {
    double dead{};    ///< does nothing though it should
    double slow{};    ///< does less than a sound one
    double normal{};  ///< as a sound one
    double fast{};    ///< does more than a sound one
    double runs{};    ///< works where it should stand still
    double faint{};   ///< does a little where it should stand still
    /// In place of these where more is known; 0 where it changes nothing.
    double when_powered{};         ///< it stands, but current flows
    double when_it_rubs{};         ///< by the fault that is weighed
    double when_only_sometimes{};  ///< the fault comes and goes
};

/// How much a load does ("slow"), or how it behaves ("squeals").
enum class WordSort { amount, manner };
/// What the word tells for certain of the current's way to the load.
enum class Tells { nothing_sure, that_it_runs };

/// A word that a reading keeps of how a load goes; its row says all that any room asks of it.
struct LoadWord {
    std::string_view word;
    WordSort sort{};
    Tells tells{};
    SaidOf said_of;
    std::string_view also;  ///< other ways to say it, as `Saying` has them
};
std::span<const LoadWord> load_word_table();
/// Null for a word that no reading keeps, and for `ok`, which is "normal" or "dead" (`load_word_here`).
const LoadWord* find_load_word(std::string_view word);

/// What kind of load a part is; `none` for a part without a kind.
LoadKind load_kind_of(const Part& part);

/// The words that a reading keeps for such a load, with the other ways to say each: "dead" is `out` of a lamp.
Sayings load_sayings(LoadKind kind);

/// The word as it is said of that kind: a lamp that a reading has as `weak` is "dim". Words that a kind has no own one
/// for stay as they are.
std::string_view load_word_said(LoadKind kind, std::string_view word);

/// What the word tells where the load should work, or where it should not: `ok` is "normal" or "dead"; a lamp that is
/// lit though nobody switched it on is "runs".
std::string_view load_word_here(LoadKind kind, std::string_view word, bool should_work);

/// Words that a person may find for such a load, most usual first; a motor has speeds, a lamp none.
std::span<const std::string_view> load_words_of(LoadKind kind);

}  // namespace voltfall
