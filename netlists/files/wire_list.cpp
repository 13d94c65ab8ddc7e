#include "netlists/files/wire_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <vector>

#include "netlists/text/csv.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

enum class Column { wire, from, from_pin, to, to_pin, size, colour, length };
constexpr std::size_t columns = 8;

struct Heading {
    std::string_view word;
    Column column;
};
/// Words of headings, compared without case; `pin` belongs to the `from` or `to` before it.
constexpr std::array headings{
    Heading{"wire", Column::wire},     Heading{"circuit", Column::wire},  Heading{"number", Column::wire},
    Heading{"no", Column::wire},       Heading{"from", Column::from},     Heading{"start", Column::from},
    Heading{"source", Column::from},   Heading{"to", Column::to},         Heading{"end", Column::to},
    Heading{"dest", Column::to},       Heading{"target", Column::to},     Heading{"size", Column::size},
    Heading{"mm2", Column::size},      Heading{"gauge", Column::size},    Heading{"awg", Column::size},
    Heading{"section", Column::size},  Heading{"colour", Column::colour}, Heading{"color", Column::colour},
    Heading{"length", Column::length},
};
constexpr std::array<std::string_view, 4> pin_words{"pin", "cavity", "terminal", "way"};

std::string trimmed(const std::string& text) {
    const auto begins = text.find_first_not_of(" \t\r");
    if (begins == std::string::npos) return {};
    return text.substr(begins, text.find_last_not_of(" \t\r") - begins + 1);
}

bool has_word(const std::string& heading, std::string_view word) {
    const std::string text = " " + lower(heading) + " ";
    for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        const auto letter = [&](std::size_t i) { return text[i] >= 'a' && text[i] <= 'z'; };
        if (!letter(at - 1) && !letter(at + word.size())) return true;
    }
    return false;
}

char separator_of(std::string_view text) {
    const std::string_view first = text.substr(0, text.find('\n'));
    char best = ',';
    for (const char c : {';', '\t'}) {
        if (std::count(first.begin(), first.end(), c) > std::count(first.begin(), first.end(), best)) best = c;
    }
    return best;
}

class ListReader {
public:
    explicit ListReader(const std::string& file) : file_(file) {}

    WireList read(std::string_view text) {
        if (const auto line = unclosed_quote(text)) {
            error(ProblemCode::open_quotes, *line, 1, "the quotes that open here are never closed",
                  "close them, or take them out");
            return std::move(list_);
        }
        const std::vector<CsvRow> rows = cut_csv(text, separator_of(text));
        if (rows.empty()) {
            error(ProblemCode::empty_list, 1, 1, "the list is empty",
                  "the first row holds the headings: wire,from,pin,to,pin,size,colour,length");
            return std::move(list_);
        }
        if (rows.size() > most_wire_rows) {
            error(ProblemCode::too_many, static_cast<int>(rows[most_wire_rows].line), 1,
                  fmt::format("{} rows are more than one circuit has ({})", rows.size(), most_wire_rows),
                  "leave the rows of one circuit in the list");
            return std::move(list_);
        }
        if (!read_headings(rows.front())) return std::move(list_);
        for (std::size_t i = 1; i < rows.size(); ++i) read_row(rows[i]);
        if (wires_.empty())
            error(ProblemCode::empty_list, 1, 1, "no row of the list is a wire", "each wire needs a from and a to");
        if (!list_.problems.has_errors()) list_.text = circuit_text();
        return std::move(list_);
    }

private:
    SourcePlace place(std::size_t line, int column) const { return {file_, static_cast<int>(line), column, 1, {}}; }
    void error(ProblemCode code, std::size_t line, int column, std::string message, std::string suggestion) {
        list_.problems.error(code, place(line, column), std::move(message), std::move(suggestion));
    }

    bool read_headings(const CsvRow& row) {
        bool in_to = false;
        for (std::size_t i = 0; i < row.fields.size(); ++i) {
            const std::string& heading = row.fields[i];
            const bool pin = std::any_of(pin_words.begin(), pin_words.end(),
                                         [&](std::string_view word) { return has_word(heading, word); });
            if (pin && (at_[index(Column::from)] || has_word(heading, "from") || has_word(heading, "to"))) {
                const bool of_to = has_word(heading, "to") || (in_to && !has_word(heading, "from"));
                set(of_to ? Column::to_pin : Column::from_pin, i);
                continue;
            }
            for (const Heading& known : headings) {
                if (!has_word(heading, known.word)) continue;
                set(known.column, i);
                in_to = in_to || known.column == Column::to;
                break;
            }
            if (has_word(heading, "awg") || has_word(heading, "gauge")) gauge_ = true;
            if (has_word(heading, "mm") && has_word(heading, "length")) length_unit_ = "mm";
            if (has_word(heading, "cm") && has_word(heading, "length")) length_unit_ = "cm";
        }
        for (const auto& [column, name] : {std::pair{Column::from, "from"}, std::pair{Column::to, "to"}}) {
            if (at_[index(column)]) continue;
            error(ProblemCode::missing_key, row.line, 1, fmt::format("no column is headed '{}'", name),
                  "the first row holds the headings: wire,from,pin,to,pin,size,colour,length");
        }
        return !list_.problems.has_errors();
    }

    static std::size_t index(Column column) { return static_cast<std::size_t>(column); }
    void set(Column column, std::size_t field) {
        if (!at_[index(column)]) at_[index(column)] = field;
    }

    std::string cell(const CsvRow& row, Column column) const {
        const auto field = at_[index(column)];
        return field && *field < row.fields.size() ? trimmed(row.fields[*field]) : std::string();
    }

