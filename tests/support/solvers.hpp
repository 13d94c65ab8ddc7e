// The solvers that tests ask: the core over ngspice, as the program does.
#pragma once

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/simulators.hpp"

namespace voltfall::testing {

/// Starts the process's session at the first call.
inline TransientSimulator& start_ngspice() {
    return NgspiceSession::instance();
}
inline Simulators& solvers() {
    static Simulators both(start_ngspice, SweepBy::core);
    return both;
}
/// What answers are made with.
inline Simulator& solver() {
    return solvers().sweep();
}
/// The simulator of record.
inline NgspiceSession& ngspice() {
    return NgspiceSession::instance();
}

}  // namespace voltfall::testing

namespace voltfall {
using testing::ngspice;
using testing::solver;
}  // namespace voltfall
