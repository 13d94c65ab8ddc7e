// Electronics around the operating point: what they see, and what they make of it.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "engine/solve/simulator.hpp"

namespace voltfall {

/// The parts with electronics of one network that settles.
class ElectronicsInPlay {
public:
    /// Finds them and sets their branches as at full; those whose first branch is held stay as it is held.
    void begin(Network& network);

    /// Lets each look at a solution and sets its branches anew; false where every figure stands. Figures that find no
    /// rest are left as they are after `most_rounds`.
    bool move(Network& network, const OperatingPoint& point);

private:
    struct One {
        const Electronics* part;
        double figure{};
        bool held{false};
        int rounds{0};
        std::optional<std::pair<double, double>> before{};  ///< figure and its miss, one round earlier
    };
    static void set(Network& network, const One& one);
    static double next_figure(const One& one, double miss);

    std::vector<One> all_;
};

}  // namespace voltfall