    /// Says that a row is no wire and keeps it as a comment.
    void leave_out(const CsvRow& row, Column column, const std::string& why) {
        const int field = static_cast<int>(at_[index(column)].value_or(0)) + 1;
        list_.problems.warning(ProblemCode::row_left_out, place(row.line, field),
                               fmt::format("row of line {}, column {}: {}", row.line, field, why),
                               "it stands as a comment in the circuit");
        std::string text;
        for (const std::string& one : row.fields) text += (text.empty() ? "" : ", ") + trimmed(one);
        comments_.push_back(fmt::format("# line {}: {}  ({})", row.line, text, why));
        ++list_.left_out;
    }

    static bool is_name(const std::string& text) {
        return !text.empty() && std::all_of(text.begin(), text.end(), [](unsigned char c) {
            return std::isalnum(c) || c == '_' || c == '-' || c == '/';
        });
    }

    /// `C101` and `4`, or `C101.4` in one cell.
    bool read_end(const CsvRow& row, Column of_part, Column of_pin, std::string& end) {
        std::string part = cell(row, of_part);
        std::string pin = cell(row, of_pin);
        if (const auto dot = part.find('.'); dot != std::string::npos && pin.empty()) {
            pin = part.substr(dot + 1);
            part = part.substr(0, dot);
        }
        std::replace(part.begin(), part.end(), ' ', '_');
        if (part.empty()) {
            leave_out(row, of_part, "the end of the wire is missing");
            return false;
        }
        if (!is_name(part) || (!pin.empty() && !std::all_of(pin.begin(), pin.end(), [](unsigned char c) {
                return std::isalnum(c) || c == '+' || c == '-';
            }))) {
            leave_out(row, of_part,
                      fmt::format("'{}' is no name of a part and its pin", part + (pin.empty() ? "" : "." + pin)));
            return false;
        }
        if (std::none_of(parts_.begin(), parts_.end(), [&](const std::string& p) { return same_word(p, part); }))
            parts_.push_back(part);
        end = pin.empty() ? part : part + "." + pin;
        return true;
    }

    /// A figure with its unit, `unit` where none is typed; nothing, and the row left out, where it is none.
    bool read_figure(const CsvRow& row, Column column, std::string_view unit, std::initializer_list<Unit> wanted,
                     std::string& figure) {
        figure = cell(row, column);
        if (figure.empty()) return true;
        figure.erase(std::remove(figure.begin(), figure.end(), ' '), figure.end());
        const std::string typed = figure;
        if (const auto measure = parse_measure(figure); !measure || measure->unit == Unit::none) figure += unit;
        const auto read = parse_measure(figure);
        const bool good = read && read->value > 0 &&
                          std::any_of(wanted.begin(), wanted.end(), [&](Unit u) { return read->unit == u; });
        if (!good) leave_out(row, column, fmt::format("'{}' is no figure in {}", typed, unit));
        std::replace(figure.begin(), figure.end(), ',', '.');
        return good;
    }

    void read_row(const CsvRow& row) {
        std::string from;
        std::string to;
        std::string size;
        std::string length;
        if (!read_end(row, Column::from, Column::from_pin, from) || !read_end(row, Column::to, Column::to_pin, to) ||
            !read_figure(row, Column::size, gauge_ ? "AWG" : "mm2", {Unit::square_millimetre, Unit::awg}, size) ||
            !read_figure(row, Column::length, length_unit_, {Unit::metre}, length)) {
            return;
        }
        std::string colour = cell(row, Column::colour);
        colour.erase(std::remove_if(colour.begin(), colour.end(),
                                    [](unsigned char c) { return !std::isalnum(c) && c != '/' && c != '-'; }),
                     colour.end());
        std::string number = cell(row, Column::wire);
        std::replace(number.begin(), number.end(), ' ', '_');
        if (!number.empty() && !is_name(number)) {
            return leave_out(row, Column::wire, fmt::format("'{}' is no number of a wire", number));
        }
        if (number.empty()) number = fmt::format("w{}", wires_.size() + 1);
        std::string name = number;
        // The diagram's number on several pieces: each needs a name of its own.
        for (char letter = 'a'; !names_.insert(lower(name)).second; ++letter) {
            if (letter > 'z') return leave_out(row, Column::wire, fmt::format("wire '{}' stands too often", number));
            name = number + "_" + letter;
        }
        std::string line = fmt::format("{} = \"{} > {}", name, from, to);
        for (const std::string& more : {size, colour, length})
            if (!more.empty()) line += "  " + more;
        wires_.push_back(line + "\"");
    }

    std::string circuit_text() const {
        std::string text =
            "# Made from a wire list. Put in the kind of every part where a ? stands, for example\n"
            "# F1 = \"fuse 30A maxi, feed 30\"; a battery is needed: B1 = \"battery 12.6V 8mohm, charging 14.2V\".\n"
            "format = 1\nname   = \"from a wire list\"\n\n[parts]\n";
        for (const std::string& part : parts_) text += part + " = \"?\"\n";
        text += "\n[wires]\n";
        for (const std::string& wire : wires_) text += wire + "\n";
        if (!comments_.empty()) text += "\n# Rows that were not understood:\n";
        for (const std::string& comment : comments_) text += comment + "\n";
        return text;
    }

    std::string file_;
    WireList list_;
    std::array<std::optional<std::size_t>, columns> at_{};
    bool gauge_{false};
    std::string length_unit_{"m"};
    std::vector<std::string> parts_;
    std::vector<std::string> wires_;
    std::vector<std::string> comments_;
    std::set<std::string> names_;
};

}  // namespace

WireList read_wire_list(const std::string& file, std::string_view text) {
    return ListReader(file).read(text);
}

}  // namespace voltfall
