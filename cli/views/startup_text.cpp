#include <fmt/format.h>

#include <cmath>

#include "cli/views/startup_view.hpp"

namespace voltfall {

namespace {

/// Less is no current for a clamp that shows 0.1 A.
constexpr double visible_amps = 0.05;
/// A fuse that warms less than this rounds to 0 %.
constexpr double visible_heat = 0.005;

/// "5 ms", "0.8 ms", "0.53 s".
std::string shown_moment(double seconds) {
    if (seconds >= 0.1) return shown_seconds(seconds);
    const double milliseconds = 1e3 * seconds;
    return write_fixed(milliseconds, milliseconds < 2 ? 1 : 0) + " ms";
}

std::string motor_text(const MotorStart& motor, double followed) {
    if (!motor.started) return fmt::format("{} stands, {} A", motor.name, shown_amps(motor.peak_amps));
    const std::string inrush =
        fmt::format("{} {} A at {}, ", motor.name, shown_amps(motor.peak_amps), shown_moment(motor.peak_seconds));
    if (motor.to_95) return inrush + "full speed after " + shown_moment(*motor.to_95);
    return inrush + fmt::format("{} rpm after {}", shown_rpm(motor.end_rpm), shown_moment(followed));
}

}  // namespace

void write_startup(TextPage& page, const StartUp& start) {
    bool any = false;
    for (const MotorStart& motor : start.motors) {
        if (motor.peak_amps < visible_amps) continue;
        page.labelled("start", motor_text(motor, start.seconds), 2, motor.started ? Tone::plain : Tone::bad);
        any = true;
    }
    if (!any) page.labelled("start", "no motor has current");
    for (const FuseStart& fuse : start.fuses) {
        if (fuse.pulse.opens_after)
            page.labelled("fuse", fuse.name + " opens after " + shown_moment(*fuse.pulse.opens_after), 2, Tone::bad);
        else if (fuse.pulse.peak_heat >= visible_heat)
            page.labelled("fuse", fmt::format("{} reaches {} % of its melting heat", fuse.name,
                                              write_fixed(100 * fuse.pulse.peak_heat, 0)));
    }
}

}  // namespace voltfall
