// A reading in whatever order it was typed: what it means as it stands, and what it would be in the order of a reading.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "netlists/phrases/parses.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

using ReadingParse = Parse<Measurement>;

/// Reads state, measurement and value as they stand, without note and question mark. Returns nullopt, and at least one
/// problem, where they are no reading.
std::optional<ReadingParse> parse_reading(const TypedText& phrase, const Circuit& circuit, Problems& problems);

/// The orders that are readings, each meaning once.
std::vector<std::string> meanings_of(std::span<const TypedText> orders, const Circuit& circuit);

/// What a line that is no reading as it stands may mean, each meaning once, as a reading that reads: "on low fan dead"
/// for "fan dead on low". Empty where no other order of its words is a reading.
std::vector<std::string> meanings_in_other_orders(const TypedText& phrase, const Circuit& circuit);

/// A piece of a line as a reading that stands by itself, as it stands or in its only other order.
struct ReadingPiece {
    std::string text;
    StatePhrase state;
    bool is_number{false};
};
/// Returns nullopt where the text is none.
std::optional<ReadingPiece> reading_piece(const TypedText& text, const Circuit& circuit);

/// Does a word of it name what was measured? `works off and on` has no second half.
bool names_something(std::span<const Word> words, const Circuit& circuit);

/// `switch burnt`: the line with the only part of that kind named, as a reading. Returns nullopt where no word is a
/// kind of which there is one, or the line is no reading then.
std::optional<std::string> with_only_part_named(const TypedText& phrase, const Circuit& circuit);

/// `wire 542 chafed on the bracket`: where on the vehicle something was seen is no name of the circuit, and is kept as
/// a note. Returns nullopt where the words in front are no look.
std::optional<std::string> with_rest_as_note(const TypedText& phrase, const Circuit& circuit);

/// What a hurried person typed at a screen, as it is kept: the line itself where it reads, else its only meaning in
/// another order, with its note and its question mark. Returns the line itself where it has none or several: reading it
/// then tells why.
std::string in_reading_order(const std::string& line, const Circuit& circuit);

}  // namespace voltfall
