// Comma-separated values (RFC 4180): fields in double quotes where they need them.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

struct CsvRow {
    std::size_t line{};  ///< line of the text on which the row starts, from 1
    std::vector<std::string> fields;
};

/// Cuts text into rows, by libcsv. A field that begins with double quotes may hold separators, line ends and doubled
/// quotes; quotes within another field are its own (`12" hose`). A byte-order mark, carriage returns and empty lines
/// are left out. `separator` stands between fields.
std::vector<CsvRow> cut_csv(std::string_view text, char separator = ',');

/// The line, from 1, on which the field begins whose double quotes nothing closes; nullopt where all are closed.
std::optional<std::size_t> unclosed_quote(std::string_view text, char separator = ',');

/// A person's text as a field that a spreadsheet shows and does not compute: one that begins as a formula does (`=`,
/// `+`,
/// `-`, `@`, a tab) gets an apostrophe in front. Common practice, no source.
std::string spreadsheet_text(const std::string& text);

/// One row with its line end. Line ends inside a field become blanks, so that a row is one line.
std::string csv_line(std::span<const std::string> fields);

}  // namespace voltfall
