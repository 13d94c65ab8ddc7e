// The solvers that tests ask: the core over ngspice, as the program does.
#pragma once

#include "engine/solve/simulators.hpp"

namespace voltfall::testing {

inline Simulators& solvers() {
    static Simulators both([]() -> NgspiceSession& { return NgspiceSession::instance(); }, SweepBy::core);
    return both;
}
/// What answers are made with.
inline Simulator& solver() {
    return solvers().sweep();
}
/// The simulator of record.
inline NgspiceSession& ngspice() {
    return solvers().of_record();
}

}  // namespace voltfall::testing
