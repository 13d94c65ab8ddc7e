// A line of [wires] cut into ends, arrows and properties.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/text/words.hpp"

namespace voltfall {

/// An end, an arrow, or a property such as a size.
struct WireToken {
    std::string text;
    SourcePlace place;
    bool arrow{false};
    std::optional<Measure> measure;
};

/// All words of a line; `F7.2>C101.4` without blanks is three tokens. Arrows are `>`, `->`, `=>` and `→`.
std::vector<WireToken> wire_tokens(WordReader& words);

}  // namespace voltfall
