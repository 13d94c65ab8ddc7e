// What a fuse tells: whole or blown, when it went, and the number printed on it.
#pragma once

#include <optional>

#include "engine/readings/word_evidence.hpp"

namespace voltfall {

/// Chance that a fuse's seat is found empty though something else is wrong (ASSUMED).
constexpr double seat_emptied = 0.0003;

/// The states in which a fuse may have gone: all that are solved, or those that the job names.
enum class StatesAsked { all, named };

/// Seconds until the fuse opens in the state in which it goes first; nothing where it holds in all.
std::optional<double> earliest_opening(const Questions& questions, const SolvedCase& solved, PartId fuse,
                                       StatesAsked asked);

/// P(word and time of a fuse | case).
double fuse_probability(const WordObservation& word, const FuseReading& reading, const WordContext& context);

/// P(number on a fuse), whatever is wrong elsewhere: the diagram's, or seldom another one.
double number_probability(const Circuit& circuit, const RatingReading& reading);

/// P(number on a fuse | case): a suspect of another rating is held against its size; for any other suspect it is the
/// diagram's number.
double rating_probability(const RatingReading& reading, const WordContext& context);

}  // namespace voltfall
