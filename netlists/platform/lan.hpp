// The addresses of this machine that others on its network reach.
#pragma once

#include <string>
#include <vector>

namespace voltfall {

/// IPv4 addresses of interfaces that are up, in the system's order; none of the loopback interface.
std::vector<std::string> lan_addresses();

}  // namespace voltfall
