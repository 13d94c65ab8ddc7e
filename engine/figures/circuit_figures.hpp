// What `whatif` tells of one settled circuit: loads, fuses, points, wires and relays, by the names of the circuit's
// file.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// The joints and wires to tell of; both lists empty: all.
struct PointChoice {
    std::vector<JointId> joints;
    std::vector<WireId> wires;

    bool empty() const { return joints.empty() && wires.empty(); }
};

struct LoadFigures {
    std::string name;
    double volts{};
    double amps{};
    std::optional<double> rpm;
    LoadSeen seen{LoadSeen::normal};
    std::string said;  ///< what is seen, in the words of its kind
};

struct FuseFigures {
    std::string name;
    double rating{};  ///< amperes of the fuse fitted
    double amps{};
    bool open{};                    ///< it does not conduct
    std::optional<double> seconds;  ///< until it opens at this current; nullopt when it stays whole
};

struct PointFigure {
    std::string name;
    std::optional<double> volts;  ///< to B1-; nullopt where the point floats
};

struct WireFigures {
    std::string name;
    double from{};  ///< amperes at its first end, towards the second
    double to{};    ///< amperes at its second end
};

struct RelayFigure {
    std::string name;
    std::string word;  ///< pulled, released, chatters
};

/// One circuit in one state.
struct CircuitFigures {
    std::vector<LoadFigures> loads;
    std::vector<FuseFigures> fuses;
    std::vector<PointFigure> points;
    std::vector<WireFigures> wires;
    std::vector<RelayFigure> relays;
    std::vector<std::string> floating;  ///< places that are cut off
    std::vector<std::string> weak;      ///< places reached only through a blocked diode
    std::vector<std::string> holding;   ///< relays that would stay pulled if they once were
};

/// Figures of a settled circuit. `healthy` is the sound circuit in the same state (it may be the same object); the
/// words of the loads compare with it.
CircuitFigures figures_of(const Settled& settled, const Settled& healthy, const PointChoice& choice);

}  // namespace voltfall
