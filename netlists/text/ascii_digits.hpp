// Digits as ASCII has them: no locale has a say in how a number is cut.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>

namespace voltfall {

constexpr bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// Are there digits and nothing else?
constexpr bool all_digits(std::string_view text) {
    return !text.empty() && std::all_of(text.begin(), text.end(), [](char c) { return is_digit(c); });
}

/// The text with points for its commas: "2.5mm2" of "2,5mm2".
inline std::string with_point(std::string_view text) {
    std::string plain(text);
    std::replace(plain.begin(), plain.end(), ',', '.');
    return plain;
}

}  // namespace voltfall
