// The one ngspice of this process, behind the simulator seam. Only its own files include ngspice.
#pragma once

#include <memory>
#include <string>

#include "engine/solve/transient.hpp"

namespace voltfall {

/// Loads a deck when the structure of the network changes, else alters values, then runs `op`.
/// Made once, never destroyed (the library keeps pointers and cannot be started twice). Threads may share it:
/// it serves one at a time.
class NgspiceSession final : public TransientSimulator {
public:
    /// The session; the library starts at the first call. A start that fails throws std::runtime_error.
    static NgspiceSession& instance();
    SolveResult solve(const Network& network) override;
    /// The same without the idle shunts, for circuits of megohms; every joint must be tied to the reference.
    SolveResult solve_without_shunts(const Network& network);

    TransientResult transient(const Network& network, const TransientRun& wanted) override;

    /// "ngspice-39.3" or as the library says.
    std::string version() const override;
    /// Counters for the bench.
    struct Counters {
        long loads{};
        long operating_points{};
        long alters{};
        long transients{};
    };
    Counters counters() const;

    NgspiceSession(const NgspiceSession&) = delete;
    NgspiceSession& operator=(const NgspiceSession&) = delete;

private:
    NgspiceSession();
    ~NgspiceSession() override;
    struct Library;
    std::unique_ptr<Library> library_;
};

}  // namespace voltfall
