#include "engine/heat/rated_contacts.hpp"

#include <array>
#include <cmath>
#include <cstdint>

namespace voltfall {

namespace {

struct Overload {
    double ratio;
    double seconds;
};
constexpr std::array overloads{Overload{1.35, 1800}, Overload{2, 5}, Overload{3.5, 0.5}, Overload{6, 0.1}};

double rating_of(const Part& part) {
    const Parameter* rating = part.parameter("rated amps");
    return rating ? rating->value : 0;
}

bool is_contact(const Branch& branch) {
    return branch.role.starts_with("contact");
}

/// A relay's or switch's contact is called by its part, a cavity by itself.
std::string name_of(const Part& part, const Branch& branch) {
    return branch.place == part.name ? part.name + " " + branch.role : branch.place;
}

}  // namespace

std::vector<RatedContact> rated_contacts(const Circuit& circuit) {
    std::vector<RatedContact> contacts;
    for (std::uint32_t i = 0; i < circuit.branches.size(); ++i) {
        const Branch& branch = circuit.branches[i];
        if (!branch.part.valid() || !is_contact(branch)) continue;
        const Part& part = circuit.part(branch.part);
        if (!(rating_of(part) > 0)) continue;
        contacts.push_back({name_of(part, branch), branch.part, {i}, rating_of(part)});
    }
    return contacts;
}

std::optional<double> contact_bears(double rating, double amps) {
    const double ratio = std::abs(amps) / rating;
    if (!(ratio > 1)) return std::nullopt;
    if (ratio >= overloads.back().ratio) {
        const double over = overloads.back().ratio / ratio;
        return overloads.back().seconds * over * over;
    }
    std::size_t upper = 1;
    while (upper + 1 < overloads.size() && overloads[upper].ratio < ratio) ++upper;
    const Overload& from = overloads[upper - 1];
    const Overload& to = overloads[upper];
    const double share = std::log(ratio / from.ratio) / std::log(to.ratio / from.ratio);
    return from.seconds * std::pow(to.seconds / from.seconds, share);
}

}  // namespace voltfall
