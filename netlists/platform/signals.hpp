// What a person or the system sends to a running program.
#pragma once

#include <initializer_list>
#include <memory>

namespace voltfall {

enum class Sent {
    interrupt,  ///< Ctrl-C
    end,        ///< a polite end, as at a shutdown
    closed      ///< the terminal is gone
};

/// While it lives, each of these calls the handler once instead of ending the process; a second one ends it. A read
/// that waits for a line ends. The handler may only set what is atomic or `volatile std::sig_atomic_t`.
class SignalsCaught {
public:
    using Handler = void (*)(int);
    SignalsCaught(std::initializer_list<Sent> which, Handler handler);
    ~SignalsCaught();
    SignalsCaught(const SignalsCaught&) = delete;
    SignalsCaught& operator=(const SignalsCaught&) = delete;

private:
    struct System;
    std::unique_ptr<System> system_;
};

}  // namespace voltfall
