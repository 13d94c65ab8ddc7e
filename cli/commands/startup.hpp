// `whatif --start`: the option, and a start followed for showing.
#pragma once

#include <tl/expected.hpp>

#include "cli/commands/options.hpp"
#include "cli/views/startup_figures.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

class NgspiceSession;

/// `--start [SECONDS]`; 3 s when no number stands there, 0.05 to 60 s.
void declare_start(CLI::App& app, Arguments& arguments);

/// Starts the settled case from standstill and follows it.
tl::expected<StartupFigures, SolveFailure> startup_figures(NgspiceSession& simulator, const Settled& settled,
                                                           double seconds);

}  // namespace voltfall
