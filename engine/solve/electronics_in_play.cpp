#include "engine/solve/electronics_in_play.hpp"

#include <cmath>

namespace voltfall {

namespace {

constexpr int most_rounds = 60;
/// From here on the figure is followed without extrapolation, whose steps may jump over a threshold and back.
constexpr int most_secant_rounds = 20;
/// A figure (a duty, volts) that moves by less than this stands: a tenth of a microvolt of what follows from it.
constexpr double settled_figure = 1e-8;
/// A secant step may be this much longer or shorter than what is wanted.
constexpr double most_stretch = 20;

}  // namespace

void ElectronicsInPlay::begin(Network& network) {
    for (const Part& part : network.circuit->parts) {
        if (!part.electronics) continue;
        const Electronics& electronics = *part.electronics;
        One one{&electronics, electronics.full};
        const NetworkBranch& first = network.at(electronics.driven.front());
        one.held = first.held;
        const auto* stage = std::get_if<Stage>(&first.law);
        if (one.held && stage && !stage->passes) one.figure = electronics.none;
        set(network, one);
        all_.push_back(one);
    }
}

void ElectronicsInPlay::set(Network& network, const One& one) {
    const std::vector<Law> laws = one.part->laws(one.figure);
    for (std::size_t i = 0; i < laws.size(); ++i) network.at(one.part->driven[i]).law = laws[i];
}

/// By the secant through this miss and the last, where that is near what is wanted; else what is wanted itself.
double ElectronicsInPlay::next_figure(const One& one, double miss) {
    const double wanted = one.figure + miss;
    if (!one.before || one.rounds > most_secant_rounds || one.figure == one.before->first) return wanted;
    const double slope = (miss - one.before->second) / (one.figure - one.before->first);
    const double stretch = -1 / slope;
    return stretch > 1 / most_stretch && stretch < most_stretch ? one.figure + miss * stretch : wanted;
}

bool ElectronicsInPlay::move(Network& network, const OperatingPoint& point) {
    bool changed = false;
    for (One& one : all_) {
        if (one.held || one.rounds > most_rounds) continue;
        std::vector<double> volts;
        for (const JointId joint : one.part->seen) volts.push_back(point.volts[joint.index]);
        const double miss = one.part->wanted(volts) - one.figure;
        if (std::abs(miss) <= settled_figure) continue;
        const double next = next_figure(one, miss);
        one.before = {one.figure, miss};
        one.figure = next;
        ++one.rounds;
        set(network, one);
        changed = true;
    }
    return changed;
}

}  // namespace voltfall
