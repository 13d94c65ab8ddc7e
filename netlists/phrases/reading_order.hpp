// A reading in whatever order it was typed: what it means as it stands, and what it would be in the order of a reading.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "netlists/phrases/parses.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

using ReadingParse = Parse<Measurement>;

/// Reads state, measurement and value as they stand, without note and question mark. Returns nullopt, and at least one
/// problem, where they are no reading.
std::optional<ReadingParse> parse_reading(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// What a line that is no reading as it stands may mean, each meaning once, as a reading that reads: "on low fan dead"
/// for "fan dead on low". Empty where no other order of its words is a reading.
std::vector<std::string> meanings_in_other_orders(const TypedText& phrase, const Circuit& circuit);

/// What a hurried person typed at a screen, as it is kept: the line itself where it reads, else its only meaning in
/// another order, with its note and its question mark. Returns the line itself where it has none or several: reading it
/// then tells why.
std::string in_reading_order(const std::string& line, const Circuit& circuit);

/// The readings of a line that is several: "only high works" tells of every position. One, the line in the order of a
/// reading, where it is one or none.
std::vector<std::string> readings_in_line(const std::string& line, const Circuit& circuit);

/// One problem in the place of those of a line that does not read: the first of them, with what the line may mean as
/// its suggestion; or what is wrong with the order that was meant, where the line as it stands tells less.
void add_clearest(const TypedText& phrase, const Circuit& circuit, const Problems& as_it_stands, Problems& problems);

}  // namespace voltfall
