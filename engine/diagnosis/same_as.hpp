// Faults that nothing a person may measure can tell apart.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// Finds faults that no permitted probe in any default state separates: by the graph (ohms added to, or an opening of,
/// two branches of one series run), then by numbers (all permitted joints, clamps, fuses and loads agree within a
/// meter's resolution for some size of the other).
class Lookalikes {
public:
    Lookalikes(Simulator& simulator, const Circuit& circuit);

    /// Are the two alike by the graph alone?
    bool by_graph(const FaultMode& a, const FaultMode& b) const;
    /// Does some size of `other` look as `fault` does at this size and place? Solves.
    bool by_numbers(const FaultMode& fault, double size, double where, const FaultMode* other, double start_size);

private:
    struct Look {
        bool ok{false};
        std::vector<double> values;
        std::vector<double> resolution;
        std::vector<double> marks;  ///< relays, fuses, rotors: must be equal
    };
    Look look(const FaultMode* mode, double size, double where);
    /// Greatest difference in units of resolution; infinite where a mark differs.
    static double distance(const Look& a, const Look& b);

    Simulator& simulator_;
    const Circuit& circuit_;
    std::vector<State> states_;
    std::vector<JointId> joints_;
    std::vector<int> run_of_branch_;
    struct Wanted {
        const FaultMode* mode{nullptr};
        double size{};
        double where{};
        Look look;
    };
    Wanted wanted_;  ///< the last one asked for
};

}  // namespace voltfall
