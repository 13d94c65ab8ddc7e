// Shapes of a drawing written as SVG 1.1. Lengths are user units; numbers are written to a tenth.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

struct SvgText {
    double size{12};
    bool bold{false};
    bool at_end{false};       ///< the place is the text's end
    std::string_view fill{};  ///< "#444"; empty: black
};

class SvgShapes {
public:
    /// The text is escaped; what SVG may not hold is left out.
    void text(double x, double y, std::string_view text, const SvgText& style = {});
    void box(double left, double top, double width, double height, double corner, std::string_view fill);
    /// A line across, then down or up, then across.
    void step(double from_x, double from_y, double bend_x, double to_x, double to_y);
    /// Other shapes, moved down.
    void add(const SvgShapes& shapes, double down);

    /// The whole file, on white.
    std::string page(double width, double height) const;

private:
    std::string elements_;
};

}  // namespace voltfall
