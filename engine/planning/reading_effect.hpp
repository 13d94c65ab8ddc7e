// What one more reading has changed: the suspects before and after it.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/answer.hpp"
#include "engine/planning/next.hpp"

namespace voltfall {

/// A suspect's chance before and after a reading, 0 to 1.
struct ChangedChance {
    std::string fault;
    double before{};
    double after{};
};

struct ReadingEffect {
    std::vector<ChangedChance> suspects;  ///< as they stand now, the likeliest first
    std::vector<std::string> ruled_out;   ///< were possible before and are not now
    std::vector<std::string> come_back;   ///< were ruled out before and are possible now
    std::string doubt;                    ///< the reading that the rest contradicts now, or empty
};

/// Chances below `least_chance` before and after are left out; a suspect counts as ruled out below it.
inline constexpr double least_chance = 0.005;

/// Compares the answers without and with the reading.
ReadingEffect effect_of_reading(const MatchAnswer& before, const MatchAnswer& after);

/// What a technician wants to know when a reading is taken.
struct ReadingAnswer {
    ReadingEffect effect;
    double none_of_these{};  ///< the chance that no fault of the catalogue fits, 0 to 1
    NextAnswer next;         ///< given the job with the reading
};

/// Weighs the job without and with the reading and proposes what to take next. Give `options.dictionary` where more
/// readings of the same circuit will follow.
ReadingAnswer answer_reading(Simulator& simulator, const Circuit& circuit, const Job& before, const Job& after,
                             const MatchOptions& options);

}  // namespace voltfall
