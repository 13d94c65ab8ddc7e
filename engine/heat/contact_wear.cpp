#include "engine/heat/contact_wear.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace voltfall {

namespace {

double amps_through(const RatedContact& contact, const Settled& settled) {
    const double amps = settled.point.amps[contact.branch.index];
    return std::isfinite(amps) ? std::abs(amps) : 0.0;
}

}  // namespace

ContactWear::ContactWear(const std::vector<RatedContact>& contacts)
    : contacts_(contacts), worn_(contacts.size(), 0.0) {}

void ContactWear::add_events(const Settled& carrying, double share, std::vector<HeatEvent>& events) const {
    for (std::size_t i = 0; i < contacts_.size(); ++i) {
        const RatedContact& contact = contacts_[i];
        const double amps = amps_through(contact, carrying);
        const auto bears = worn_[i] < 1 ? contact_bears(contact.rating, amps) : std::nullopt;
        if (!bears) continue;
        HeatEvent event;
        event.seconds = (1 - worn_[i]) * *bears / share;
        event.part = contact.part;
        event.name = contact.name;
        event.amps = amps;
        event.watts = amps * amps * carrying.network.ohms(contact.branch);
        event.body = BodyKind::rating;
        event.rating = contact.rating;
        event.what = fmt::format("{} has carried {:.1f} A of its {:g} A for as long as such contacts bear it",
                                 event.name, amps, event.rating);
        events.push_back(std::move(event));
    }
}

void ContactWear::wear(const Settled& carrying, double share, double seconds) {
    for (std::size_t i = 0; i < contacts_.size(); ++i) {
        if (const auto bears = contact_bears(contacts_[i].rating, amps_through(contacts_[i], carrying)))
            worn_[i] += share * seconds / *bears;
    }
}

void ContactWear::mark(const std::string& name) {
    for (std::size_t i = 0; i < contacts_.size(); ++i) {
        if (contacts_[i].name == name) worn_[i] = 1;
    }
}

}  // namespace voltfall
