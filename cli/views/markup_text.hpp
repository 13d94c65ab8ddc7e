// A person's text inside HTML or SVG.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

/// The text with the characters of markup escaped, fit for an element and for an attribute in quotes. Left out are
/// controls that XML may not hold and marks that turn the direction of what follows; bytes that are no UTF-8 become
/// U+FFFD.
std::string markup_text(std::string_view text);

/// At most so many characters, with an ellipsis where some are left out. Never cuts inside a character.
std::string shortened(std::string_view text, std::size_t most);

}  // namespace voltfall
