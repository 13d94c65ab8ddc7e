// "Did you mean …": the nearest known word.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace voltfall {

/// Letters folded to lower case (ASCII only).
std::string lower(std::string_view text);

/// Equality of texts of one length without regard to ASCII case.
bool same_letters(std::string_view a, std::string_view b);

/// Equality without regard to ASCII case. Most words differ in length already, and names are compared by the thousand.
inline bool same_word(std::string_view a, std::string_view b) {
    return a.size() == b.size() && same_letters(a, b);
}

/// Optimal string alignment distance (insert, delete, change, swap of neighbours), case folded.
std::size_t edit_distance(std::string_view a, std::string_view b);

/// The same as far as `most`: anything above it where the words differ by more.
std::size_t edit_distance_within(std::string_view a, std::string_view b, std::size_t most);

/// The known word nearest to a typed one, or empty when none is near enough (more than a third of the
/// letters, and more than two, differ; of words up to three letters, more than one). Of equally near ones a word of the
/// same length is taken, else the first. A word that only looks like a known one (Cyrillic, Greek letters) is that one.
std::string nearest(std::string_view typed, std::span<const std::string> known);

/// "did you mean 'x'?", and the letter of another script that makes the difference; empty when nothing is near.
std::string did_you_mean(std::string_view typed, std::span<const std::string> known);

/// The same; where nothing is near, the first of the known words: "known are B1, F7, M1 and 8 more".
std::string did_you_mean_or_known(std::string_view typed, std::span<const std::string> known);

}  // namespace voltfall
