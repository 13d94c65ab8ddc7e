// What the first screen of `whatif` and the whole account of every state share.
#pragma once

#include <string>

#include "cli/views/text_page.hpp"
#include "engine/figures/whatif.hpp"

namespace voltfall {

/// The least difference that a meter on its 20 V range shows.
inline constexpr double visible_volts = 0.01;

enum class Cases { healthy_only, both };

/// How the case stands in the end: `after` is filled even when nothing happens.
inline const CircuitFigures& end_of(const WhatifState& state) {
    return state.after;
}

/// Has nobody switched that load on, and does it do nothing, sound and with the faults?
bool is_never_on(const WhatifState& state, std::size_t load);

Tone seen_tone(LoadSeen seen, LoadSeen healthy);

std::string volts_or_floats(const std::optional<double>& volts);

/// How far a point has moved, V; one that begins or ceases to float moves by all its volts, and at least visibly.
double moved(const PointFigure& healthy, const PointFigure& end);

/// Does anything read otherwise than in the sound circuit?
bool differs(const WhatifState& state);

/// "F7 opens after 0.18 s (0.1 s to 0.3 s)".
std::string event_text(const HeatEvent& event);

/// "feed of M1, 0.5 V at most: healthy 0.4 V OK, faulted 3.9 V HIGH".
std::string limit_text(const LimitFigure& limit, Cases cases);

/// Loads, fuses, heat, points, relays and limits of every state, one after the other.
void write_every_state(TextPage& page, const WhatifAnswer& answer);

}  // namespace voltfall
