#include "netlists/phrases/test.hpp"

namespace voltfall {

const Leads* leads_of(const Tested& tested) {
    if (const auto* volts = std::get_if<VoltsTest>(&tested)) return volts;
    if (const auto* ohms = std::get_if<OhmsTest>(&tested)) return ohms;
    if (const auto* lamp = std::get_if<LampTest>(&tested)) return lamp;
    return std::get_if<BeepTest>(&tested);
}

Leads* leads_of(Tested& tested) {
    return const_cast<Leads*>(leads_of(static_cast<const Tested&>(tested)));
}

}  // namespace voltfall
