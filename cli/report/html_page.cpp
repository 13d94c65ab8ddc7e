#include "cli/report/html_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "cli/report/page_style.hpp"
#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

/// No text of a table or paragraph is longer, so that one name cannot fill the page.
constexpr std::size_t most_letters = 600;
/// A cell of so few bytes stays on one line.
constexpr std::size_t short_cell = 16;

std::string told(std::string_view text) {
    return markup_text(shortened(text, most_letters));
}

std::string class_of(std::string_view style) {
    return style.empty() ? "" : fmt::format(" class=\"{}\"", style);
}

/// A text as a string of CSS: every character but letters, digits and blanks by its number.
std::string css_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : shortened(text, 80)) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == ' ';
        if (plain)
            out += c;
        else if (static_cast<unsigned char>(c) < 0x80)
            out += fmt::format("\\{:06x}", static_cast<unsigned>(c));
    }
    return out + "\"";
}

bool is_number(std::string_view cell) {
    return !cell.empty() && cell.find_first_not_of("0123456789.-+ ") == std::string_view::npos;
}

}  // namespace

void HtmlPage::heading(int level, std::string_view text) {
    body_ += fmt::format("<h{0}>{1}</h{0}>\n", level, told(text));
}

void HtmlPage::paragraph(std::string_view text, std::string_view style) {
    body_ += fmt::format("<p{}>{}</p>\n", class_of(style), told(text));
}

void HtmlPage::labelled(std::string_view label, std::string_view text, std::string_view style) {
    body_ += fmt::format("<p{}><b>{}</b> {}</p>\n", class_of(style), told(label), told(text));
}

void HtmlPage::list(const std::vector<std::string>& items, std::string_view style) {
    if (items.empty()) return;
    body_ += fmt::format("<ul{}>\n", class_of(style));
    for (const std::string& item : items) body_ += "<li>" + told(item) + "</li>\n";
    body_ += "</ul>\n";
}

void HtmlPage::table(const std::vector<std::string>& heads, const std::vector<std::vector<std::string>>& rows,
                     std::string_view caption) {
    if (rows.empty()) return;
    body_ += "<div class=\"scroll\" tabindex=\"0\"><table>\n";
    if (!caption.empty()) body_ += "<caption>" + told(caption) + "</caption>\n";
    body_ += "<thead><tr>";
    for (const std::string& head : heads) body_ += "<th scope=\"col\">" + told(head) + "</th>";
    body_ += "</tr></thead>\n<tbody>\n";
    for (const std::vector<std::string>& row : rows) {
        body_ += "<tr>";
        for (std::size_t i = 0; i < row.size(); ++i) {
            // The first column names the row, be it by a number.
            const bool number = i > 0 && is_number(row[i]);
            const std::string_view style = number ? " class=\"n\"" : row[i].size() <= short_cell ? " class=\"s\"" : "";
            body_ += fmt::format("<td{}>{}</td>", style, told(row[i]));
        }
        body_ += "</tr>\n";
    }
    body_ += "</tbody></table></div>\n";
}

void HtmlPage::bar(std::string_view name, std::string_view words, double share, std::string_view detail) {
    body_ += fmt::format(
        "<div class=\"suspect\"><p><b>{}</b>, {}</p><div class=\"bar\"><i style=\"width:{:.1f}%\"></i></div>",
        told(name), told(words), 100 * std::clamp(share, 0.0, 1.0));
    if (!detail.empty()) body_ += fmt::format("<p class=\"quiet\">{}</p>", told(detail));
    body_ += "</div>\n";
}

void HtmlPage::blank(std::string_view label) {
    body_ += fmt::format("<p class=\"blank\">{} <span></span></p>\n", told(label));
}

void HtmlPage::picture(std::string_view svg, PictureWidth width, std::string_view caption) {
    const bool own = width == PictureWidth::own;
    // A picture wider than the screen is first seen at its middle, where the supply and the main way are drawn.
    if (own)
        body_ += fmt::format(
            "<figure>\n<div class=\"wide\" tabindex=\"0\"><div>\n{}<i class=\"middle\"></i></div></div>\n", svg);
    else
        body_ += fmt::format("<figure>\n<div class=\"fit\">\n{}</div>\n", svg);
    if (!caption.empty()) body_ += "<figcaption>" + told(caption) + "</figcaption>\n";
    body_ += "</figure>\n";
}

