// One suspected fault against a job's readings: where its weight lies in size and along the wire.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/size_curve.hpp"

namespace voltfall {

/// One row of the catalogue, or the healthy circuit, against the readings.
struct Suspect {
    const FaultMode* mode{nullptr};  ///< null: nothing is wrong
    double prior{0};
    Story story{Story::plain};
    std::vector<SizeCurve> curves;  ///< one a place along the wire
    std::vector<Piece> pieces;
    double log_evidence{};  ///< ln of the likelihood averaged over size and place
    double probability{0};
    Piece best;                   ///< the best fit
    Prediction at_best;           ///< what it predicts: the first world, or the second where `led_on`
    bool led_on{false};           ///< its readings are those of what it has led to, not of the fault alone
    std::vector<ModePtr> led_to;  ///< those things
    double wrong_none{0};

    std::string phrase() const { return mode ? mode->phrase() : "nothing"; }
    const SizeCurve& best_curve() const;
    World world() const { return led_on ? World::later : World::as_stated; }
};

/// Sizes between which 90 % of a suspect's weight lies, and the most probable; nothing where it has no size.
struct Spread {
    double best{};
    double low{};
    double high{};
};
std::optional<Spread> size_spread(const Suspect& suspect);
std::optional<Spread> place_spread(const Suspect& suspect);

/// Pieces that stand for the suspect: at most `count`, each with its share of the suspect's weight (they sum to 1).
struct SizeSample {
    double size{};
    double where{};
    double share{};
};
std::vector<SizeSample> size_samples(const Suspect& suspect, std::size_t count);

}  // namespace voltfall
