#include "netlists/platform/socket_address.hpp"

#include <winsock2.h>
#include <ws2tcpip.h>

#include <cstring>

namespace voltfall {

std::optional<SocketAddress> SocketAddress::of(const std::string& address, std::uint16_t port) {
    sockaddr_in at{};
    at.sin_family = AF_INET;
    // Most significant byte first, as the network has it; the system's own call wants its sockets begun before.
    const unsigned char bytes[2]{static_cast<unsigned char>(port >> 8), static_cast<unsigned char>(port & 0xff)};
    std::memcpy(&at.sin_port, bytes, sizeof bytes);
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