void HtmlPage::open(std::string_view element, std::string_view style) {
    body_ += fmt::format("<{}{}>\n", element, class_of(style));
}

void HtmlPage::close(std::string_view element) {
    body_ += fmt::format("</{}>\n", element);
}

void HtmlPage::open_form(std::string_view action) {
    body_ += fmt::format("<form method=\"post\" action=\"{}\" accept-charset=\"utf-8\">\n", markup_text(action));
}

void HtmlPage::hidden(std::string_view name, std::string_view value) {
    body_ += fmt::format("<input type=\"hidden\" name=\"{}\" value=\"{}\">\n", markup_text(name), markup_text(value));
}

void HtmlPage::field(std::string_view name, std::string_view label, std::string_view mode, std::string_view value) {
    body_ += fmt::format("<label>{} <input name=\"{}\" maxlength=\"400\" autocomplete=\"off\"{}{}></label>\n",
                         told(label), markup_text(name), mode.empty() ? "" : fmt::format(" inputmode=\"{}\"", mode),
                         value.empty() ? "" : fmt::format(" value=\"{}\"", told(value)));
}

void HtmlPage::choice(std::string_view name, std::string_view label, std::string_view none,
                      const std::vector<std::string>& words) {
    body_ += fmt::format("<label class=\"choice\"><span>{}</span> <select name=\"{}\"><option value=\"\">{}</option>",
                         told(label), markup_text(name), told(none));
    for (const std::string& word : words) body_ += fmt::format("<option>{}</option>", told(word));
    body_ += "</select></label>\n";
}

void HtmlPage::form_button(std::string_view action, const std::vector<std::pair<std::string, std::string>>& fields,
                           std::string_view words, std::string_view style) {
    open_form(action);
    for (const auto& [name, value] : fields) hidden(name, value);
    body_ += fmt::format("<button{}>{}</button>\n", class_of(style), told(words));
    close("form");
}

void HtmlPage::link(std::string_view path, std::string_view words) {
    body_ += fmt::format("<a class=\"way\" target=\"_top\" href=\"{}\">{}</a>\n", markup_text(path), told(words));
}

void HtmlPage::frame(std::string_view path, std::string_view title) {
    body_ += fmt::format("<iframe class=\"news\" src=\"{}\" title=\"{}\"></iframe>\n", markup_text(path), told(title));
}

void HtmlPage::lines(std::string_view text, std::string_view style) {
    body_ += fmt::format("<pre{}>{}</pre>\n", class_of(style), markup_text(text));
}

void HtmlPage::button(std::string_view name, std::string_view value, std::string_view words, std::string_view style) {
    body_ += fmt::format("<button{} name=\"{}\" value=\"{}\">{}</button>\n", class_of(style), markup_text(name),
                         markup_text(value), told(words));
}

std::string HtmlPage::file(std::string_view title, std::string_view footer, PageForms forms, int seconds) const {
    const bool sends = forms == PageForms::to_own_server;
    return fmt::format(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; img-src "
        "data:; {}base-uri 'none'; form-action '{}'\">\n"
        "{}"
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
        "<meta name=\"referrer\" content=\"{}\">\n<title>{}</title>\n"
        "<style>\n{}@page {{ @bottom-left {{ content: {}; font: 9pt sans-serif; color: #444 }} @bottom-right {{ "
        "content: "
        "counter(page) \" of \" counter(pages); font: 9pt sans-serif; color: #444 }} }}\n</style>\n</head>\n<body>\n"
        "<main>\n{}</main>\n</body>\n</html>\n",
        sends ? "frame-src 'self'; " : "", sends ? "self" : "none",
        seconds > 0 ? fmt::format("<meta http-equiv=\"refresh\" content=\"{}\">\n", seconds) : "",
        sends ? "same-origin" : "no-referrer", told(title), page_style, css_string(footer), body_);
}

}  // namespace voltfall
