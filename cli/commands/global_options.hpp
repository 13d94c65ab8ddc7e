// The options that every command takes. Each command has a struct of its own for the rest, in its own file.
#pragma once

#include <optional>

#include "engine/solve/simulators.hpp"

namespace voltfall {

enum class Format { text, json, plain };
enum class ColourChoice { automatic, always, never };

struct GlobalOptions {
    Format format{Format::text};
    ColourChoice colour{ColourChoice::automatic};
    std::optional<int> top;           ///< length of long lists
    long long seed{1};                ///< of what is drawn at random
    SweepBy sweep_by{SweepBy::core};  ///< --solver
    int workers{0};                   ///< threads that solve; 0: one a core
    bool quiet{false};
    bool all{false};  ///< everything, not the first screen alone
};

}  // namespace voltfall
