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
            return SIGHUP;
    }
    return 0;
}

}  // namespace

struct SignalsCaught::System {
    std::vector<std::pair<int, struct sigaction>> before;
};

SignalsCaught::SignalsCaught(std::initializer_list<Sent> which, Handler handler) : system_(std::make_unique<System>()) {
    struct sigaction caught {};
    caught.sa_handler = handler;
    // No SA_RESTART: a read that waits for a line ends.
    caught.sa_flags = static_cast<int>(SA_RESETHAND);
    system_->before.reserve(which.size());
    for (const Sent sent : which) {
        struct sigaction before {};
        ::sigaction(number_of(sent), &caught, &before);
        system_->before.emplace_back(number_of(sent), before);
    }
}

SignalsCaught::~SignalsCaught() {
    for (const auto& [number, before] : system_->before) ::sigaction(number, &before, nullptr);
}

}  // namespace voltfall
