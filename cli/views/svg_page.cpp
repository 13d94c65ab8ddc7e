#include "cli/views/svg_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

constexpr double usual_size = 12;

/// "30", "12.5".
std::string number(double value) {
    std::string text = fmt::format("{:.1f}", value);
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text;
}

std::string stroke(const SvgLine& style) {
    std::string text = fmt::format(" stroke=\"{}\"", style.colour);
    if (style.width != 1) text += fmt::format(" stroke-width=\"{}\"", number(style.width));
    if (!style.dash.empty()) text += fmt::format(" stroke-dasharray=\"{}\"", style.dash);
    return text;
}

}  // namespace

void SvgShapes::text(double x, double y, std::string_view text, const SvgText& style) {
    elements_ += fmt::format("<text x=\"{}\" y=\"{}\"", number(x), number(y));
    if (style.size != usual_size) elements_ += fmt::format(" font-size=\"{}\"", number(style.size));
    if (style.bold) elements_ += " font-weight=\"bold\"";
    if (style.at_end) elements_ += " text-anchor=\"end\"";
    if (style.middle) elements_ += " text-anchor=\"middle\"";
    if (!style.fill.empty()) elements_ += fmt::format(" fill=\"{}\"", style.fill);
    elements_ += ">" + markup_text(text) + "</text>\n";
}

void SvgShapes::box(double left, double top, double width, double height, double corner, std::string_view fill) {
    elements_ +=
        fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\" fill=\"{}\" stroke=\"#222\"/>\n",
                    number(left), number(top), number(width), number(height), number(corner), fill);
}

void SvgShapes::step(double from_x, double from_y, double bend_x, double to_x, double to_y) {
    elements_ += fmt::format("<path d=\"M{} {} H{} V{} H{}\" fill=\"none\" stroke=\"#222\"/>\n", number(from_x),
                             number(from_y), number(bend_x), number(to_y), number(to_x));
}

void SvgShapes::line(double from_x, double from_y, double to_x, double to_y, const SvgLine& style) {
    elements_ += fmt::format("<path d=\"M{} {}L{} {}\"{}/>\n", number(from_x), number(from_y), number(to_x),
                             number(to_y), stroke(style));
}

void SvgShapes::path(const SvgPoints& points, std::string_view command, const SvgLine& style) {
    if (points.size() < 2) return;
    elements_ += "<path d=\"";
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (i < 2)
            elements_ += i == 0 ? "M" : command;
        else
            elements_ += " ";
        elements_ += number(points[i].first) + " " + number(points[i].second);
    }
    elements_ += fmt::format("\" fill=\"none\"{}/>\n", stroke(style));
}

void SvgShapes::polyline(const SvgPoints& points, const SvgLine& style) {
    path(points, "L", style);
}

void SvgShapes::curve(const SvgPoints& points, const SvgLine& style) {
    path(points, "C", style);
}

void SvgShapes::area(const SvgPoints& points, std::string_view fill, double opacity) {
    if (points.size() < 3) return;
    elements_ += "<path d=\"";
    for (std::size_t i = 0; i < points.size(); ++i)
        elements_ += (i == 0 ? "M" : i == 1 ? "L" : " ") + number(points[i].first) + " " + number(points[i].second);
    elements_ += fmt::format("Z\" fill=\"{}\" fill-opacity=\"{:.2g}\"/>\n", fill, opacity);
}

void SvgShapes::disc(double x, double y, double radius, std::string_view fill, std::string_view outline) {
    elements_ += fmt::format("<circle cx=\"{}\" cy=\"{}\" r=\"{}\" fill=\"{}\"{}/>\n", number(x), number(y),
                             number(radius), fill, outline.empty() ? "" : fmt::format(" stroke=\"{}\"", outline));
}

void SvgShapes::diamond(double x, double y, double radius, std::string_view fill) {
    elements_ += fmt::format("<path d=\"M{} {}l{} {}l-{} {}l-{} -{}z\" fill=\"{}\"/>\n", number(x), number(y - radius),
                             number(radius), number(radius), number(radius), number(radius), number(radius),
                             number(radius), fill);
}

void SvgShapes::fill(double left, double top, double width, double height, std::string_view colour,
                     std::string_view outline) {
    elements_ += fmt::format("<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"{}/>\n", number(left),
                             number(top), number(std::max(width, 0.0)), number(std::max(height, 0.0)), colour,
                             outline.empty() ? "" : fmt::format(" stroke=\"{}\"", outline));
}

void SvgShapes::add(const SvgShapes& shapes, double down, double right) {
    elements_ +=
        fmt::format("<g transform=\"translate({} {})\">\n{}</g>\n", number(right), number(down), shapes.elements_);
}

std::string SvgShapes::picture(double width, double height, const SvgTitle& title) const {
    return fmt::format(
        "<svg viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" role=\"img\" aria-labelledby=\"{2}-t {2}-d\" "
        "font-family=\"DejaVu Sans, Arial, sans-serif\" font-size=\"12\">\n<title id=\"{2}-t\">{3}</title>\n"
        "<desc id=\"{2}-d\">{4}</desc>\n{5}</svg>\n",
        width, height, title.id, markup_text(title.title), markup_text(title.description), elements_);
}

double svg_text_width(std::string_view text, double size) {
    // The mean advance of the drawings' type is 0.6 of its size; wider letters are the exception.
    constexpr double share = 0.62;
    const auto letters = std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; });
    return share * size * static_cast<double>(letters);
}

std::string SvgShapes::page(double width, double height) const {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
        "height=\"{1:.0f}\" font-family=\"DejaVu Sans, Arial, sans-serif\" font-size=\"12\">\n"
        "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{2}</svg>\n",
        width, height, elements_);
}

}  // namespace voltfall
