#include "netlists/tables/figure_bounds.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace voltfall {

namespace {

// Ends shared by several bounds. All are set by judgement, far outside what catalogues of vehicle parts offer
// (ASSUMED).
constexpr double most_meter_volts = 100;  // V, either sign
constexpr double most_ohms = 1e9;         // as good as open; also the most that a hand-held meter shows
constexpr double most_amps = 3000;        // A; starters of lorries draw half of it
constexpr double hottest = 1200;          // °C; above the melting point of copper
constexpr double most_minutes = 10000;    // a week
constexpr double seconds_a_minute = 60;
constexpr double seconds_a_week = 7 * 24 * 3600.0;

constexpr FigureBounds bounds[] = {
    {"figure", "tolerance", Unit::percent, 0, 1},
    // wires; starter cables end at 120 mm2
    {"wire", "length", Unit::metre, 1e-3, 500},
    {"wire", "area", Unit::square_millimetre, 0.005, 500},
    {"wire", "gauge", Unit::awg, thickest_gauge, thinnest_gauge},
    {"wire", "count in parallel", Unit::none, 1, 20, Counting::whole},
    {"wire", "count in the bundle", Unit::none, 1, 200, Counting::whole},
    {"wire", "temperature class", Unit::celsius, 60, 260},
    // readings and their states
    {"reading", "volts", Unit::volt, -most_meter_volts, most_meter_volts},
    {"reading", "ohms", Unit::ohm, 0, most_ohms},
    {"reading", "amps", Unit::ampere, -most_amps, most_amps},
    {"reading", "temperature", Unit::celsius, coldest, hottest},
    {"reading", "rise", Unit::celsius, -hottest, hottest},
    {"reading", "pressure", Unit::pascal, -1e5, 1e8},
    {"reading", "fuse rating", Unit::ampere, 0.05, most_fuse_amps},
    {"reading", "duty", Unit::percent, 0, 1},
    {"reading", "frequency", Unit::hertz, 0.01, 1e6},
    {"reading", "time", Unit::second, 0, seconds_a_week},
    {"reading", "load", Unit::watt, 0.1, 1e4},
    // faults, by what their size is
    {"fault", "ohms", Unit::ohm, 1e-6, most_ohms},
    {"fault", "volts", Unit::volt, 0.1, most_supply},
    {"fault", "amps", Unit::ampere, 0.05, most_fuse_amps},
    {"fault", "pressure", Unit::pascal, -1e5, 1e8},
    {"fault", "temperature", Unit::celsius, coldest, hottest},
    {"fault", "factor", Unit::none, 1e-3, 1000},
    // A dry bearing adds friction: below 1 the motor would be driven by its bearing.
    {"fault", "drag factor", Unit::none, 1, 100},
    // the maker's figures of [limits], [reach] and [strip]
    {"limit", "volts", Unit::volt, 0, most_meter_volts},
    {"limit", "amps", Unit::ampere, 0, most_amps},
    {"limit", "ohms", Unit::ohm, 0, most_ohms},
    {"limit", "rpm", Unit::rpm, 0, 60000},
    {"limit", "temperature", Unit::celsius, coldest, hottest},
    {"limit", "supply", Unit::volt, least_supply, most_supply},
    {"place", "time to reach it", Unit::second, 0, most_minutes* seconds_a_minute},
    // [heat]; C also for a rise in kelvin
    {"heat", "ambient-air", Unit::celsius, -40, 150},
    {"heat", "ambient-wire", Unit::celsius, -40, 200},
    {"heat", "ambient-hot", Unit::celsius, -40, 200},
    {"heat", "ambient-fuse", Unit::celsius, -40, 125},
    {"heat", "wire-class", Unit::celsius, 60, 260},
    {"heat", "wire-short-limit", Unit::celsius, 100, 400},
    {"heat", "joint-limit", Unit::celsius, 60, 300},
    {"heat", "joint-kelvin-per-watt", Unit::none, 0.1, 500},
    {"heat", "joint-time", Unit::second, 1, 3600},
    {"heat", "pack-rise", Unit::celsius, 5, 300},
    {"heat", "pack-time", Unit::second, 1, 3600},
    {"heat", "pack-limit", Unit::celsius, 80, 600},
    {"heat", "winding-rise", Unit::celsius, 5, 150},
    {"heat", "winding-time", Unit::second, 1, 7200},
    {"heat", "winding-limit", Unit::celsius, 80, 250},
    // tools and lessons
    {"tool", "accuracy", Unit::percent, 0, 1},
    {"tool", "digits", Unit::none, 0, 1000},
    {"tool", "offset", Unit::volt, 0, most_meter_volts},
    {"tool", "offset", Unit::ampere, 0, 1000},
    {"tool", "watts", Unit::watt, 0.1, 1e4},
    {"lesson", "budget", Unit::second, 1, most_minutes* seconds_a_minute},
};

}  // namespace

bool FigureBounds::holds(double value) const {
    const bool inside = value >= least && value <= most;
    return inside && (counting == Counting::measured || value == std::floor(value));
}

std::string FigureBounds::name() const {
    if (of == "heat") return std::string(figure) + " of [heat]";
    if (figure.ends_with(" at")) {
        return "the figure '" + std::string(figure.substr(0, figure.size() - 3)) + "' of a " + std::string(of);
    }
    return "the " + std::string(figure) + (of == "place" || of == "figure" ? "" : " of a " + std::string(of));
}

std::string FigureBounds::range() const {
    return write_measure(least, unit) + " to " + write_measure(most, unit);
}

std::span<const FigureBounds> figure_rows() {
    return bounds;
}

const FigureBounds* find_figure(std::string_view of, std::string_view figure, Unit unit) {
    const auto found = std::find_if(std::begin(bounds), std::end(bounds), [&](const FigureBounds& row) {
        return row.of == of && row.figure == figure && row.unit == unit;
    });
    return found == std::end(bounds) ? nullptr : &*found;
}

const FigureBounds& figure_bounds(std::string_view of, std::string_view figure, Unit unit) {
    if (const FigureBounds* row = find_figure(of, figure, unit)) return *row;
    throw std::logic_error("no bounds are kept for the " + std::string(figure) + " of a " + std::string(of));
}

std::optional<OutOfBounds> outside_bounds(const FigureBounds& bounds, double value, std::string_view typed,
                                          std::string_view example) {
    if (bounds.holds(value)) return std::nullopt;
    const std::string thing = "'" + std::string(typed) + "'";
    const std::string advice = "for example " + std::string(example);
    const std::string range = bounds.name() + ": " + bounds.range() + "; " + advice;
    if (value <= 0 && bounds.least > 0) return OutOfBounds{thing + " must be more than zero", range};
    if (value < 0 && bounds.least == 0) return OutOfBounds{thing + " must not be below zero", range};
    const bool broken = bounds.counting == Counting::whole && value != std::floor(value);
    if (broken) return OutOfBounds{thing + " must be a whole number", range};
    return OutOfBounds{thing + " cannot be " + bounds.name() + "; expected " + bounds.range(), advice};
}

}  // namespace voltfall
