// A table of text that fits a width: columns are shrunk, then left out, then stacked; a number is never cut.
#pragma once

#include <string>
#include <vector>

#include "cli/views/text_page.hpp"

namespace voltfall {

enum class Align { left, right };

/// Whether a column's text may be broken between words.
enum class Fold { whole, words };

struct TableColumn {
    std::string head;  ///< with the unit of a number column: "V"
    Align align{Align::left};
    Fold fold{Fold::whole};
    int leave_out{0};  ///< when the width does not do, the highest goes first; 0 always stays
};

struct TableCell {
    std::string text;
    Tone tone{Tone::plain};

    TableCell(std::string cell_text, Tone cell_tone = Tone::plain) : text(std::move(cell_text)), tone(cell_tone) {}
    TableCell(const char* cell_text, Tone cell_tone = Tone::plain) : text(cell_text), tone(cell_tone) {}
};

class TextTable {
public:
    explicit TextTable(std::vector<TableColumn> columns) : columns_(std::move(columns)) {}

    /// Adds a row; missing cells are empty.
    void row(std::vector<TableCell> cells);
    bool empty() const { return rows_.empty(); }
    std::size_t size() const { return rows_.size(); }
    /// The same table with its first rows alone.
    TextTable first(std::size_t rows) const;

    /// The rows under their heads, each at most `width` characters. Columns without any text take no room. Columns that
    /// may fold are narrowed first, then columns are left out, and when even that does not do, a row becomes several
    /// lines ("head value").
    std::vector<std::string> lines(int width, Colour colour) const;

private:
    std::vector<int> natural_widths(const std::vector<std::size_t>& shown) const;
    bool narrow(std::vector<int>& widths, const std::vector<std::size_t>& shown, int width) const;
    std::vector<std::string> stacked(int width, Colour colour) const;
    void write_row(std::vector<std::string>& lines, const std::vector<TableCell>& cells,
                   const std::vector<std::size_t>& shown, const std::vector<int>& widths, Colour colour) const;

    std::vector<TableColumn> columns_;
    std::vector<std::vector<TableCell>> rows_;
};

}  // namespace voltfall
