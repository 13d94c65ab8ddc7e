// Words in a row, as a sentence lists them.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace voltfall {

/// "A, B and C"; `last` stands before the last word (", " for a plain list). Empty for no words.
template <class Words>
std::string joined(const Words& words, std::string_view last = " and ") {
    std::string text;
    std::size_t left = std::size(words);
    for (const auto& word : words) {
        if (!text.empty()) text += left == 1 ? last : std::string_view(", ");
        text += word;
        --left;
    }
    return text;
}

}  // namespace voltfall
