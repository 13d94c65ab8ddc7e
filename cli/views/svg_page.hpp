// Shapes of a drawing written as SVG 1.1. Lengths are user units; numbers are written to a tenth.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace voltfall {

struct SvgText {
    double size{12};
    bool bold{false};
    bool at_end{false};       ///< the place is the text's end
    bool middle{false};       ///< the place is the text's middle
    std::string_view fill{};  ///< "#444"; empty: black
};

struct SvgLine {
    std::string_view colour{"#222"};
    double width{1};
    std::string_view dash{};  ///< "6 3"; empty: drawn through
};

using SvgPoints = std::vector<std::pair<double, double>>;

/// What a picture is called, for those who do not see it.
struct SvgTitle {
    std::string id;  ///< unique in the page, letters and digits
    std::string title;
    std::string description;
};

/// Okabe and Ito's colours, told apart by colour-blind eyes too (Wong, Nature Methods 2011). Lines of 3:1 on white.
namespace palette {
inline constexpr std::string_view blue = "#0072B2";
inline constexpr std::string_view vermillion = "#D55E00";
inline constexpr std::string_view green = "#009E73";
inline constexpr std::string_view purple = "#CC79A7";
inline constexpr std::string_view sky = "#56B4E9";     ///< fills with a dark outline only
inline constexpr std::string_view yellow = "#F0E442";  ///< fills with a dark outline only
inline constexpr std::string_view ink = "#222";
inline constexpr std::string_view quiet = "#595959";
inline constexpr std::string_view rule = "#d0d0d0";
}  // namespace palette

class SvgShapes {
public:
    /// The text is escaped; what SVG may not hold is left out.
    void text(double x, double y, std::string_view text, const SvgText& style = {});
    void box(double left, double top, double width, double height, double corner, std::string_view fill);
    /// A line across, then down or up, then across.
    void step(double from_x, double from_y, double bend_x, double to_x, double to_y);
    void line(double from_x, double from_y, double to_x, double to_y, const SvgLine& style = {});
    void polyline(const SvgPoints& points, const SvgLine& style = {});
    /// A filled surface without an outline.
    void area(const SvgPoints& points, std::string_view fill, double opacity = 1);
    /// Cubic curves: the first point, then three a piece.
    void curve(const SvgPoints& points, const SvgLine& style = {});
    void disc(double x, double y, double radius, std::string_view fill, std::string_view outline = {});
    /// A square on its corner.
    void diamond(double x, double y, double radius, std::string_view fill);
    /// A filled box without an outline, or with one of its own.
    void fill(double left, double top, double width, double height, std::string_view colour,
              std::string_view outline = {});
    /// Other shapes, moved down, and to the right.
    void add(const SvgShapes& shapes, double down, double right = 0);

    /// The whole file, on white.
    std::string page(double width, double height) const;
    /// A picture inside a page of HTML: at most its own width, narrower where the page is.
    std::string picture(double width, double height, const SvgTitle& title) const;

private:
    void path(const SvgPoints& points, std::string_view command, const SvgLine& style);

    std::string elements_;
};

/// About the width of text in the drawings' type, so that boxes can be made for it without asking any font.
double svg_text_width(std::string_view text, double size = 12);

}  // namespace voltfall
