#include "netlists/platform/lan.hpp"

#include <winsock2.h>
#include <ws2tcpip.h>
// Behind the sockets.
#include <iphlpapi.h>

#include <array>
#include <cstddef>

namespace voltfall {

std::vector<std::string> lan_addresses() {
    constexpr ULONG flags = GAA_FLAG_SKIP_ANYCAST | GAA_FLAG_SKIP_MULTICAST | GAA_FLAG_SKIP_DNS_SERVER;
    ULONG size = 0;
    std::vector<std::max_align_t> room;
    ULONG got = ERROR_BUFFER_OVERFLOW;
    for (int tried = 0; got == ERROR_BUFFER_OVERFLOW && tried < 5; ++tried) {
        room.resize(size / sizeof(std::max_align_t) + 1);
        got = ::GetAdaptersAddresses(AF_INET, flags, nullptr, reinterpret_cast<IP_ADAPTER_ADDRESSES*>(room.data()),
                                     &size);
    }
    std::vector<std::string> found;
    if (got != NO_ERROR) return found;
    for (const auto* at = reinterpret_cast<const IP_ADAPTER_ADDRESSES*>(room.data()); at != nullptr; at = at->Next) {
        if (at->OperStatus != IfOperStatusUp || at->IfType == IF_TYPE_SOFTWARE_LOOPBACK) continue;
        for (const auto* own = at->FirstUnicastAddress; own != nullptr; own = own->Next) {
            std::array<char, INET_ADDRSTRLEN> text{};
            const auto* address = reinterpret_cast<const sockaddr_in*>(own->Address.lpSockaddr);
            if (::inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size()) != nullptr)
                found.emplace_back(text.data());
        }
    }
    return found;
}

}  // namespace voltfall
