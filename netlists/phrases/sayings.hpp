// One meaning and the ways people say it: the lists from which a parser takes its alternatives, a message its
// suggestion and the help its words.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/text/words.hpp"

namespace voltfall {

struct Saying {
    std::string_view word;  ///< as it is kept and written: "dead"
    std::string_view also;  ///< other ways to say it, '|' between them; each may be several words
};
using Sayings = std::span<const Saying>;

/// What was found in a phrase, and how many of its words say it.
struct FoundSaying {
    std::string_view word;
    std::size_t words{};
};

/// The longest way to say one of these that stands `ahead` words behind the next one; words that change nothing ("is",
/// "a bit", "again") are skipped around it and counted with it. Nullopt where none stands there.
std::optional<FoundSaying> find_saying(const WordReader& words, std::size_t ahead, Sayings sayings);

/// How many of the next words change nothing in front of a saying ("is", "a bit").
std::size_t words_before_saying(const WordReader& words);

/// Takes what `find_saying` finds at the next word.
std::optional<std::string_view> take_saying(WordReader& words, Sayings sayings);

/// Is it one of the words, or one of the other ways of a single word?
bool is_said(Sayings sayings, std::string_view word);

/// The words as they are written, in the order of the list.
std::vector<std::string> words_of(Sayings sayings);

/// "did you mean 'dim'?" for a mistyped word, or for a mistyped other way to say it; empty where none is near.
std::string saying_advice(Sayings sayings, std::string_view typed);

}  // namespace voltfall
