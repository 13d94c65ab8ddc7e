// Pages that a view writes for: its first screen, and the whole of it.
#pragma once

#include "cli/views/text_page.hpp"

namespace voltfall::testing {

inline PageStyle page(int width = 100, std::size_t top = 5) {
    PageStyle style;
    style.width = width;
    style.top = top;
    return style;
}
inline PageStyle whole(int width = 100) {
    PageStyle style = page(width, 100);
    style.all = true;
    return style;
}

}  // namespace voltfall::testing
