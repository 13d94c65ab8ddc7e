// A from/to list of wires, as a spreadsheet writes it, turned into a circuit file to fill in.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "netlists/text/problem.hpp"

namespace voltfall {

struct WireList {
    std::string text;   ///< the circuit file; empty where the list has errors
    Problems problems;  ///< of the list as a whole and of single rows, each with line and column
};

/// More rows than this are no wire list of one circuit.
inline constexpr std::size_t most_wire_rows = 2000;

/// Reads the list. Columns are found by their headings (wire, from, pin, to, pin, size, colour, length; only from and
/// to must be there); cells are separated by comma, semicolon or tab, whichever the heading has most of. Decimal commas
/// are read. `from` and `to` name parts; a cell such as `C101.4` names its pin too. Parts stand as `?` lines, their
/// kind to be filled in. Empty rows and rows that begin with `#` are passed over; every other row that is no wire is an
/// error, and all of them are told.
WireList read_wire_list(const std::string& file, std::string_view text);

}  // namespace voltfall
