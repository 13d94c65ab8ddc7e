// An independent solver for tests only: dense modified nodal analysis and Newton steps in long double. It shares no
// code with the deck writer: its own merging of zero-ohm joints, its own element laws.
#pragma once

#include "engine/solve/simulator.hpp"

namespace voltfall::test {

class DenseOracle final : public Simulator {
public:
    explicit DenseOracle(bool shunts = true) : shunts_(shunts) {}
    SolveResult solve(const Network& network) override;

private:
    bool shunts_;
};

}  // namespace voltfall::test
