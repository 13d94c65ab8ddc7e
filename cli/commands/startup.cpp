#include "cli/commands/startup.hpp"

#include <fmt/format.h>

#include "engine/heat/startup.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

constexpr double usual_seconds = 3;
constexpr double least_seconds = 0.05;
constexpr double most_seconds = 60;

/// `3`, `3s` or `500ms`.
double typed_seconds(const std::string& typed) {
    const auto measure = parse_measure(typed);
    const bool time = measure && (measure->unit == Unit::second || measure->unit == Unit::none);
    if (time && measure->value >= least_seconds && measure->value <= most_seconds) return measure->value;
    throw CLI::ValidationError(
        "--start", fmt::format("expected seconds from {} to {:.0f}, found '{}'{}", least_seconds, most_seconds, typed,
                               measure ? "" : "; the file stands before --start"));
}

}  // namespace

void declare_start(CLI::App& app, Arguments& arguments) {
    app.add_option(
           "--start",
           [&arguments](const CLI::results_t& typed) {
               const bool number = !typed.empty() && !typed.back().empty() && typed.back() != "true";
               arguments.start_seconds = number ? typed_seconds(typed.back()) : usual_seconds;
               return true;
           },
           "start the motors from standstill too and follow them, 3 s or so many; stands behind CIRCUIT")
        ->expected(0, 1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeLast)
        ->type_name("[SECONDS]");
}

tl::expected<StartupFigures, SolveFailure> startup_figures(NgspiceSession& simulator, const Settled& settled,
                                                           double seconds) {
    const StartUpResult start = run_startup(simulator, settled, seconds);
    if (!start) return tl::unexpected(start.error());
    StartupFigures figures{start->seconds, {}, {}};
    for (const MotorStart& motor : start->motors)
        figures.motors.push_back({motor.name, motor.peak_amps, motor.peak_seconds, motor.to_63, motor.to_95,
                                  motor.end_amps, motor.end_rpm, motor.started});
    for (const FuseStart& fuse : start->fuses) {
        const FusePulse& pulse = fuse.pulse;
        figures.fuses.push_back({fuse.name, fuse.rating, pulse.peak_amps, pulse.peak_seconds, pulse.pulse_i2t,
                                 pulse.peak_heat, pulse.margin(), pulse.opens_after});
    }
    return figures;
}

}  // namespace voltfall
