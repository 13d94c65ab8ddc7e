// The answer of `whatif`: the same things measured in the healthy and in the faulted circuit, state by state.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "engine/figures/circuit_figures.hpp"
#include "engine/figures/limits.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/heat/startup.hpp"
#include "engine/planning/lamp_sections.hpp"

namespace voltfall {

struct WhatifQuestion {
    std::vector<Fault> faults;  ///< none: the healthy circuit alone
    std::vector<State> states;
    PointChoice points;
    std::optional<double> seconds;        ///< how long each state is followed; nullopt: as long as the defaults say
    std::optional<double> start_seconds;  ///< start the motors from standstill and follow them so long
};

/// A lamp in the fuse's seat: millivolts of each section for a short at each place.
struct LampFigure {
    std::string fuse;
    std::vector<std::string> sections;  ///< as a test says them: "across C101.4", "F7.2 to C101.4@541"
    std::vector<LampSections::Short> shorts;
};

struct WhatifState {
    std::string state;
    std::vector<std::string> along;  ///< points in the order of the current, one load's way after the other
    CircuitFigures healthy;
    CircuitFigures faulted;  ///< just after the state is set
    std::vector<HeatEvent> aftermath;
    CircuitFigures after;  ///< when it is over
    std::vector<LimitFigure> limits;
    std::vector<BodyHeat> heat;      ///< only where a time is asked
    std::optional<LampFigure> lamp;  ///< only where the state has one
    std::optional<StartUp> start;    ///< of the faulted circuit; when asked for
};

struct WhatifAnswer {
    std::string circuit;
    std::vector<std::string> faults;  ///< phrases, empty for the healthy circuit alone
    std::vector<std::string> plain;   ///< the same, each as a sentence
    std::vector<std::string> points;  ///< those asked for; empty: all
    std::vector<WhatifState> states;
    std::optional<double> seconds;         ///< the time asked for
    std::vector<std::string> not_checked;  ///< limits that these figures cannot tell, with the reason
};

/// What has no solution, and in which state.
struct StateFailure {
    SolveFailure failure;
    std::string state;
};

/// Solves every state, healthy and faulted, to its end. A fault that shows only hot or on bumps is followed in that
/// condition too, where no state names it. All by one simulator, whose numbers are shown.
tl::expected<WhatifAnswer, StateFailure> whatif(TransientSimulator& simulator, const Circuit& circuit,
                                                const WhatifQuestion& question);

/// "fuse opens", "breaker closes", "limiter opens", "harmed": the kind of an event for programs.
std::string_view event_word(HeatEventKind kind);
/// Watts made in the thing when it opens or is harmed; nullopt for a fuse or breaker.
std::optional<double> event_watts(const HeatEvent& event);

/// Has a body come more than half the way from its surroundings to its limit?
bool is_warm(const BodyHeat& body);

}  // namespace voltfall
