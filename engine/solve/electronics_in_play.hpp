// Electronics around the operating point: what they see, and what they make of it.
#pragma once

#include <vector>

#include "engine/solve/simulator.hpp"

namespace voltfall {

/// The parts with electronics of one network that settles. Their figures are found together, as what one makes of its
/// branches moves what the others see: by Broyden's method, which learns from each round how the misses answer to a
/// step.
class ElectronicsInPlay {
public:
    /// Finds them and sets their branches as at full; those whose first branch is held stay as it is held.
    void begin(Network& network);

    /// Lets each look at a solution and sets its branches anew; false where every figure stands. Figures that go round
    /// and round, as where a module's own current takes the volts away that it lives on, are left where they miss
    /// least; others that find no rest as they are after `most_rounds`.
    bool move(Network& network, const OperatingPoint& point);

private:
    struct One {
        const Electronics* part;
        double figure{};
    };
    static void set(Network& network, const One& one);
    void learn(const std::vector<double>& misses);
    void forget();
    std::vector<double> step_for(const std::vector<double>& misses);
    bool leave_cycle(Network& network, const std::vector<double>& misses);

    std::vector<One> all_;  ///< but for those that are held
    int rounds_{0};
    bool given_up_{false};
    double least_miss_{0};  ///< the greatest of a round's misses, where it was least
    int stuck_{0};          ///< rounds since then
    struct Round {
        std::vector<double> figures;
        double miss{};  ///< the greatest
    };
    std::vector<Round> last_;     ///< rounds in which nothing was learned, the newest last
    std::vector<double> misses_;  ///< of the round before
    std::vector<double> step_;    ///< that was taken then
    std::vector<double> answer_;  ///< figures x figures: the step of the one for a miss of the other
};

}  // namespace voltfall
