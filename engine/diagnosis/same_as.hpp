// Faults that nothing a person may measure can tell apart.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

/// Finds faults that no permitted probe separates: by the graph (ohms added to, or an opening of, two branches of one
/// series run, unless an ohmmeter tells the part by itself with its plug off), then by numbers (all permitted joints,
/// clamps, fuses and loads agree within a meter's resolution for some size of the other), in every default state and in
/// each of them with each permitted plug off in turn.
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
    Look look(const FaultMode* mode, double size, double where, const std::vector<State>& states);
    Look look(const FaultMode* mode, double size, double where) { return look(mode, size, where, states_); }
    /// Are the two alike with each plug off too?
    bool alike_unplugged(const FaultMode& fault, double size, double where, const FaultMode* other, double other_size);
    /// Greatest difference in units of resolution; infinite where a mark differs.
    static double distance(const Look& a, const Look& b);

    Simulator& simulator_;
    const Circuit& circuit_;
    std::vector<State> states_;
    std::vector<State> unplugged_;  ///< the default states with one plug off
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
