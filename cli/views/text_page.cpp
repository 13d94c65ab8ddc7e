#include "cli/views/text_page.hpp"

#include <algorithm>

#include "cli/views/text_table.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

/// Narrower than this, wrapped text is a column of single words: let it run over instead.
constexpr int least_wrap_width = 12;

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words;
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t start = text.find_first_not_of(" \n", at);
        if (start == std::string_view::npos) break;
        at = std::min(text.find_first_of(" \n", start), text.size());
        words.emplace_back(text.substr(start, at - start));
    }
    return words;
}

bool starts_like_number(std::string_view word) {
    const std::size_t digit = word.find_first_of("0123456789");
    return digit != std::string_view::npos && word.find_first_not_of("<>~+-.(") == digit;
}

bool is_unit(std::string_view word) {
    while (!word.empty() && std::string_view(",.;:)").find(word.back()) != std::string_view::npos)
        word.remove_suffix(1);
    return word == "rpm" || word == "min" || word == "mohm" || is_unit_word(word);
}

/// Words of which a number and its unit are one.
std::vector<std::string> unbreakable_words(std::string_view text) {
    std::vector<std::string> pieces;
    for (std::string& word : words_of(text)) {
        const bool joins = !pieces.empty() && is_unit(word) && starts_like_number(pieces.back()) &&
                           pieces.back().find(' ') == std::string::npos;
        if (joins)
            pieces.back() += " " + word;
        else
            pieces.push_back(std::move(word));
    }
    return pieces;
}

}  // namespace

std::size_t screen_lines(int width) {
    constexpr int wide = 80;
    return width >= wide ? 24 : 40;
}

int text_width(std::string_view text) {
    return character_count(text);
}

std::string painted(std::string_view text, Tone tone, Colour colour) {
    std::string plain(text);
    if (colour == Colour::off || text.empty()) return plain;
    const char* code = nullptr;
    switch (tone) {
        case Tone::plain:
            return plain;
        case Tone::good:
            code = "\x1b[32m";
            break;
        case Tone::bad:
            code = "\x1b[31m";
            break;
        case Tone::caution:
            code = "\x1b[33m";
            break;
        case Tone::quiet:
            code = "\x1b[2m";
            break;
        case Tone::heading:
            code = "\x1b[1m";
            break;
    }
    return code + plain + "\x1b[0m";
}

std::vector<std::string> wrap_words(std::string_view text, int width) {
    std::vector<std::string> lines;
    for (const std::string& word : unbreakable_words(text)) {
        if (!lines.empty() && text_width(lines.back()) + 1 + text_width(word) <= width)
            lines.back() += " " + word;
        else
            lines.push_back(word);
    }
    return lines;
}

void TextPage::paragraph(std::string_view text, int indent, int hanging, Tone tone) {
    const int width = std::max(style_.width - indent - hanging, least_wrap_width);
    // The first line may use the room that the others leave for hanging.
    std::vector<std::string> lines = wrap_words(visible(text), width + hanging);
    if (lines.size() > 1) {
        std::string rest(text.substr(0, 0));
        for (std::size_t i = 1; i < lines.size(); ++i) rest += lines[i] + " ";
        lines.resize(1);
        for (std::string& line : wrap_words(rest, width)) lines.push_back(std::move(line));
    }
    for (std::size_t i = 0; i < lines.size(); ++i)
        line(std::string(static_cast<std::size_t>(indent + (i > 0 ? hanging : 0)), ' ') +
             painted(lines[i], tone, style_.colour));
}

void TextPage::labelled(std::string_view label, std::string_view text, int indent, Tone tone) {
    const int hanging = text_width(label) + 1;
    const std::string margin(static_cast<std::size_t>(indent), ' ');
    const std::vector<std::string> lines =
        wrap_words(visible(text), std::max(style_.width - indent - hanging, least_wrap_width));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const std::string lead =
            i == 0 ? std::string(label) + " " : std::string(static_cast<std::size_t>(hanging), ' ');
        line(margin + lead + painted(lines[i], tone, style_.colour));
    }
    if (lines.empty()) line(margin + std::string(label));
}

void TextPage::table(const TextTable& table, int indent) {
    for (const std::string& row : table.lines(style_.width - indent, style_.colour))
        line(std::string(static_cast<std::size_t>(indent), ' ') + row);
}

std::size_t TextPage::table_within(const TextTable& table, std::size_t lines, int indent) {
    for (std::size_t rows = std::min(table.size(), lines); rows > 0; --rows) {
        const TextTable cut = table.first(rows);
        const std::vector<std::string> text = cut.lines(style_.width - indent, style_.colour);
        if (text.size() > lines) continue;
        for (const std::string& row : text) line(std::string(static_cast<std::size_t>(indent), ' ') + row);
        return rows;
    }
    return 0;
}

std::size_t TextPage::lines() const {
    return static_cast<std::size_t>(std::count(text_.begin(), text_.end(), '\n'));
}

std::size_t TextPage::room(std::size_t kept) const {
    if (style_.all) return text_.max_size();
    const std::size_t screen = screen_lines(style_.width);
    const std::size_t used = lines() + kept;
    return used < screen ? screen - used : 0;
}

void TextPage::gap() {
    if (!text_.empty() && !text_.ends_with("\n\n")) text_ += "\n";
}

}  // namespace voltfall
