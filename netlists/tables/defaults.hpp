// Every value that is used where a file is silent: one table, each row with its source.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "netlists/text/quantity.hpp"

namespace voltfall {

/// One default. `text` holds what is not a plain number (`0.8%+3digits`); `value` is NaN then, except where the text
/// is one number with its unit (`10%`, `0.3V`), which `value` gives in SI.
/// A source that says ASSUMED is a modelling choice with no published value behind it.
struct DefaultRow {
    std::string_view name;
    double value;
    std::string_view text;
    std::string_view source;
};

/// All rows, in the order of the table.
std::span<const DefaultRow> default_rows();

/// The row of that name; an unknown name is a bug (assertion).
const DefaultRow& default_row(std::string_view name);

/// The number of that row; a row without one number is a bug (assertion).
double default_value(std::string_view name);

/// The row for the system's volts: `clutch_ohm` is `clutch_ohm_12`, or `clutch_ohm_24` in a 24 V vehicle.
std::string row_at(std::string_view name, double supply);

/// The two ends of a row such as `0.02-100ohm` or `1.1-3`.
struct DefaultRange {
    double low;
    double high;
    Unit unit;
};

/// The range of that row; a row that is none is a bug (assertion).
DefaultRange default_range(std::string_view name);

}  // namespace voltfall
