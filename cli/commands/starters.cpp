#include "cli/commands/starters.hpp"

#include <algorithm>

#include "netlists/text/suggest.hpp"

namespace voltfall {

std::string_view Starter::line() const {
    const std::string_view first = text.substr(0, text.find('\n'));
    const auto begins = first.find_first_not_of("# ");
    return begins == std::string_view::npos ? first : first.substr(begins);
}

const Starter* find_starter(std::string_view name) {
    const auto all = starters();
    const auto found = std::find_if(all.begin(), all.end(), [&](const Starter& s) { return same_word(s.name, name); });
    return found == all.end() ? nullptr : &*found;
}

}  // namespace voltfall
