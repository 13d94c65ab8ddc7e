// How a reading's parser steers the reading of its state words.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/phrases/state_phrase.hpp"

namespace voltfall {

struct StateWordsOptions {
    std::optional<std::size_t> stop_at;    ///< word position where the measurement is taken to begin
    std::vector<std::size_t>* doubtful{};  ///< gets positions of words that may be a setting or a name
    bool after_belongs_to_fuse{false};     ///< in `blown at hi after 2min`
};

StatePhrase read_state_words(WordReader& words, const Circuit& circuit, const StateWordsOptions& options);

/// Does a measurement begin with this word (`clamp`, `look` …)? Case counts.
bool is_measurement_word(std::string_view word);

/// The key position of that word, or nothing.
std::optional<KeyPosition> key_named(std::string_view word);

/// hot, cold, wet, bump: what a state or a fault may depend on; other conditions stand in quotes.
bool is_condition_word(std::string_view word);

/// Does a state word begin with it (`key`, `unplug`, `hot`, `after` …)?
bool is_state_word(std::string_view word);

/// May a position of this control be written as its word alone, so that it reads as nothing else? Only where the
/// circuit has one control, and the word is no other word of a phrase and no name.
bool stands_alone(const Circuit& circuit, PartId control, std::string_view word);

/// One note for the whole circuit: positions whose word is also a word of a phrase or a name, and how they are written.
void note_doubtful_positions(const Circuit& circuit, Problems& problems);

/// Words that may stand in a state here: settings, `key on`, `unplug` …
std::vector<std::string> state_word_list(const Circuit& circuit);

/// What to write where no control has the name in front of a `=`: the word by itself, where it is a setting, else the
/// nearest word of a state; empty where none is near.
std::string control_advice(const Circuit& circuit, std::string_view name);

/// Words as typed, one blank between, commas and quotes kept.
std::string words_as_typed(std::span<const Word> words);

}  // namespace voltfall
