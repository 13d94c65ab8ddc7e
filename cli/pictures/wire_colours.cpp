#include "cli/pictures/wire_colours.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace voltfall {

namespace {

/// Screen colours that look like the insulation; free choice, as no standard gives them.
constexpr std::array<std::pair<std::string_view, std::string_view>, 22> drawn{{
    {"black", "#1a1a1a"},      {"brown", "#7a4a21"},       {"red", "#d22222"},        {"orange", "#f28c1e"},
    {"yellow", "#f7dc3c"},     {"green", "#2f9e44"},       {"blue", "#2563c9"},       {"violet", "#7d3fb2"},
    {"grey", "#8c8c8c"},       {"white", "#ffffff"},       {"pink", "#f5a3c0"},       {"gold", "#c9a227"},
    {"turquoise", "#35c0c0"},  {"silver", "#c8ccd0"},      {"purple", "#7d3fb2"},     {"tan", "#cfae84"},
    {"natural", "#efe9d8"},    {"light green", "#8fd694"}, {"light blue", "#8ab6ee"}, {"sky blue", "#8ab6ee"},
    {"dark green", "#1d6b2d"}, {"dark blue", "#173f80"},
}};

/// The colour at the beginning of the words, the longest name that fits.
const std::pair<std::string_view, std::string_view>* drawn_at(std::string_view words) {
    const std::pair<std::string_view, std::string_view>* found = nullptr;
    for (const auto& colour : drawn)
        if (words.starts_with(colour.first) && (!found || colour.first.size() > found->first.size())) found = &colour;
    return found;
}

}  // namespace

std::vector<std::string_view> drawn_colours(std::string_view words) {
    std::vector<std::string_view> found;
    while (!words.empty()) {
        const auto* colour = drawn_at(words);
        if (colour) found.push_back(colour->second);
        // A shade of which there is no colour of its own is drawn as the colour.
        const std::size_t taken = colour ? colour->first.size() : words.find(' ');
        words.remove_prefix(std::min(taken, words.size()));
        words.remove_prefix(std::min(words.find_first_not_of(' '), words.size()));
    }
    return found;
}

}  // namespace voltfall
