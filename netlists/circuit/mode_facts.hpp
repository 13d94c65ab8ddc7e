// What a fault mode means beyond its changes. The part's own file states it where it declares the mode; no other room
// reads it off the mode's words.
#pragma once

#include <cstdint>
#include <initializer_list>

namespace voltfall {

enum class ModeFact : std::uint8_t {
    lost_contact,     ///< the thing as a whole no longer conducts: a broken wire, a contact that does not touch
    poor_contact,     ///< ohms in series where something should touch
    rubbed_to_metal,  ///< a wire's insulation is through, on the vehicle's metal
    winding_to_case,  ///< a winding touches its case
    limiter_open,     ///< a thermal limiter has opened, as heat may do
    fuse_blown,       ///< an element that opens by current has done so
    fuse_missing,     ///< nothing is fitted where a fuse belongs
    wrong_rating,     ///< a fuse of another rating is fitted
    air_side,         ///< the air or the fan, not the motor, is what is put right
    air_blocked,      ///< the motor runs well, yet little air comes
    rubs,             ///< something turns hard and may squeal
    uneven,           ///< the current of a turning motor swings more than it should
    may_touch,        ///< by nature it can come and go: loose, worn or rubbing
    only_sometimes,   ///< it never stays: it shows in some starts only, or once it is warm
    starts_by_hand,   ///< tapped or turned by hand, the thing works again
    folds_back,       ///< no failure: electronics that are too hot give less until they have cooled
    cuts_out,         ///< no failure: electronics that are too hot give nothing until they have cooled
    outside_circuit,  ///< a system's pressure or heat moves a sound contact: no part of the circuit is put right
};

/// A set of facts.
class ModeFacts {
public:
    constexpr ModeFacts() = default;
    constexpr ModeFacts(std::initializer_list<ModeFact> facts) {
        for (const ModeFact fact : facts) bits_ |= bit(fact);
    }
    constexpr bool has(ModeFact fact) const { return (bits_ & bit(fact)) != 0; }
    constexpr bool operator==(const ModeFacts&) const = default;

private:
    static constexpr std::uint32_t bit(ModeFact fact) { return 1U << static_cast<unsigned>(fact); }

    std::uint32_t bits_{0};
};

}  // namespace voltfall
