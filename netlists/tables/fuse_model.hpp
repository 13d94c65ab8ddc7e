// How a fuse element heats and opens: two stages, the element and what holds it.
//
// The heat u is scaled so that the element opens at u = 1. With r = (I / Imin)^2 the element's part goes to (1 - s) r
// with the fast time constant and the holder's part to s r with the slow one; u is their sum. s = 0 is the one-pole
// form tau du/dt = r - u (reference parts 5.1). Far above Imin: I2t = Imin^2 / ((1 - s) / tau_fast + s / tau_slow).
// A fusible link is no such element: its fast part is the state of `link_heat.hpp`, with fast_seconds = I2t / Imin^2.
#pragma once

#include <optional>

#include "netlists/tables/fuses.hpp"
#include "netlists/tables/link_heat.hpp"

namespace voltfall {

/// Which of a type's parts: the quickest that its limits allow for, the usual one, the slowest.
enum class Edge { earliest, typical, latest };

struct FuseModel {
    double minimum_amps{};  ///< Imin: below it the element never opens
    double slow_share{};    ///< s, 0 to below 1
    double fast_seconds{};
    double slow_seconds{};
    std::optional<LinkHeat> link{};  ///< of a fusible link: how its copper cools
};

/// The model of a fuse at an ambient of -40 to 125 °C. Typical values: the melting I2t of the maker's row (F20-F29),
/// else the default time constant of the type; shares, slow constants and spreads are ASSUMED, chosen so that every
/// rating lies inside the published limits of its type (`fuse_limits`).
FuseModel fuse_model(FuseType type, double rating_amps, Edge edge = Edge::typical, double ambient_celsius = 25);

/// The two parts of the heat u.
struct FuseHeat {
    double fast{0};
    double slow{0};
    double total() const { return fast + slow; }
};

/// The heat after a constant current has run for some seconds.
FuseHeat heat_after(const FuseModel& model, FuseHeat heat, double amps, double seconds);

/// Seconds until the element opens at a constant current (0 when it is due), or nothing when it never does.
std::optional<double> seconds_to_open(const FuseModel& model, FuseHeat heat, double amps);

/// Between which times a part of unknown make may open from cold at a constant current.
struct FuseBand {
    std::optional<double> earliest;  ///< seconds; nothing where none may open
    std::optional<double> latest;    ///< nothing where some never open
};

/// The band of a type: its published limits (`fuse_limits`), straight between their rows over the logarithms of current
/// and time and by I2t above the last, and where the spread of the model is wider, that. For types without published
/// limits (breaker, link) the spread of the model alone.
FuseBand fuse_band(FuseType type, double rating_amps, double amps, double ambient_celsius = 25);

/// Seconds until the heat, without current, has fallen to a share of the opening heat; 0 where it is below already.
/// `share` above 0.
double seconds_to_cool(const FuseModel& model, FuseHeat heat, double share);

/// Opening time of the one-pole form from cold: t = tau ln(I^2 / (I^2 - Imin^2)); nothing when it never opens.
std::optional<double> one_pole_opening_seconds(double minimum_amps, double tau_seconds, double amps);

}  // namespace voltfall
