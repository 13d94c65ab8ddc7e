// An IPv4 address with a port, as the system's socket calls take it.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>

struct sockaddr;

namespace voltfall {

class SocketAddress {
public:
    /// "127.0.0.1"; nullopt for what is no address.
    static std::optional<SocketAddress> of(const std::string& address, std::uint16_t port);
    sockaddr* system();

private:
    alignas(8) std::array<unsigned char, 16> bytes_{};  ///< a sockaddr_in has 16
};

}  // namespace voltfall
