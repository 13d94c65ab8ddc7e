// Text laid out for a width: lines, wrapped paragraphs, tables, and colour where a person looks at it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

class TextTable;

/// What a piece of text says; a colour never says it alone.
enum class Tone { plain, good, bad, caution, quiet, heading };

enum class Colour { off, on };

/// Width of the page in characters, and whether colour is written.
struct PageStyle {
    int width{80};
    Colour colour{Colour::off};
    std::size_t top{5};     ///< length of long lists
    bool top_given{false};  ///< a person asked for that length
    bool all{false};        ///< everything, not the first screen alone
};

/// Lines of a screen of that width: 24 at 80 columns, 40 on a narrow one.
std::size_t screen_lines(int width);

/// Characters (not bytes) of UTF-8 text.
int text_width(std::string_view text);

/// The text with the escape sequences of its tone, or as it is.
std::string painted(std::string_view text, Tone tone, Colour colour);

/// Cuts text at blanks into lines of at most `width` characters. A number keeps its unit beside it; a word that is
/// longer than the width stands alone and whole.
std::vector<std::string> wrap_words(std::string_view text, int width);

/// Text being written for one page width.
class TextPage {
public:
    explicit TextPage(PageStyle style) : style_(style) {}

    const PageStyle& style() const { return style_; }

    /// One paragraph, wrapped; every line stands `indent` in, all but the first another `hanging`.
    void paragraph(std::string_view text, int indent = 0, int hanging = 2, Tone tone = Tone::plain);
    /// A heading line.
    void heading(std::string_view text) { paragraph(text, 0, 2, Tone::heading); }
    /// A label and what it says, wrapped behind the label: "because  reading 2 …".
    void labelled(std::string_view label, std::string_view text, int indent = 2, Tone tone = Tone::plain);
    /// A table, `indent` in.
    void table(const TextTable& table, int indent = 2);
    /// As many of its first rows as `lines` hold under their heads; how many were written.
    std::size_t table_within(const TextTable& table, std::size_t lines, int indent = 2);
    /// A line as it is: not wrapped.
    void line(std::string_view text) { text_.append(text).append("\n"); }
    /// An empty line, never two in a row and none at the top.
    void gap();

    /// Text of another page of the same width, as it is.
    void add(const TextPage& other) { text_ += other.text_; }

    /// Lines written.
    std::size_t lines() const;
    /// Lines left of the first screen when `kept` more are to follow; without end where everything is asked for.
    std::size_t room(std::size_t kept = 0) const;

    const std::string& text() const { return text_; }

private:
    PageStyle style_;
    std::string text_;
};

}  // namespace voltfall
