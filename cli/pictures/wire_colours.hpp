// Colours of wires as they are drawn. Letters always stand beside them.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// "#c00000" for base and tracers of a colour in words ("red with black"), in their order; empty for no words.
std::vector<std::string_view> drawn_colours(std::string_view words);

}  // namespace voltfall
