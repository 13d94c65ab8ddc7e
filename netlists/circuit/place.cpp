#include "netlists/circuit/place.hpp"

#include "netlists/text/suggest.hpp"

namespace voltfall {

Place read_place(std::string_view text) {
    Place place;
    if (const auto at = text.find('@'); at != std::string_view::npos) {
        place.half = text.substr(at + 1);
        text = text.substr(0, at);
    }
    const auto dot = text.find('.');
    place.owner = text.substr(0, dot);
    if (dot != std::string_view::npos) place.cavity = text.substr(dot + 1);
    return place;
}

std::string write_place(const Place& place) {
    std::string text(place.owner);
    if (!place.cavity.empty()) text.append(".").append(place.cavity);
    if (!place.half.empty()) text.append("@").append(place.half);
    return text;
}

std::string write_terminal(std::string_view owner, std::string_view terminal) {
    const bool is_post = terminal == "+" || terminal == "-";
    return is_post ? std::string(owner).append(terminal) : write_place({owner, terminal});
}

bool is_cavity_of(std::string_view place, std::string_view owner) {
    if (place.size() <= owner.size()) return false;
    const char next = place[owner.size()];
    return (next == '.' || next == '@') && same_word(place.substr(0, owner.size()), owner);
}

}  // namespace voltfall
