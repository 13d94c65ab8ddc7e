// Who may ask: one browser, which brought the key that was printed, and only from our own pages.
#pragma once

#include <optional>
#include <string>

#include "cli/serve/request.hpp"

namespace voltfall {

class Gate {
public:
    /// `key` opens the door once; `session` is what the browser then shows; `port` of the loopback address.
    Gate(std::string key, std::string session, int port);

    /// The answer to a request that goes no further: a refusal, or the door opened by the key. Nothing for a request
    /// that may be answered.
    std::optional<HttpResponse> check(const HttpRequest& request);

    /// What is typed into the browser.
    std::string address() const;

private:
    bool own_host(const std::string& host) const;

    std::string key_;
    std::string session_;
    int port_;
    bool key_used_{false};
    int wrong_keys_{0};
};

/// 32 hexadecimal digits from the system's random numbers.
std::string random_key();

/// The door stays shut after so many wrong keys.
inline constexpr int most_wrong_keys = 20;

}  // namespace voltfall
