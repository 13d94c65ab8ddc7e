// A drawing with its size and its name: alone as a file, or inside a page.
#pragma once

#include <string>
#include <vector>

#include "cli/views/svg_page.hpp"

namespace voltfall {

struct Picture {
    SvgShapes shapes;
    double width{};
    double height{};
    SvgTitle title;

    bool empty() const { return width <= 0 || height <= 0; }
    /// The whole file, with its title above the drawing.
    std::string file() const;
    /// For a page of HTML, which has a heading of its own.
    std::string inside() const { return shapes.picture(width, height, title); }
};

/// Pictures below each other in one file.
std::string file_of(const std::vector<Picture>& pictures);

}  // namespace voltfall
