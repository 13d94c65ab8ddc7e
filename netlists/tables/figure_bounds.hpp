// What each figure that a person types can be: its unit, its least and its most. Those of a kind of part stand in its
// own file; all others in one table.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "netlists/text/quantity.hpp"

namespace voltfall {

/// What the figure counts: a size on a scale, or whole things.
enum class Counting { measured, whole };

/// One row. The ends belong to the range and are in the units of `Quantity`; they lie well outside what 12 V and 24 V
/// vehicles and training boards have, so that a value beyond them is a slip of the hand and not an unusual part.
struct FigureBounds {
    std::string_view of;      ///< whose figure: a kind of part, "wire", "reading", "fault", "limit", "heat", "tool" …
    std::string_view figure;  ///< its name in messages, and of the part's parameter: "rest volts"
    Unit unit{Unit::none};
    double least{};
    double most{};
    Counting counting{Counting::measured};

    bool holds(double value) const;
    /// "the rest volts of a battery".
    std::string name() const;
    /// "3V to 60V".
    std::string range() const;
};

// Ends shared by several rows. All are set by judgement, far outside what catalogues of vehicle parts offer (ASSUMED).
inline constexpr double least_supply = 3;         // V; training boards run from small dry batteries
inline constexpr double most_supply = 60;         // V; twice a charging 24 V system
inline constexpr double most_fuse_amps = 1000;    // A; bolted main fuses end at 500
inline constexpr double coldest = -60;            // °C
inline constexpr double most_contact_ohms = 100;  // a healthy contact; more is a fault
/// What a switch, key or connector may be rated for, amperes.
inline constexpr double most_rated_amps = 3000;
inline constexpr double thinnest_gauge = 40;  // solid-round tables end there
inline constexpr double thickest_gauge = -3;  // 0000

/// All rows of the table; each pair of owner, figure and unit stands once.
std::span<const FigureBounds> figure_rows();

/// The row, or null. A figure in one of two units (bar or C) has a row for each.
const FigureBounds* find_figure(std::string_view of, std::string_view figure, Unit unit);

/// The row; throws std::logic_error where the table has none, for then the program and not the person is wrong.
const FigureBounds& figure_bounds(std::string_view of, std::string_view figure, Unit unit);

/// What is said of a value that the figure cannot have.
struct OutOfBounds {
    std::string message;     ///< "'0V' must be more than zero"
    std::string suggestion;  ///< "the rest volts of a battery: 3V to 60V; for example battery 12.6V 8mohm"
};

/// Why `value`, typed as `typed`, cannot be the figure; nothing when it can. `example` is a line that is right.
std::optional<OutOfBounds> outside_bounds(const FigureBounds& bounds, double value, std::string_view typed,
                                          std::string_view example);

}  // namespace voltfall
