// What the trade calls the kinds of parts beside the words of a file: for suggestions.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "netlists/parts/kind.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// How a line that begins with no kind is to be begun: the kind stands further back in it ("blower motor 22A"), or its
/// words are the trade's for one ("pressure switch"). Empty where neither is so.
std::string kind_advice(std::span<const Word> line);

/// The kind that the trade's name at the front of these words means ("blower resistor"), and how many words say it;
/// null where none stands there.
struct KindInTrade {
    const Kind* kind{nullptr};
    std::size_t words{0};
};
KindInTrade kind_in_trade(std::span<const Word> line);

/// How parts of a kind are drawn with those that they work with.
struct DrawnTogether {
    std::string_view says;                    ///< one sentence
    std::span<const std::string_view> lines;  ///< lines of [parts], then of [wires]
};

/// Both empty for a kind whose terminals say enough.
DrawnTogether drawn_together(const Kind& kind);

}  // namespace voltfall
