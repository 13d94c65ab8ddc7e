#include "engine/ngspice/watchdog.hpp"

#include <atomic>
#include <charconv>
#include <thread>

#include "netlists/platform/process.hpp"

namespace voltfall {

namespace {

constexpr int status_cannot = 4;
constexpr std::string_view farewell = "voltfall: the circuit simulator does not answer within its time limit\n";

using Clock = std::chrono::steady_clock;

/// When the call under way must have ended, in ticks of the clock; 0 while there is none.
std::atomic<Clock::rep> deadline{0};

/// Looks now and then for as long as the process lives.
void watch() {
    constexpr std::chrono::milliseconds pause(200);
    for (;; std::this_thread::sleep_for(pause)) {
        const Clock::rep due = deadline;
        if (due == 0 || Clock::now().time_since_epoch().count() < due) continue;
        // The other threads hang or hold what they hold: nothing but the system is called from here.
        end_at_once(status_cannot, farewell);
    }
}

}  // namespace

WatchedCall::WatchedCall() {
    static const bool watching = [] {
        std::thread(watch).detach();
        return true;
    }();
    (void)watching;
    deadline = Clock::now().time_since_epoch().count() + Clock::duration(simulator_limit()).count();
}

WatchedCall::~WatchedCall() {
    deadline = 0;
}

std::chrono::seconds limit_said(std::string_view text) {
    constexpr int usual = 120;
    constexpr int most = 86400;
    int typed = usual;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), typed);
    return std::chrono::seconds(read.ec == std::errc() && typed >= 1 && typed <= most ? typed : usual);
}

std::chrono::seconds simulator_limit() {
    static const std::chrono::seconds limit = limit_said(environment_text("VOLTFALL_SIMULATOR_SECONDS").value_or(""));
    return limit;
}

}  // namespace voltfall
