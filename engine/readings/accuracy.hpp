// How far an instrument's reading may lie from the truth.
#pragma once

#include <string_view>
#include <vector>

#include "netlists/files/job_file.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

/// Accuracy as makers print it: a share of the reading, counts of the last digit shown, and units of the reading.
struct Accuracy {
    double relative{0};
    double digits{0};
    double absolute{0};

    /// Largest error at this value, shown with this last digit.
    double limit(double value, double last_digit) const;
};

/// Reads `0.8%+3digits`, `2.5%+0.3A`, `1%+2digits+0.15ohm leads`; what is not understood adds nothing.
Accuracy read_accuracy(std::string_view text);

/// The meter or clamp of the job, or the default of the table (`meter_volts`, `clamp_amps`).
enum class Instrument { meter, clamp };
Accuracy accuracy_of(Instrument instrument, const std::vector<Tool>& tools);

/// A maker's limit is taken as two sigma, because nearly all instruments keep it (ASSUMED).
inline constexpr double sigmas_in_limit = 2.0;

/// A probe that does not touch, and a joint that nothing holds, show zero on a 10 Mohm meter within this, one sigma,
/// volts (ASSUMED).
inline constexpr double untouched_sigma = 0.05;

/// How far the relative errors of two readings go together: all readings of one meter are off by its one scale error,
/// while a little of the maker's percentage is its curve (ASSUMED).
inline constexpr double shared_scale = 0.9;

/// One sigma of the instrument's scale error at a value: the part of `instrument_sigma` that its readings share.
double scale_sigma(const Accuracy& accuracy, double value);

/// One sigma of the instrument for a typed value; a value written with `~` is trusted to 5 % (ASSUMED).
double instrument_sigma(const Accuracy& accuracy, const ReadValue& value);

}  // namespace voltfall
