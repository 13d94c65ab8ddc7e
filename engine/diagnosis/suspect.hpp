// One suspected fault against a job's readings: where its weight lies in size and along the wire.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/size_curve.hpp"

namespace voltfall {

/// A second fault, independent of the first and there at the same time.
struct SecondFault {
    const FaultMode* mode{nullptr};
    double where{0.5};  ///< share of the wire's length
    struct Sizes {
        double first{};
        double second{};
        double share{};
    };
    std::vector<Sizes> sizes;  ///< of both, that stand for the pair; the likeliest first, their shares sum to 1
};

/// One row of the catalogue, two of them at once, or the healthy circuit, against the readings.
struct Suspect {
    const FaultMode* mode{nullptr};     ///< null: nothing is wrong
    std::optional<SecondFault> second;  ///< of a pair
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
    Going going{};  ///< by the readings: does it come and go, and by what?

    bool is_pair() const { return second.has_value(); }
    /// "R1 limiter open"; of a pair both, each with its likeliest size: "K3 contact 0.3ohm and G201 resistance
    /// 0.12ohm".
    std::string phrase() const;
    /// The faults that it consists of: none, one or two.
    std::vector<const FaultMode*> modes() const;
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

/// "K3 contact 0.3ohm"; without a size where the mode has none.
std::string phrase_with_size(const FaultMode& mode, double size);

}  // namespace voltfall
