// The words that readings end in, each list once: what a parser takes, a message suggests and the help prints.
#pragma once

#include <string_view>

#include "netlists/phrases/sayings.hpp"

namespace voltfall {

/// `relay K3 clicks|silent|pulled|released`.
Sayings relay_sayings();
/// `fuse F7 good|blown|sometimes-blown|tripped|missing`.
Sayings fuse_sayings();
/// A test lamp between two points: `lamp M1.1 to B1- bright|dim|dark|lit`.
Sayings test_lamp_sayings();
/// A continuity buzzer: `beep R1.1 to R1.4 yes|no`.
Sayings beep_sayings();
/// Two points where no number was taken: `M1.1 to B1- live|dead`.
Sayings live_sayings();
/// `air none|weak|normal`.
Sayings air_sayings();
/// `C303 rise cold|warm|hot`: by the hand, where no thermometer is held to it.
Sayings warmth_sayings();
/// `pin C303.4 drag good|light|none`.
Sayings drag_sayings();
/// `ripple M1 even|one-low|gaps`.
Sayings ripple_sayings();
/// `bus 21 idle|busy|dead`.
Sayings bus_sayings();
/// What `look` knows: the words that the fault modes carry.
Sayings look_sayings();
/// Colours that a look tells; kept as they are.
bool colours_a_look(std::string_view word);
/// Words of a look that only link others ("is", "a bit"); kept as they are, and nothing seen by themselves.
bool links_a_look(std::string_view word);
/// How a motor turns by hand, as words of a look: `M1 turns freely`.
Sayings by_hand_sayings();
/// `key off|acc|on|run|start`.
Sayings key_sayings();
/// Words in front of a key's position that mean it: the engine's, then the ignition's.
Sayings engine_sayings();
/// Words between those of a state that say nothing: `with the blower on high`.
Sayings state_fillers();
/// The highest position of a switch, then its lowest, where the switch has other names for them.
Sayings height_sayings();
/// The trade's words for the vehicle's metal.
Sayings metal_sayings();

}  // namespace voltfall
