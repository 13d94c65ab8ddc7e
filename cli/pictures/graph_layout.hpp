// Boxes in layers with lines between them, laid out by Graphviz. No fonts are asked: every box has its size.
#pragma once

#include <cstddef>
#include <vector>

#include "cli/views/svg_page.hpp"

namespace voltfall {

struct LayoutBox {
    double width{};
    double height{};
};
struct LayoutLine {
    std::size_t from{};  ///< index of the upper box
    std::size_t to{};
};

struct GraphLayout {
    double width{};
    double height{};
    SvgPoints centres;             ///< by box
    std::vector<SvgPoints> lines;  ///< by line: cubic curves, from the upper box to the lower
};

/// Lays out boxes from top to bottom; `top` and `bottom` are the boxes of the first and the last layer. The same input
/// gives the same layout. Throws std::runtime_error where Graphviz cannot be used.
GraphLayout lay_out(const std::vector<LayoutBox>& boxes, const std::vector<LayoutLine>& lines,
                    const std::vector<std::size_t>& top, const std::vector<std::size_t>& bottom);

}  // namespace voltfall
