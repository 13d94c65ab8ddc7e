#include "netlists/platform/lan.hpp"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>

#include <array>
#include <memory>

namespace voltfall {

std::vector<std::string> lan_addresses() {
    ifaddrs* list = nullptr;
    if (getifaddrs(&list) != 0) return {};
    const std::unique_ptr<ifaddrs, decltype(&freeifaddrs)> all(list, &freeifaddrs);
    std::vector<std::string> found;
    for (const ifaddrs* at = list; at != nullptr; at = at->ifa_next) {
        const bool usable = at->ifa_addr != nullptr && at->ifa_addr->sa_family == AF_INET &&
                            (at->ifa_flags & IFF_UP) != 0 && (at->ifa_flags & IFF_LOOPBACK) == 0;
        if (!usable) continue;
        std::array<char, INET_ADDRSTRLEN> text{};
        const auto* address = reinterpret_cast<const sockaddr_in*>(at->ifa_addr);
        if (inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size()) != nullptr)
            found.emplace_back(text.data());
    }
    return found;
}

}  // namespace voltfall
