#include "cli/pictures/wire_colours.hpp"

#include <array>
#include <utility>

#include "netlists/tables/wires.hpp"

namespace voltfall {

namespace {

/// Screen colours that look like the insulation; free choice, as no standard gives them.
constexpr std::array<std::pair<std::string_view, std::string_view>, 14> drawn{{{"black", "#1a1a1a"},
                                                                               {"brown", "#7a4a21"},
                                                                               {"red", "#d22222"},
                                                                               {"orange", "#f28c1e"},
                                                                               {"yellow", "#f7dc3c"},
                                                                               {"green", "#2f9e44"},
                                                                               {"blue", "#2563c9"},
                                                                               {"violet", "#7d3fb2"},
                                                                               {"grey", "#8c8c8c"},
                                                                               {"white", "#ffffff"},
                                                                               {"pink", "#f5a3c0"},
                                                                               {"gold", "#c9a227"},
                                                                               {"turquoise", "#35c0c0"},
                                                                               {"silver", "#c8ccd0"}}};

}  // namespace

std::vector<std::string_view> drawn_colours(std::string_view typed) {
    std::vector<std::string_view> found;
    const auto words = wire_colour_words(typed);
    if (!words) return found;
    std::string_view rest = *words;
    while (!rest.empty()) {
        const std::string_view word = rest.substr(0, rest.find(' '));
        for (const auto& [name, colour] : drawn)
            if (name == word) found.push_back(colour);
        rest.remove_prefix(std::min(word.size() + 1, rest.size()));
    }
    return found;
}

}  // namespace voltfall
