#include "netlists/text/csv.hpp"

namespace voltfall {

namespace {

std::string csv_field(const std::string& text) {
    if (text.find_first_of(",\"\n\r") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text) {
        if (c == '"') quoted += '"';
        quoted += c == '\n' || c == '\r' ? ' ' : c;
    }
    return quoted + "\"";
}

}  // namespace

std::vector<CsvRow> cut_csv(std::string_view text, char separator) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    std::vector<CsvRow> rows;
    std::size_t line = 1;
    CsvRow row{line, {""}};
    bool quoted = false;
    const auto finish = [&] {
        if (row.fields.size() > 1 || !row.fields[0].empty()) rows.push_back(row);
        row = CsvRow{line, {""}};
    };
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (c == '\n') ++line;
        if (c == '"') {
            const bool doubled = quoted && at + 1 < text.size() && text[at + 1] == '"';
            if (doubled) {
                row.fields.back() += '"';
                ++at;
            } else {
                quoted = !quoted;
            }
        } else if (quoted || (c != separator && c != '\n' && c != '\r')) {
            row.fields.back() += c;
        } else if (c == separator) {
            row.fields.emplace_back();
        } else if (c == '\n') {
            finish();
        }
    }
    finish();
    return rows;
}

std::optional<std::size_t> unclosed_quote(std::string_view text) {
    std::size_t line = 1;
    std::optional<std::size_t> open;
    // Doubled quotes inside a field close and open it again: the count is what matters.
    for (const char c : text) {
        if (c == '"') open = open ? std::nullopt : std::optional(line);
        if (c == '\n') ++line;
    }
    return open;
}

std::string spreadsheet_text(const std::string& text) {
    const auto first = text.find_first_not_of(' ');
    const bool formula = first != std::string::npos && std::string_view("=+-@\t\r").find(text[first]) != std::string_view::npos;
    return formula ? "'" + text : text;
}

std::string csv_line(std::span<const std::string> fields) {
    std::string line;
    for (std::size_t i = 0; i < fields.size(); ++i) line += (i > 0 ? "," : "") + csv_field(fields[i]);
    return line + "\n";
}

}  // namespace voltfall
