// A person's own settings, in `~/.config/voltfall.toml`: the instruments of the workshop, the width of a page, colours.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/commands/global_options.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// Narrower than this no table of ours is readable.
inline constexpr int least_columns = 30;
inline constexpr int most_columns = 1000;

struct Settings {
    std::vector<Tool> tools;     ///< where a job says nothing; empty: the usual ones
    std::optional<int> columns;  ///< of a page, `least_columns` to `most_columns`
    std::optional<ColourChoice> colour;
};

/// Where the settings stand: $XDG_CONFIG_HOME/voltfall.toml, else ~/.config/voltfall.toml; empty where there is no
/// home.
std::string settings_path();

/// Has the file keys of settings, and neither parts nor a circuit that it names?
bool is_settings(const TomlFile& file);

/// Takes settings apart; every problem is reported, and what is right is taken.
Settings read_settings(const TomlFile& file, Problems& problems);

}  // namespace voltfall
