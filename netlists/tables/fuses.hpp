// Published fuse data by type and rating.
#pragma once

#include <optional>
#include <span>
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

/// Typical opening time from cold at 25 °C and constant current, seconds; nothing when it never opens (two-stage model
/// of `fuse_model.hpp`).
std::optional<double> fuse_opening_seconds(FuseType type, double rating_amps, double amps);

/// Melting I2t far above the rating, typical, A2s.
double fuse_melting_i2t(FuseType type, double rating_amps);

/// The rating nearest to so many amperes that blade fuses are made in (ISO 8820-3 and its sizes for high currents).
double nearest_fuse_rating(double amps);

/// Factor on the usable rating at an ambient of -40 to 125 °C: 1 at 25 °C, -0.153 % a kelvin (rows F30-F32, a blade
/// fuse).
double fuse_ambient_factor(double ambient_celsius);

/// One row of a type's published time-current limits.
struct FuseLimit {
    double percent{};                ///< of the rating
    double earliest{};               ///< seconds; it must not open before
    std::optional<double> latest{};  ///< seconds; it must have opened; nothing where it need not open
    bool from_memory{false};         ///< the row was not seen in its source: a wide band only
    std::string_view source;
};
/// Rising in percent; empty for breakers and links.
std::span<const FuseLimit> fuse_limits(FuseType type);

/// Colour of the body by which a person checks the rating in the holder; empty where no table has it.
std::string_view fuse_colour(FuseType type, double rating_amps);

/// How many pulses of this share of the melting I2t a fuse stands, at least 10 s apart (row F36, charts of a fuse
/// maker): 100 at 48 %, 100,000 at 22 %, straight between them over the logarithm of the number. At most 100,000 is
/// said; a share of 1 or more is 0.
double pulses_survived(double share_of_i2t);

}  // namespace voltfall
