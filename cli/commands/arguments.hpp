// Everything that a command line can say, after parsing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/solve/simulators.hpp"

namespace voltfall {

enum class Format { text, json, plain };
enum class ColourChoice { automatic, always, never };
enum class DeckMoment { faulted, after };
enum class TeachWork { exercise, show, handout, reveal, seal };

struct Arguments {
    std::vector<std::string> files;
    std::vector<std::string> faults;
    std::vector<std::string> states;
    std::vector<std::string> points;
    std::vector<std::string> reads;
    std::vector<std::string> tools;  ///< instruments at hand, in place of the job's
    bool two_faults{false};
    std::optional<double> seconds;  ///< --time
    std::string output;
    bool force{false};
    DeckMoment moment{DeckMoment::faulted};
    std::optional<double> start_seconds;  ///< start motors from standstill and follow them so long
    TeachWork teach{TeachWork::exercise};
    std::optional<int> level;
    bool commit{true};     ///< a suspect is named before each test
    std::string progress;  ///< file of results
    std::string who;       ///< initials

    Format format{Format::text};
    ColourChoice colour{ColourChoice::automatic};
    std::optional<int> top;
    long long seed{1};                ///< of what is drawn by lot
    SweepBy sweep_by{SweepBy::core};  ///< --solver
    int workers{0};                   ///< processes that solve; 0: one a core
    bool quiet{false};
};

}  // namespace voltfall
