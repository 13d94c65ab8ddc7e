#include "netlists/files/wire_list.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>
#include <set>
#include <vector>

#include "netlists/files/circuit_draft.hpp"
#include "netlists/files/source_lines.hpp"
#include "netlists/tables/colours.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/twin_letters.hpp"

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

/// What a heading says. `wire colour` is the colour: the wire's number only where it says nothing else.
const Heading* heading_in(const std::string& heading) {
    const Heading* found = nullptr;
    for (const Heading& known : headings) {
        if (!has_word(heading, known.word)) continue;
        if (known.column != Column::wire) return &known;
        if (!found) found = &known;
    }
    return found;
}

class ListReader {
public:
    explicit ListReader(const std::string& file) : file_(file) {}

    WireList read(std::string_view text) {
        // The characters are those of any other file: no UTF-16, no NUL, no bytes that are no text.
        lines_ = cut_lines(text, file_, list_.problems);
        if (!lines_ || list_.problems.has_errors()) return std::move(list_);
        text = without_separator_line(text);
        const char separator = separator_.value_or(separator_of(text));
        if (const auto line = unclosed_quote(text, separator)) {
            error(ProblemCode::open_quotes, *line, 1, "the quotes that open here are never closed",
                  "close them, or take them out");
            return std::move(list_);
        }
        const std::vector<CsvRow> rows = cut_csv(text, separator);
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
        if (wires_.empty() && !list_.problems.has_errors())
            error(ProblemCode::empty_list, 1, 1, "no row of the list is a wire", "each wire needs a from and a to");
        if (!list_.problems.has_errors()) list_.text = circuit_text();
        return std::move(list_);
    }

private:
    SourcePlace place(std::size_t line, int column) const {
        return {file_, static_cast<int>(line + lines_before_), column, 1, {}};
    }

    /// `sep=;` before the headings, as spreadsheets write it.
    std::string_view without_separator_line(std::string_view text) {
        constexpr std::string_view mark = "\xEF\xBB\xBF";
        std::string_view rest = text.starts_with(mark) ? text.substr(mark.size()) : text;
        const auto end = rest.find('\n');
        const std::string_view first = rest.substr(0, end);
        if (!first.starts_with("sep=") || first.size() < 5 || end == std::string_view::npos) return text;
        separator_ = first[4];
        lines_before_ = 1;
        return rest.substr(end + 1);
    }
    void error(ProblemCode code, std::size_t line, int column, std::string message, std::string suggestion) {
        list_.problems.error(code, place(line, column), std::move(message), std::move(suggestion));
    }

    bool read_headings(const CsvRow& row) {
        bool in_to = false;
        headings_ = row.fields.size();
        for (std::size_t i = 0; i < row.fields.size(); ++i) {
            const std::string& heading = row.fields[i];
            const auto cut = heading.find_first_of(";\t|");
            const bool two =
                cut != std::string::npos && heading_in(heading.substr(0, cut)) && heading_in(heading.substr(cut + 1));
            if (two) {
                error(ProblemCode::missing_key, row.line, 1,
                      fmt::format("the heading '{}' holds a second sort of separator", trimmed(heading).substr(0, 120)),
                      "part all cells with one of them: comma, semicolon or tab");
                return false;
            }
            const bool pin = std::any_of(pin_words.begin(), pin_words.end(),
                                         [&](std::string_view word) { return has_word(heading, word); });
            if (pin && (at_[index(Column::from)] || has_word(heading, "from") || has_word(heading, "to"))) {
                const bool of_to = has_word(heading, "to") || (in_to && !has_word(heading, "from"));
                set(of_to ? Column::to_pin : Column::from_pin, i);
                continue;
            }
            if (const Heading* known = heading_in(heading)) {
                set(known->column, i);
                in_to = in_to || known->column == Column::to;
            }
            if (has_word(heading, "awg") || has_word(heading, "gauge")) gauge_ = true;
            if (has_word(heading, "mm") && has_word(heading, "length")) length_unit_ = "mm";
            if (has_word(heading, "cm") && has_word(heading, "length")) length_unit_ = "cm";
        }
        const bool from = at_[index(Column::from)].has_value();
        const bool to = at_[index(Column::to)].has_value();
        for (const std::size_t field : again_) {
            list_.problems.warning(ProblemCode::written_twice, place(row.line, static_cast<int>(field) + 1),
                                   fmt::format("the heading '{}' says what an earlier one says; its column is not read",
                                               trimmed(row.fields[field])),
                                   "give each column a heading of its own");
        }
        if (from && to) return true;
        std::string found;
        constexpr std::size_t most = 8;
        for (std::size_t i = 0; i < std::min(most, row.fields.size()); ++i)
            found += (i > 0 ? ", " : "") + trimmed(row.fields[i]);
        error(ProblemCode::missing_key, row.line, 1,
              fmt::format("no column is headed {}; the first row says {}",
                          from ? "'to'"
                          : to ? "'from'"
                               : "'from', and none 'to'",
                          found.substr(0, 120)),
              "the first row holds the headings: wire,from,pin,to,pin,size,colour,length");
        return false;
    }

