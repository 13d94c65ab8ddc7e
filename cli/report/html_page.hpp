// One self-contained page of HTML: no script, nothing from outside, every text of a person escaped.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace voltfall {

enum class PictureWidth {
    of_page,  ///< shrinks with the page
    own,      ///< keeps its size in a box of its own that scrolls sideways
};

/// May the page send forms? A report may not.
enum class PageForms {
    none,
    to_own_server,  ///< to where it came from
};

class HtmlPage {
public:
    /// Texts are escaped here, and nowhere else; only `picture` takes markup, which the drawings have made.
    void heading(int level, std::string_view text);
    void paragraph(std::string_view text, std::string_view style = {});
    /// "concern  weak air": a term and what is said of it.
    void labelled(std::string_view label, std::string_view text, std::string_view style = {});
    void list(const std::vector<std::string>& items, std::string_view style = {});
    void table(const std::vector<std::string>& heads, const std::vector<std::vector<std::string>>& rows,
               std::string_view caption = {});
    /// A name, its chance in words, and a bar of that share (0 to 1).
    void bar(std::string_view name, std::string_view words, double share, std::string_view detail = {});
    /// A line to write on, behind its label.
    void blank(std::string_view label);
    void picture(std::string_view svg, PictureWidth width, std::string_view caption);
    void open(std::string_view element, std::string_view style = {});
    void close(std::string_view element);

    /// The whole file. `footer` stands on every printed page. A page that sends forms may load itself anew after
    /// `seconds` (0: never).
    std::string file(std::string_view title, std::string_view footer, PageForms forms = PageForms::none,
                     int seconds = 0) const;

    // Parts of a form, which is opened and closed like any element.
    void open_form(std::string_view action);
    /// A button of its own, outside of other forms: sends `fields` to `action`.
    void form_button(std::string_view action, const std::vector<std::pair<std::string, std::string>>& fields,
                     std::string_view words, std::string_view style = {});
    void hidden(std::string_view name, std::string_view value);
    void field(std::string_view name, std::string_view label, std::string_view mode = {}, std::string_view value = {});
    /// One of these words, or none.
    void choice(std::string_view name, std::string_view label, std::string_view none,
                const std::vector<std::string>& words);
    void button(std::string_view name, std::string_view value, std::string_view words, std::string_view style = {});

    // Ways to other pages of the same server.
    void link(std::string_view path, std::string_view words);
    void frame(std::string_view path, std::string_view title);

    /// Text with the line ends that it has, in letters of one width.
    void lines(std::string_view text, std::string_view style = "talk");

private:
    std::string body_;
};

}  // namespace voltfall
