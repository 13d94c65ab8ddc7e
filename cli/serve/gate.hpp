// Who may ask: browsers that brought a key that was printed or handed on, and only from our own pages.
#pragma once

#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "cli/serve/request.hpp"

namespace voltfall {

/// How often a key opens.
enum class KeyUse {
    once,
    by_many,  ///< of a class: each browser that brings it
};

class Gate {
public:
    using Clock = std::chrono::steady_clock;

    /// `hosts`: the names at which we answer, "127.0.0.1:4000"; the first is the one that is printed. `now` tells the
    /// time, for tests.
    explicit Gate(std::vector<std::string> hosts, std::function<Clock::time_point()> now = Clock::now);

    /// One more key, of the system's random numbers; what is typed into the browser to use it.
    std::string new_address(Role role, KeyUse use);

    /// The answer to a request that goes no further: a refusal, or the door opened by a key. Nothing for a request
    /// that may be answered; its visitor is then known.
    std::optional<HttpResponse> check(HttpRequest& request);

private:
    struct Key {
        std::string secret;
        Role role;
        KeyUse use;
        bool used{false};
    };
    struct Session {
        std::string secret;
        Visitor visitor;
    };
    HttpResponse open(const std::string& secret);

    std::vector<std::string> hosts_;
    std::function<Clock::time_point()> now_;
    std::vector<Key> keys_;
    std::vector<Session> sessions_;
    int wrong_keys_{0};
    Clock::time_point last_wrong_{};
};

/// 32 hexadecimal digits from the system's random numbers.
std::string random_key();

/// After so many wrong keys the door stays shut until nobody has tried for `rest_after_wrong_keys`.
inline constexpr int most_wrong_keys = 20;
inline constexpr std::chrono::seconds rest_after_wrong_keys{60};
/// So many browsers are let in.
inline constexpr std::size_t most_browsers = 100;

}  // namespace voltfall
