// The starter circuits, built into the binary from scenarios/starters.
#pragma once

#include <span>
#include <string_view>

namespace voltfall {

struct Starter {
    std::string_view name;  ///< of its file, without the ending: "module-pwm"
    std::string_view text;  ///< the whole file

    /// Its first comment: what the circuit is, in one line.
    std::string_view line() const;
};

/// All, by name. Made by the build; see `starters.cmake`.
std::span<const Starter> starters();

/// The one of that name, compared without case, or null.
const Starter* find_starter(std::string_view name);

}  // namespace voltfall
