// Changes to a job file that leave every byte a person wrote as it is.
#pragma once

#include <string>
#include <string_view>

namespace voltfall {

/// The text of a job file after a change.
struct EditedJob {
    std::string text;
    std::string key;  ///< of the new reading
};

/// Adds a reading as the last line of [readings] (or [after]), under the next free number; a file without that section
/// gets one at its end. `text` must be a job file that reads without errors; `phrase` is one line.
EditedJob with_reading(std::string_view text, std::string_view phrase, std::string_view section = "readings");

/// Adds what was mended under [repaired]: a place and the words about it, `C101.4 = "new terminal"`. The key is the
/// place.
EditedJob with_repair(std::string_view text, std::string_view place, std::string_view words);

/// Takes the reading with that key away, its whole line; the text as it is where there is no such line.
std::string without_reading(std::string_view text, std::string_view key, std::string_view section = "readings");

/// The text as a basic string of TOML on one line, quotes included.
std::string quoted_for_toml(std::string_view text);

}  // namespace voltfall
