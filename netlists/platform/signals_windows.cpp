#include "netlists/platform/signals.hpp"

#include <csignal>
#include <utility>
#include <vector>

namespace voltfall {

namespace {

int number_of(Sent sent) {
    switch (sent) {
        case Sent::interrupt:
            return SIGINT;
        case Sent::end:
            return SIGTERM;
        case Sent::closed:
            return SIGBREAK;
    }
    return 0;
}

}  // namespace

struct SignalsCaught::System {
    std::vector<std::pair<int, Handler>> before;
};

// The system takes a handler away when it calls it: a second one ends the process.
SignalsCaught::SignalsCaught(std::initializer_list<Sent> which, Handler handler) : system_(std::make_unique<System>()) {
    for (const Sent sent : which) system_->before.emplace_back(number_of(sent), std::signal(number_of(sent), handler));
}

SignalsCaught::~SignalsCaught() {
    for (const auto& [number, before] : system_->before)
        if (before != SIG_ERR) std::signal(number, before);
}

}  // namespace voltfall
