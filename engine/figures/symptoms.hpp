// What the driver notices of a case: a word for every load in every state, and the fuses that open.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// Faults that are there together, and fuses that stand open from the start.
struct FaultList {
    std::span<const Fault> faults;
    std::span<const PartId> opened;
};

/// What one case shows.
struct Noticed {
    std::vector<std::vector<std::optional<LoadSeen>>> seen;  ///< by state, by load; nullopt where there is no solution
    std::vector<PartId> opened;  ///< fuses that open in any of the states, those of the list too
};

/// The sound circuit in each state, and what cases look like beside it.
class SymptomTable {
public:
    /// Settles the sound circuit in each state. The circuit and the states must outlive the table.
    SymptomTable(Simulator& simulator, const Circuit& circuit, std::span<const State> states);

    const Circuit& circuit() const { return circuit_; }
    std::span<const State> states() const { return states_; }
    /// Motors, clutches, lamps and heaters, in the circuit's order.
    const std::vector<PartId>& loads() const { return loads_; }
    /// Why the sound circuit has no solution in the first state that has none; nullopt where all have one.
    const std::optional<SolveFailure>& failure() const { return failure_; }
    /// Has the sound circuit a solution in that state?
    bool solved(std::size_t state) const { return healthy_[state].has_value(); }

    /// What each list shows at the end of its course, in the lists' order. Lists that are much alike (the sizes of one
    /// fault) are quickest together. Nothing is seen in a state without a sound solution.
    std::vector<Noticed> noticed(std::span<const FaultList> lists) const;
    /// What the sound circuit shows at the end of its course.
    Noticed noticed_healthy() const;
    /// The sound circuit's loads just after the state is set. The state must be solved.
    std::vector<LoadSeen> healthy_loads(std::size_t state) const;

private:
    Simulator& simulator_;
    const Circuit& circuit_;
    std::span<const State> states_;
    std::vector<PartId> loads_;
    std::vector<SettleResult> healthy_;  ///< by state
    std::optional<SolveFailure> failure_;
};

}  // namespace voltfall
