// Published fuse data by type and rating.
#pragma once

#include <optional>
#include <string_view>

namespace voltfall {

enum class FuseType { mini, regular, maxi, cartridge, glass, breaker, link };

std::optional<FuseType> fuse_type(std::string_view word);
std::string_view fuse_type_word(FuseType type);

/// Working resistance, ohms: typical drop at rating / rating where the maker's table has the row
/// (mini 32 V, rows F20-F29), else `fuse_drop_volts` / rating.
double fuse_ohms(FuseType type, double rating_amps);

/// Thermal time constant of the one-pole form, seconds: I2t / Imin^2 where the table has I2t, else the
/// default of the type. Imin = `fuse_imin_ratio` x rating.
double fuse_tau_seconds(FuseType type, double rating_amps);

/// Current below which the element never opens, amperes.
double fuse_minimum_opening_amps(FuseType type, double rating_amps);

/// Opening time from cold at constant current, seconds: t = tau ln(I^2 / (I^2 - Imin^2)); nothing when it
/// never opens. Source: one-pole heat balance, reference parts 5.1.
std::optional<double> fuse_opening_seconds(FuseType type, double rating_amps, double amps);

}  // namespace voltfall
