// A fuse against a rated contact.
#pragma once

#include "engine/heat/protection.hpp"
#include "engine/heat/rated_contacts.hpp"

namespace voltfall {

/// Over every current from the contact's rating up: where does it bear less long than the usual fuse of the type holds?
/// Currents that it bears for longer than its published test lasts (1800 s), and those that open the fuse in time, are
/// left out.
ContactVerdict judge_contact(const RatedContact& contact, FuseType type, double fuse_rating, double fuse_celsius);

}  // namespace voltfall
