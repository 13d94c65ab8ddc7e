// Which end of the battery a joint hangs on, by the graph alone: no volts, only what is tied to what.
#pragma once

#include <cstdint>
#include <vector>

#include "netlists/circuit/network.hpp"

namespace voltfall {

/// What a branch is to a current on its way, from the least in its way to the most.
enum class Carrier {
    metal,     ///< wires, contacts, fuses, limiters, diodes
    resistor,  ///< coils of a pack, a relay's suppression resistor
    heater,    ///< a resistor part: a load, or a ballast in front of one
    load,      ///< motors, clutches, lamps, relay coils
    source,    ///< never walked through
};

/// The carrier of every branch of the network, added ones included.
std::vector<Carrier> carriers(const Network& network);

/// Which end of the battery a joint is tied to. `both`: to each by equally easy ways.
enum class Pole : unsigned char { none, plus, minus, both };

/// How far a tie may run.
enum class Through { metal, resistors, heaters, loads };

/// The ties of one network. Contacts may move between questions; branches may not be added or re-tied.
class Reach {
public:
    explicit Reach(const Network& network);

    /// The pole of every joint. A joint takes it from the easiest way that reaches a battery end: metal before
    /// resistors, those before heaters, those before loads. Diodes carry one way only. `except` is not walked.
    std::vector<Pole> poles(Through through, BranchId except = {}) const;

    /// Battery plus, and the plus of every battery in series above it.
    const std::vector<JointId>& supply() const { return supply_; }

    /// Number of metal branches between the supply and each joint, -1 where metal does not reach it.
    std::vector<int> steps_from_supply() const;

    /// What one joint is tied to through metal, without passing `stop` joints or `blocked` branches: the branches
    /// walked, in no useful order. Both by index.
    std::vector<BranchId> metal_from(JointId start, const std::vector<bool>& stop,
                                     const std::vector<bool>& blocked) const;

    Carrier carrier(BranchId branch) const { return carriers_[branch.index]; }

private:
    struct Tie {
        std::uint32_t branch;
        std::uint32_t joint;  ///< at the other end
        bool from_first;      ///< walked from the branch's first joint to its second
    };
    enum class Side { plus, minus };

    void find_supply();
    void spread(std::vector<Pole>& poles, Side side, Through through, BranchId except,
                const std::vector<Pole>& before) const;
    bool walks(const Tie& tie, Side side, Through through) const;
    template <class Visit>
    void each_tie(std::uint32_t joint, Visit visit) const;

    const Network& network_;
    std::vector<Carrier> carriers_;
    std::vector<std::uint32_t> first_tie_;  ///< by joint; one more at the end
    std::vector<Tie> ties_;
    std::vector<JointId> supply_;
};

/// True when one end hangs on plus and the other on minus.
bool across_supply(Pole a, Pole b);

}  // namespace voltfall
