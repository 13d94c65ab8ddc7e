// The measurement of a reading: what follows its state words.
#pragma once

#include <optional>
#include <string_view>

#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/sayings.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Reads one measurement with its value. Nothing, and at least one problem, when it is not whole; what stands behind it
/// is left in the reader. Between two points a bare number is volts, unless a part was unplugged or pulled: then it may
/// be ohms.
enum class MeasuredAt { on_vehicle, in_hand };
std::optional<Measurement> read_measurement(WordReader& words, const Circuit& circuit,
                                            MeasuredAt where = MeasuredAt::on_vehicle);

/// What a person sees, hears or smells, begun by `look`, `smell`, `smoke`, `air`, `pin`, `ripple`.
std::optional<Measurement> read_look(WordReader& words, const Circuit& circuit);
std::optional<Measurement> read_smell(WordReader& words, const Circuit& circuit);
std::optional<Measurement> read_air(WordReader& words);
std::optional<Measurement> read_pin_drag(WordReader& words, const Circuit& circuit);
std::optional<Measurement> read_ripple(WordReader& words, const Circuit& circuit);

/// `relay K3 clicks`, `fuse F7 blown at hi after 2min`; the first word is taken where it stands.
std::optional<Measurement> read_relay(WordReader& words, const Circuit& circuit);
std::optional<Measurement> read_fuse(WordReader& words, const Circuit& circuit);

/// `blower slow`, `M1 dead`: the next word is the load's.
std::optional<Measurement> read_load(WordReader& words, const Circuit& circuit);

/// `C101 rise 60C`, `M1 temp 90C`, `C303.4 hotter C303.3 25C`: the next word is the place.
std::optional<Measurement> read_heat(WordReader& words, const Circuit& circuit);
std::optional<Measurement> read_hotter(WordReader& words, const Circuit& circuit);

/// `gas pressure low side`, `P1 pressure`: what moves a contact, without its value. Returns nullopt, and at least one
/// problem, when no such contact is there.
std::optional<QuantityTest> take_quantity(WordReader& words, const Circuit& circuit);
/// `gas pressure 0.3bar`, `gas pressure 0.3bar low side`, `P1 pressure 0.3bar`, `T1 temp 95C`.
std::optional<Measurement> read_quantity(WordReader& words, const Circuit& circuit);
/// Is the next word a contact that is moved by heat?
bool is_moved_by_heat(const Circuit& circuit, const Word& word);

/// Is it a word that a look weighs (`melted`, `clean`), or one of its own in quotes?
bool is_look_word(std::string_view word);

/// Says that a word is no name and no word of a state or measurement, with the likeliest one meant, else `otherwise`.
void report_unknown(WordReader& words, const Word& word, const Circuit& circuit, std::string_view otherwise);

/// Takes what says one of these and gives it as it is kept; otherwise a problem that lists them.
std::optional<std::string> take_word_of(WordReader& words, Sayings known, std::string_view of);

/// Takes a place; a problem when nothing is so called.
std::optional<std::string> take_place(WordReader& words, const Circuit& circuit, std::string_view after);
/// Takes a part; invalid and a problem when none is so called.
PartId take_part(WordReader& words, const Circuit& circuit, std::string_view after);

}  // namespace voltfall
