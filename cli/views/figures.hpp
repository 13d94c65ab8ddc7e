// Numbers as people and programs read them: a meter's digits in text, twelve digits in JSON.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/text/digits.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

/// What a meter shows: volts to 0.01, amperes to 0.1, revolutions per minute to 1.
std::string shown_volts(double volts);
std::string shown_amps(double amps);
std::string shown_rpm(double rpm);

/// A time in words with its unit: "0.02 s", "45 s", "3.5 min", "2.1 h".
std::string shown_seconds(double seconds);

/// Minutes with their unit: "25 min", "2.5 min".
std::string shown_minutes(double minutes);

/// A size at two significant figures with its unit: "0.3 ohm", "20 mohm", "1.4" for a factor.
std::string shown_size(double value, Unit unit);
/// Two sizes: "0.27 to 0.34 ohm"; one when they show the same.
std::string shown_range(double low, double high, Unit unit);

/// Two figures at most: "about 7 in 10", "about 3 in 100", "less than 1 in 100", "more than 99 in 100".
std::string probability_words(double probability);

/// The name of a file as it was typed; an empty one between quotes, so that it is seen.
std::string shown_name(const std::string& file);

/// "1 wire", "2 wires".
std::string counted(std::size_t count, std::string_view noun);

/// "a, b, c and 12 more: --top 15"; at most `most` names are written.
std::string name_list(const std::vector<std::string>& names, std::size_t most);

/// "a, b, c and 12 more", where another word says how to see the rest.
std::string names_and_more(const std::vector<std::string>& names, std::size_t most);

/// What stands below a cut list: "12 more: --top 17".
std::string more_line(std::size_t left, std::size_t all);

}  // namespace voltfall
