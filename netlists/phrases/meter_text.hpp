// What a meter's display or its log adds to a number, taken away before a reading is read.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

/// A phrase without what only a meter says.
struct MeterText {
    std::string phrase;       ///< as typed where there was nothing to take away
    bool alternating{false};  ///< the number is of alternating volts or amperes
};

/// `12.34 V DC` is `12.34 V`; `0L`, `0.L` and `OL MΩ` are `OL`; of the line of a log that a meter has written
/// (`2026-11-29,10:12:03,12.34,V,DC,AUTO`; fields parted by commas, semicolons or tabs) the first number with its unit
/// is kept. Words before it, a trailing `?` and a note stay.
MeterText without_meter_words(std::string_view phrase);

}  // namespace voltfall
