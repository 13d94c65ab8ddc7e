#include "cli/views/text_table.hpp"

#include <algorithm>
#include <numeric>

#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

constexpr int gutter = 2;
/// A folding column is not made narrower than this, or than its longest word.
constexpr int least_fold_width = 14;

int longest_piece(const std::string& text) {
    int longest = 0;
    for (const std::string& piece : wrap_words(text, 1)) longest = std::max(longest, text_width(piece));
    return longest;
}

int total(const std::vector<int>& widths) {
    return std::accumulate(widths.begin(), widths.end(), 0) + gutter * (static_cast<int>(widths.size()) - 1);
}

std::string aligned(const std::string& text, int width, Align align, Tone tone, Colour colour) {
    const std::string blanks(static_cast<std::size_t>(std::max(width - text_width(text), 0)), ' ');
    const std::string body = painted(text, tone, colour);
    return align == Align::left ? body + blanks : blanks + body;
}

void drop_end_blanks(std::string& line) {
    line.erase(line.find_last_not_of(' ') + 1);
}

}  // namespace

TextTable TextTable::first(std::size_t rows) const {
    TextTable table(columns_);
    table.rows_.assign(rows_.begin(), rows_.begin() + static_cast<std::ptrdiff_t>(std::min(rows, rows_.size())));
    return table;
}

void TextTable::row(std::vector<TableCell> cells) {
    while (cells.size() < columns_.size()) cells.emplace_back("");
    for (TableCell& cell : cells) cell.text = visible(cell.text);
    rows_.push_back(std::move(cells));
}

std::vector<int> TextTable::natural_widths(const std::vector<std::size_t>& shown) const {
    std::vector<int> widths;
    for (const std::size_t column : shown) {
        int width = text_width(columns_[column].head);
        for (const auto& cells : rows_) width = std::max(width, text_width(cells[column].text));
        widths.push_back(width);
    }
    return widths;
}

bool TextTable::narrow(std::vector<int>& widths, const std::vector<std::size_t>& shown, int width) const {
    int over = total(widths) - width;
    for (std::size_t i = 0; i < shown.size() && over > 0; ++i) {
        if (columns_[shown[i]].fold != Fold::words) continue;
        int least = std::max(least_fold_width, longest_piece(columns_[shown[i]].head));
        for (const auto& cells : rows_) least = std::max(least, longest_piece(cells[shown[i]].text));
        const int cut = std::clamp(widths[i] - least, 0, over);
        widths[i] -= cut;
        over -= cut;
    }
    return over <= 0;
}

void TextTable::write_row(std::vector<std::string>& lines, const std::vector<TableCell>& cells,
                          const std::vector<std::size_t>& shown, const std::vector<int>& widths, Colour colour) const {
    std::vector<std::vector<std::string>> folded;
    std::size_t height = 1;
    for (std::size_t i = 0; i < shown.size(); ++i) {
        const std::string& text = cells[shown[i]].text;
        folded.push_back(text_width(text) > widths[i] ? wrap_words(text, widths[i]) : std::vector<std::string>{text});
        height = std::max(height, folded.back().size());
    }
    for (std::size_t h = 0; h < height; ++h) {
        std::string line;
        for (std::size_t i = 0; i < shown.size(); ++i) {
            if (i > 0) line.append(gutter, ' ');
            const std::string piece = h < folded[i].size() ? folded[i][h] : "";
            line += aligned(piece, widths[i], columns_[shown[i]].align, cells[shown[i]].tone, colour);
        }
        drop_end_blanks(line);
        lines.push_back(std::move(line));
    }
}

std::vector<std::string> TextTable::stacked(int width, Colour colour) const {
    std::vector<std::string> lines;
    for (const auto& cells : rows_) {
        TextPage page({width, colour});
        page.paragraph(cells[0].text, 0, 2, cells[0].tone);
        for (std::size_t i = 1; i < columns_.size(); ++i)
            if (!cells[i].text.empty()) page.labelled(columns_[i].head, cells[i].text, 2, cells[i].tone);
        std::size_t at = 0;
        while (at < page.text().size()) {
            const std::size_t end = page.text().find('\n', at);
            lines.push_back(page.text().substr(at, end - at));
            at = end + 1;
        }
    }
    return lines;
}

std::vector<std::string> TextTable::lines(int width, Colour colour) const {
    std::vector<std::size_t> shown;
    for (std::size_t i = 0; i < columns_.size(); ++i)
        if (natural_widths({i}).front() > 0) shown.push_back(i);
    std::vector<int> widths = natural_widths(shown);
    while (!narrow(widths, shown, width)) {
        const auto first_to_go = std::max_element(shown.begin(), shown.end(), [&](std::size_t a, std::size_t b) {
            return columns_[a].leave_out < columns_[b].leave_out;
        });
        if (columns_[*first_to_go].leave_out == 0) return stacked(width, colour);
        shown.erase(first_to_go);
        widths = natural_widths(shown);
    }
    std::vector<TableCell> heads;
    bool any_head = false;
    for (const TableColumn& column : columns_) {
        heads.emplace_back(column.head, Tone::quiet);
        any_head = any_head || !column.head.empty();
    }
    std::vector<std::string> lines;
    if (any_head) write_row(lines, heads, shown, widths, colour);
    for (const auto& cells : rows_) write_row(lines, cells, shown, widths, colour);
    return lines;
}

}  // namespace voltfall
