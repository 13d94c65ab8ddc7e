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

/// Adds a reading as the last line of [readings], under the next free number; a file without that section gets one at
/// its end. `text` must be a job file that reads without errors; `phrase` is one line.
EditedJob with_reading(std::string_view text, std::string_view phrase);

/// Takes the reading with that key away, its whole line; the text as it is where there is no such line.
std::string without_reading(std::string_view text, std::string_view key);

}  // namespace voltfall
