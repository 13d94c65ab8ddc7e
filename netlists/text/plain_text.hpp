// Texts that are no phrases: are they free of what only looks like text?
#pragma once

#include "netlists/text/words.hpp"

namespace voltfall {

/// Is the text free of look-alikes, of characters that cannot be seen and of bytes that are no text? Each one is
/// reported.
bool reads_plain(const TypedText& text, Problems& problems);

}  // namespace voltfall
