// A limit of time for calls into a library that cannot be interrupted.
#pragma once

#include <chrono>
#include <string_view>

namespace voltfall {

/// While one exists, the process ends with status 4 and a word on stderr if it lasts longer than the limit: a call into
/// the simulator that never comes back cannot be ended otherwise. One at a time.
class WatchedCall {
public:
    WatchedCall();
    ~WatchedCall();
    WatchedCall(const WatchedCall&) = delete;
    WatchedCall& operator=(const WatchedCall&) = delete;
};

/// Seconds that a setting says, 1 to 86400; anything else stands for the usual 120 s.
std::chrono::seconds limit_said(std::string_view text);
/// The limit for one call: what VOLTFALL_SIMULATOR_SECONDS says.
std::chrono::seconds simulator_limit();

}  // namespace voltfall
