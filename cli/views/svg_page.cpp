#include "cli/views/svg_page.hpp"

#include <fmt/format.h>

namespace voltfall {

namespace {

constexpr double usual_size = 12;

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            default:
                if (static_cast<unsigned char>(c) >= 0x20 || c == '\t') out += c;
        }
    }
    return out;
}

/// "30", "12.5".
std::string number(double value) {
    std::string text = fmt::format("{:.1f}", value);
    if (text.ends_with(".0")) text.resize(text.size() - 2);
    return text;
}

}  // namespace

void SvgShapes::text(double x, double y, std::string_view text, const SvgText& style) {
    elements_ += fmt::format("<text x=\"{}\" y=\"{}\"", number(x), number(y));
    if (style.size != usual_size) elements_ += fmt::format(" font-size=\"{}\"", number(style.size));
    if (style.bold) elements_ += " font-weight=\"bold\"";
    if (style.at_end) elements_ += " text-anchor=\"end\"";
    if (!style.fill.empty()) elements_ += fmt::format(" fill=\"{}\"", style.fill);
    elements_ += ">" + escaped(text) + "</text>\n";
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

void SvgShapes::add(const SvgShapes& shapes, double down) {
    elements_ += fmt::format("<g transform=\"translate(0 {})\">\n{}</g>\n", number(down), shapes.elements_);
}

std::string SvgShapes::page(double width, double height) const {
    return fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
        "height=\"{1:.0f}\" font-family=\"DejaVu Sans, Arial, sans-serif\" font-size=\"12\">\n"
        "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n{2}</svg>\n",
        width, height, elements_);
}

}  // namespace voltfall
