// A small table of comma-separated values: quoted fields, a header line, rows that know their line number.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

struct CsvRow {
    std::size_t line{};  ///< line of the file on which the row starts
    std::vector<std::string> fields;
};

/// Cuts text into rows. A field in double quotes may hold commas, line ends and doubled quotes; a byte-order mark and
/// carriage returns are left out, empty lines too.
inline std::vector<CsvRow> cut_csv(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) {
        text.remove_prefix(3);
    }
    std::vector<CsvRow> rows;
    std::size_t line = 1;
    CsvRow row{line, {""}};
    bool quoted = false;
    const auto finish = [&] {
        if (row.fields.size() > 1 || !row.fields[0].empty()) {
            rows.push_back(row);
        }
        row = CsvRow{line, {""}};
    };
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (c == '\n') {
            ++line;
        }
        if (c == '"') {
            const bool doubled = quoted && at + 1 < text.size() && text[at + 1] == '"';
            if (doubled) {
                row.fields.back() += '"';
                ++at;
            } else {
                quoted = !quoted;
            }
        } else if (quoted || (c != ',' && c != '\n' && c != '\r')) {
            row.fields.back() += c;
        } else if (c == ',') {
            row.fields.emplace_back();
        } else if (c == '\n') {
            finish();
        }
    }
    finish();
    return rows;
}

}  // namespace voltfall
