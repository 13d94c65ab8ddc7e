// What each figure that a person types can be: its unit, its least and its most. One table for every reader.
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

/// All rows; each pair of owner, figure and unit stands once.
std::span<const FigureBounds> figure_rows();

/// The row, or null. A figure in one of two units (bar or C) has a row for each.
const FigureBounds* find_figure(std::string_view of, std::string_view figure, Unit unit);

/// The row; throws std::logic_error where the table has none, for then the program and not the person is wrong.
const FigureBounds& figure_bounds(std::string_view of, std::string_view figure, Unit unit);

/// Has this owner any figure in that unit?
bool has_figure_in(std::string_view of, Unit unit);

/// What is said of a value that the figure cannot have.
struct OutOfBounds {
    std::string message;     ///< "'0V' must be more than zero"
    std::string suggestion;  ///< "the rest volts of a battery: 3V to 60V; for example battery 12.6V 8mohm"
};

/// Why `value`, typed as `typed`, cannot be the figure; nothing when it can. `example` is a line that is right.
std::optional<OutOfBounds> outside_bounds(const FigureBounds& bounds, double value, std::string_view typed,
                                          std::string_view example);

}  // namespace voltfall
