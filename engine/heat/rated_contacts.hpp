// Contacts that have a rating in amperes: of relays, switches, keys and connectors whose line names one.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct RatedContact {
    std::string name;  ///< "K7 contact", "S1 contact 4", "C101.4"
    PartId part;       ///< whose rating it is
    BranchId branch;
    double rating{};  ///< amperes, continuous
};

/// All of a circuit, in its order; those without a rating are left out.
std::vector<RatedContact> rated_contacts(const Circuit& circuit);

/// Seconds that a contact bears a current: without end up to its rating, then by the overload test of a relay contact
/// that is matched to fuses (1.35 times for 1800 s, 2 for 5 s, 3.5 for 0.5 s, 6 for 0.1 s; reference parts 3.2, S49),
/// straight between the points over the logarithms and by I2t above. Between 1 and 1.35 times nothing is published: the
/// slope of the first two points goes on. Nothing where it bears it for ever.
std::optional<double> contact_bears(double rating, double amps);

/// A fuse that opens within this time, seconds, ends a short: what it lets through until then is a matter of the
/// contact's making and short-time ratings, which no line names (ASSUMED).
inline constexpr double fuse_in_time = 15;

}  // namespace voltfall
