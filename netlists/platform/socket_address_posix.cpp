#include "netlists/platform/socket_address.hpp"

#include <arpa/inet.h>
#include <netinet/in.h>

#include <cstring>

namespace voltfall {

std::optional<SocketAddress> SocketAddress::of(const std::string& address, std::uint16_t port) {
    sockaddr_in at{};
    at.sin_family = AF_INET;
    at.sin_port = htons(port);
    if (::inet_pton(AF_INET, address.c_str(), &at.sin_addr) != 1) return std::nullopt;
    SocketAddress made;
    static_assert(sizeof at == sizeof made.bytes_);
    std::memcpy(made.bytes_.data(), &at, sizeof at);
    return made;
}

sockaddr* SocketAddress::system() {
    return reinterpret_cast<sockaddr*>(bytes_.data());
}

}  // namespace voltfall
