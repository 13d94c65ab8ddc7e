// A way in which people say a thing, as a pattern with names of the circuit in it, and what it means as a phrase.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// What the names in a pattern turned out to be.
struct SpokenNames {
    PartId guard;          ///< of {guard}: it is what the line is about, whatever else it names
    PartId part;           ///< of {load}, {fuse}, {relay}, {two} or {part}
    PartId control;        ///< of {position}
    std::string position;  ///< of {position}, as the circuit writes it
    std::string text;      ///< of {place}, {point} or {plug}, as the circuit writes it; of {time} as typed
    PartId load;           ///< the load that the line means where it names none; invalid where it does not tell
    PartId named;          ///< the first part that the line names, itself or by one of its points
    std::size_t words{0};  ///< how many words the pattern took
};

/// Words as a few bits each, without regard to case: two sets that share no bit share no word.
class WordBits {
public:
    WordBits() = default;
    explicit WordBits(std::span<const Word> words);
    void add(std::string_view word);
    bool may_share(const WordBits& other) const;

private:
    std::array<std::uint64_t, 4> bits_{};
};

/// A pattern cut into its words, once: lines are held against hundreds of them. The text must outlive it.
class SpokenPattern {
public:
    struct Piece {
        bool optional{false};
        bool is_name{false};
        std::vector<std::string_view> said;  ///< the ways to say it, or the one name with its braces
    };
    explicit SpokenPattern(std::string_view text);
    std::span<const Piece> pieces() const { return pieces_; }
    /// False where a word that the pattern cannot do without is not among them: most patterns end here.
    bool may_stand_among(const WordBits& words) const;

private:
    std::vector<Piece> pieces_;
    std::vector<WordBits> needed_;  ///< of each word that must be said, the ways to say it
};

/// Patterns that stand between bars.
std::vector<SpokenPattern> cut_patterns(std::string_view said);

/// Does the pattern stand at `at`? Words of a pattern are parted by blanks, ways to say one by `/`; a word that ends in
/// `?` may be missing. Names: {load} {fuse} {relay} {battery} {part}, {two} (a part of two terminals), {limited} (one
/// with a thermal limiter), {place}, {point}, {plug}, {position}, {time}. Small words between ("a", "is", "just") are
/// passed over.
std::optional<SpokenNames> match_spoken(const Circuit& circuit, std::span<const Word> words, std::size_t at,
                                        const SpokenPattern& pattern);

/// The phrase that is meant, with the names put in; nullopt where one of them cannot be told. Beside those of patterns:
/// {load+} and {load-} (the joints of its feed and its return), {load wire} (the only wire at one of them), the same of
/// {it}, the load that is meant; {fuse in} and {fuse out}, {two 1} and {two 2}, {two points}; {relay coil} and {relay
/// contact} (two points), {relay 30}; {fuses …} and {new fuses …} with words of a fuse, {grounds across} (a line each);
/// {loads …} with words of a load (a line each); {named plug} (of what the line names), {part ends}, {command};
/// {limited ends} (of the only part with a limiter), {position out} (the contact that it closes), {wire 1} and {wire 2}
/// (its ends); {others} and {every} (positions that are on), {lower} (all of them but the last); {battery+} {battery-};
/// {grounds}.
std::optional<std::string> fill_spoken(const Circuit& circuit, std::string_view meant, const SpokenNames& names);

}  // namespace voltfall
