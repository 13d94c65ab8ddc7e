#include "engine/heat/contact_verdict.hpp"

#include <algorithm>
#include <cmath>

namespace voltfall {

ContactVerdict judge_contact(const RatedContact& contact, FuseType type, double fuse_rating, double fuse_celsius) {
    constexpr int currents_tried = 60;
    constexpr double far_above = 20;  // of the contact's rating; both follow I2t there
    constexpr double longest_test = 1800;
    const FuseModel model = fuse_model(type, fuse_rating, Edge::typical, fuse_celsius);
    ContactVerdict verdict{contact.name, contact.rating, {}, {}, {}, {}};
    for (int k = 1; k <= currents_tried; ++k) {
        const double amps = contact.rating * std::pow(far_above, static_cast<double>(k) / currents_tried);
        const double bears = contact_bears(contact.rating, amps).value();
        const auto opens = seconds_to_open(model, {}, amps);
        if (bears > longest_test || (opens && *opens <= std::max(bears, fuse_in_time))) continue;
        if (!verdict.fails_from) verdict.fails_from = amps;
        verdict.fails_to = amps;
        verdict.bears = bears;
        verdict.opens = opens;
    }
    return verdict;
}

}  // namespace voltfall
