// Minutes that three ways of probing take on one fault of a load's current path: outward from the load, halving, and
// the sequence with the least expected minutes. All three know what a good reading is and never read wrongly.
#pragma once

#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct ProbingMinutes {
    double load_to_source{};
    double half_split{};
    double optimal{};  ///< for the prior shares of the path's sections
};

/// The path of one load in its last position: the permitted joints along it, and the sections between them.
class ProbedPath {
public:
    explicit ProbedPath(const Circuit& circuit);

    /// The section that the mode alters; nothing where it lies beside the path.
    std::optional<std::size_t> section_of(const FaultMode& mode) const;
    ProbingMinutes minutes_for(std::size_t section) const;
    std::size_t sections() const { return sections_.size(); }

private:
    struct Section {
        std::vector<BranchId> branches;
        double prior{};
        bool has_load{false};
    };
    double paid(std::size_t joint, std::vector<std::string>& reached) const;
    double walk_out(std::size_t section) const;
    double halve(std::size_t section) const;
    void plan_best();

    const Circuit& circuit_;
    std::vector<Section> sections_;  ///< from B1+ to B1-
    std::vector<JointId> joints_;    ///< joint i lies between section i and i + 1
    std::vector<double> best_;       ///< minutes by section
};

}  // namespace voltfall
