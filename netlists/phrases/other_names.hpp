// What people call an instrument, a way to measure or a speed, and the words of a reading for it.
#pragma once

#include <span>
#include <string_view>

namespace voltfall {

struct OtherName {
    std::string_view said;
    std::string_view meant;  ///< empty where the words say nothing
};

/// Replaced in this order, wherever they stand in a line.
std::span<const OtherName> other_names();

}  // namespace voltfall
