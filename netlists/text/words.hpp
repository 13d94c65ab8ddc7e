// A typed phrase cut into words that still know where they stand.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/text/problem.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

/// A piece of text a person typed, with the place of its first character.
struct TypedText {
    std::string text;
    SourcePlace place;

    /// A phrase of the command line: `origin` stands for the file ("--fault").
    static TypedText argument(std::string_view origin, std::string_view text);
};

/// One word of a phrase. Blanks and commas separate words; a comma inside a number with a unit (`2,5mm2`)
/// is a decimal comma; a number followed by a blank and a unit (`0.3 ohm`) is one word; text in double
/// quotes is one word (`quoted`). Offsets count characters from the start of the phrase. Numbers keep their text as
/// typed; marked numbers and ranges (`@13,5V`, `3,2-4,1 A`) have no measure of their own: their text has points for
/// decimal commas and its unit at the end (`3.2-4.1A`).
struct Word {
    std::string text;
    int offset{0};
    int length{0};
    bool quoted{false};
    bool after_comma{false};         ///< a comma stands before it
    std::optional<Measure> measure;  ///< when the word is a number, with or without a unit

    /// Is it one of these, without regard to case? What stands in quotes is none.
    bool is_among(std::span<const std::string_view> list) const;
};

/// Cuts a phrase into words. Typographic quotes, dashes and no-break spaces are reported as such in
/// `problems` and read as the plain character. `#` outside quotes starts a note, which is left out.
std::vector<Word> cut_words(const TypedText& phrase, Problems& problems);
/// The same of a text whose problems are told elsewhere, or not at all.
std::vector<Word> cut_words(std::string_view text);

/// Reads words one after the other and remembers what was used.
class WordReader {
public:
    WordReader(const TypedText& phrase, Problems& problems);

    const TypedText& phrase() const { return phrase_; }
    Problems& problems() const { return problems_; }

    bool at_end() const { return next_ >= words_.size(); }
    const Word* peek(std::size_t ahead = 0) const;
    const Word& take();
    /// Takes the next word when it equals `word` without regard to case.
    bool take_if(std::string_view word);
    /// Takes the next word when it is a number of that unit.
    std::optional<Measure> take_measure(Unit unit);

    std::size_t position() const { return next_; }
    void rewind(std::size_t position) { next_ = position; }
    std::span<const Word> rest() const { return std::span(words_).subspan(next_); }

    /// The place of a word, for a problem about it; the end of the phrase when there is none.
    SourcePlace place(const Word* word) const;
    SourcePlace place() const { return place(peek()); }
    /// Tells an error at a word; at the end of the phrase when there is none.
    void error(ProblemCode code, const Word* word, std::string message, std::string suggestion = {});

private:
    TypedText phrase_;
    Problems& problems_;
    std::vector<Word> words_;
    std::size_t next_{0};
};

}  // namespace voltfall