    static std::size_t index(Column column) { return static_cast<std::size_t>(column); }
    void set(Column column, std::size_t field) {
        if (!at_[index(column)]) {
            at_[index(column)] = field;
        } else {
            again_.push_back(field);
        }
    }

    std::string cell(const CsvRow& row, Column column) const {
        const auto field = at_[index(column)];
        return field && *field < row.fields.size() ? trimmed(row.fields[*field]) : std::string();
    }

    /// Says that a row is no wire, at the cell of that column.
    void refuse(const CsvRow& row, Column column, const std::string& why) {
        refuse_at(row, static_cast<int>(at_[index(column)].value_or(0)) + 1, why);
    }
    /// Where the cell stands in its line; the line's beginning where it cannot be found there.
    SourcePlace cell_place(const CsvRow& row, int field) const {
        SourcePlace at = place(row.line, 1);
        const std::size_t index = row.line + lines_before_ - 1;
        if (!lines_ || index >= lines_->lines.size()) return at;
        at.text = lines_->lines[index].shown();
        const std::string& line = at.text.str();
        std::size_t from = 0;
        for (int i = 0; i < field && static_cast<std::size_t>(i) < row.fields.size(); ++i) {
            const std::string cell = trimmed(row.fields[static_cast<std::size_t>(i)]);
            const std::size_t found = line.find(cell, from);
            if (found == std::string::npos) return at;
            at.column = character_count(std::string_view(line).substr(0, found)) + 1;
            at.length = std::max(1, character_count(cell));
            from = std::min(found + cell.size() + 1, line.size());
        }
        return at;
    }
    void refuse_at(const CsvRow& row, int field, const std::string& why) {
        list_.problems.error(ProblemCode::row_left_out, cell_place(row, field),
                             fmt::format("row of line {}, column {}: {}", row.line + lines_before_, field, why),
                             "correct it in the list; a # in front of a row leaves it out");
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
            refuse(row, of_part, "the end of the wire is missing");
            return false;
        }
        if (!is_name(part) || character_count(part) > longest_name ||
            (!pin.empty() && !std::all_of(pin.begin(), pin.end(),
                                          [](unsigned char c) { return std::isalnum(c) || c == '+' || c == '-'; }))) {
            refuse(row, of_part,
                   fmt::format("'{}' is no name of a part and its pin", part + (pin.empty() ? "" : "." + pin)));
            return false;
        }
        for (const std::string& other : parts_) {
            if (same_word(other, part) || !same_word(as_it_looks(other), as_it_looks(part))) continue;
            const std::string twin = twin_letter_in(part);
            refuse(row, of_part,
                   fmt::format("'{}' only looks like '{}'{}", part, other, twin.empty() ? "" : ": " + twin));
            return false;
        }
        if (std::none_of(parts_.begin(), parts_.end(), [&](const std::string& p) { return same_word(p, part); }))
            parts_.push_back(part);
        end = pin.empty() ? part : part + "." + pin;
        return true;
    }

    /// A figure with its unit, `unit` where none is typed; false, and the row refused, where it is none.
    bool read_figure(const CsvRow& row, Column column, std::string_view unit, std::initializer_list<Unit> wanted,
                     std::string& figure) {
        figure = cell(row, column);
        if (figure.empty()) return true;
        const std::string typed = figure;
        figure.erase(std::remove(figure.begin(), figure.end(), ' '), figure.end());
        if (const auto measure = parse_measure(figure); !measure || measure->unit == Unit::none) figure += unit;
        const auto read = parse_measure(figure);
        const bool fits = read && std::any_of(wanted.begin(), wanted.end(), [&](Unit u) { return read->unit == u; });
        const FigureBounds* bounds = fits ? bounds_of(read->unit) : nullptr;
        const auto wrong = bounds ? outside_bounds(*bounds, read->value, typed, "") : std::nullopt;
        const bool good = fits && !wrong;
        if (!good) refuse(row, column, wrong ? wrong->message : fmt::format("'{}' is no figure in {}", typed, unit));
        std::replace(figure.begin(), figure.end(), ',', '.');
        return good;
    }

    static const FigureBounds* bounds_of(Unit unit) {
        if (unit == Unit::metre) return find_figure("wire", "length", unit);
        return unit == Unit::awg ? find_figure("wire", "gauge", unit) : find_figure("wire", "area", unit);
    }

    /// More cells than headings: something was cut in two, as by a decimal comma.
    bool is_too_long(const CsvRow& row) {
        std::size_t count = row.fields.size();
        while (count > headings_ && trimmed(row.fields[count - 1]).empty()) --count;
        if (count <= headings_) return false;
        refuse_at(row, static_cast<int>(headings_) + 1,
                  fmt::format("'{}' stands under no heading: {} cells, {} headings", trimmed(row.fields[headings_]),
                              count, headings_));
        return true;
    }

    /// Marks that cannot be seen, and what only looks like a plain sign, in the cells that are read.
    bool holds_strange_characters(const CsvRow& row) {
        for (const Column column :
             {Column::wire, Column::from, Column::from_pin, Column::to, Column::to_pin, Column::size, Column::length}) {
            const auto characters = characters_of(cell(row, column));
            const auto strange = std::find_if(characters.begin(), characters.end(), [](const Character& c) {
                return c.valid && look_alike(c.code) != nullptr;
            });
            if (strange == characters.end()) continue;
            refuse(row, column,
                   fmt::format("the cell holds the character {} ({})", code_point_name(strange->code),
                               look_alike(strange->code)->name));
            return true;
        }
        return false;
    }

    void read_row(const CsvRow& row) {
        const bool empty = std::all_of(row.fields.begin(), row.fields.end(),
                                       [](const std::string& field) { return trimmed(field).empty(); });
        if (empty || trimmed(row.fields.front()).starts_with('#')) return;  // nothing, or a note
        if (is_too_long(row) || holds_strange_characters(row)) return;
        std::string from;
        std::string to;
        std::string size;
        std::string length;
        // Each cell by itself: a row with two mistakes tells both.
        const std::array sound{
            read_end(row, Column::from, Column::from_pin, from), read_end(row, Column::to, Column::to_pin, to),
            read_figure(row, Column::size, gauge_ ? "AWG" : "mm2", {Unit::square_millimetre, Unit::awg}, size),
            read_figure(row, Column::length, length_unit_, {Unit::metre}, length)};
        if (std::find(sound.begin(), sound.end(), false) != sound.end()) return;
        if (same_word(from, to))
            return refuse(row, Column::to, fmt::format("the wire ends where it begins, at '{}'", to));
        std::string colour = cell(row, Column::colour);
        colour.erase(
            std::remove_if(colour.begin(), colour.end(),
                           [](unsigned char c) { return c < 0x80 && !std::isalnum(c) && c != '/' && c != '-'; }),
            colour.end());
        const std::string looks = as_it_looks(colour);
        if (looks != colour && !colour_meaning(looks).words.empty())
            return refuse(row, Column::colour,
                          fmt::format("the colour '{}' only looks like {}: {}", colour, looks, twin_letter_in(colour)));
        std::string number = cell(row, Column::wire);
        std::replace(number.begin(), number.end(), ' ', '_');
        if (!number.empty() && !is_name(number)) {
            return refuse(row, Column::wire, fmt::format("'{}' is no number of a wire", number));
        }
        if (number.empty()) number = fmt::format("w{}", wires_.size() + 1);
        std::string name = number;
        // The diagram's number on several pieces: each needs a name of its own.
        for (char letter = 'a'; !names_.insert(lower(name)).second; ++letter) {
            if (letter > 'z') return refuse(row, Column::wire, fmt::format("wire '{}' stands too often", number));
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
        return text;
    }

    std::string file_;
    std::optional<SourceText> lines_;
    std::optional<char> separator_;  ///< that the list names itself
    std::size_t lines_before_{0};    ///< lines in front of the headings
    WireList list_;
    std::array<std::optional<std::size_t>, columns> at_{};
    std::size_t headings_{0};
    std::vector<std::size_t> again_;  ///< headings of a column that there is already
    bool gauge_{false};
    std::string length_unit_{"m"};
    std::vector<std::string> parts_;
    std::vector<std::string> wires_;
    std::set<std::string> names_;
};

}  // namespace

WireList read_wire_list(const std::string& file, std::string_view text) {
    return ListReader(file).read(text);
}

}  // namespace voltfall
