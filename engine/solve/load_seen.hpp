// What a person sees or hears of a load beside a sound one. A new word is an enumerator and its row.
#pragma once

#include <string_view>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

enum class LoadSeen : unsigned char {
    dead,
    slow,
    normal,
    fast,
    runs,  ///< works though nobody has switched it on
    dim,
    weak,
    off,     ///< does nothing, as it should
    glows,   ///< a lamp that nobody has switched on is lit faintly
    creeps,  ///< a motor that nobody has switched on turns slowly
};

/// How much of its work a load does.
enum class Vigour : unsigned char {
    none,
    less,
    usual,
    more,
    unwanted,  ///< it works where a sound vehicle's stands still
    faint,     ///< it does a little where a sound vehicle's stands still
};

struct LoadSeenRow {
    Vigour vigour{};
    std::string_view word;     ///< as it is shown: "dim"
    std::string_view concern;  ///< as a customer tells it: "does nothing"
};

LoadSeenRow row_of(LoadSeen seen);
inline std::string_view word_of(LoadSeen seen) {
    return row_of(seen).word;
}

/// The word as it is said of that kind of load: a lamp is "out", "lit" or "bright".
std::string_view said_of(LoadKind kind, LoadSeen seen);

}  // namespace voltfall
