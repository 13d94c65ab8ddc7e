// Figures of a start from standstill, for showing.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace voltfall {

struct MotorStartFigures {
    std::string name;
    double peak_amps{};
    double peak_seconds{};
    std::optional<double> to_63;  ///< seconds to 63 % of the speed at which it settles
    std::optional<double> to_95;
    double end_amps{};  ///< when the time followed is over
    double end_rpm{};
    bool started{};
};

struct FuseStartFigures {
    std::string name;
    double rating{};
    double peak_amps{};
    double peak_seconds{};
    double pulse_i2t{};                 ///< A2s above the last current
    double heat{};                      ///< highest share of the heat that melts it
    double margin{};                    ///< what is left of it
    std::optional<double> opens_after;  ///< seconds
};

struct StartupFigures {
    double seconds{};  ///< the time followed
    std::vector<MotorStartFigures> motors;
    std::vector<FuseStartFigures> fuses;
};

}  // namespace voltfall
