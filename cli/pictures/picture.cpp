#include "cli/pictures/picture.hpp"

#include <algorithm>

#include "cli/views/markup_text.hpp"

namespace voltfall {

namespace {

constexpr double margin = 12;
constexpr double head = 34;
constexpr std::size_t most_letters = 90;

}  // namespace

std::string Picture::file() const {
    return file_of({*this});
}

std::string file_of(const std::vector<Picture>& pictures) {
    SvgShapes page;
    double top = 0;
    double width = 320;
    for (const Picture& picture : pictures) {
        if (picture.empty()) continue;
        const std::string title = shortened(picture.title.title, most_letters);
        page.text(margin, top + 22, title, {.size = 14, .bold = true});
        page.add(picture.shapes, top + head, margin);
        top += head + picture.height + margin;
        width = std::max({width, picture.width + 2 * margin, svg_text_width(title, 14) + 2 * margin});
    }
    return page.page(width, top);
}

}  // namespace voltfall
