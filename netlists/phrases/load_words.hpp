// How a person says that a load goes: a motor turns, a lamp is lit, a heater is warm.
#pragma once

#include <span>
#include <string_view>

#include "netlists/circuit/circuit.hpp"
#include "netlists/phrases/sayings.hpp"

namespace voltfall {

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
