// What people call the supply of a fuse where the diagram has no number for it.
#pragma once

#include <algorithm>
#include <array>
#include <string_view>

#include "netlists/text/suggest.hpp"

namespace voltfall {

/// "30" for "always" or "battery", "15" for "ignition" or "key"; empty where the word tells neither.
inline std::string_view feed_called(std::string_view word) {
    constexpr std::array<std::string_view, 9> always{"always",  "permanent", "permanently", "constant", "unswitched",
                                                     "battery", "batt",      "perm",        "live"};
    constexpr std::array<std::string_view, 7> by_key{"ignition", "ign", "key", "switched", "acc", "accessory", "run"};
    const auto is = [&](std::string_view one) { return same_word(one, word); };
    if (std::any_of(always.begin(), always.end(), is)) return "30";
    return std::any_of(by_key.begin(), by_key.end(), is) ? "15" : "";
}

}  // namespace voltfall
