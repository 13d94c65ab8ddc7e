// A current (or any figure) over time.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace voltfall {

/// Points in the order of time; between them the figure goes straight. Both lists have the same length.
struct Waveform {
    std::vector<double> seconds;
    std::vector<double> values;

    /// The value at a time; the first or last one outside.
    double at(double when) const;
    /// First time at which the size of the value reaches `level`, seconds; nothing when it never does.
    std::optional<double> reaches(double level) const;
    /// Place of the value that is largest in size; 0 for no points.
    std::size_t peak() const;
};

/// The same curve in at most `most` points: those that straight lines between the others would miss by the most are
/// kept; first, last and peak always. `most` is at least 3.
Waveform thinned(const Waveform& whole, std::size_t most);

}  // namespace voltfall
