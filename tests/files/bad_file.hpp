// Files that people get wrong, as rows: a sound file with one piece exchanged, and what must be said of it.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace voltfall::testing {

/// The sound file that a row changes: tests/files/bench.toml, bench.job.toml, bench.lesson.toml or bench.csv.
enum class SoundFile { circuit, job, lesson, wire_list };

/// One row. The problem stands where the exchanged piece begins.
struct BadFile {
    SoundFile file{};
    std::string_view piece;  ///< of the sound file, where it first stands
    std::string_view typed;  ///< what stands there instead
    std::string_view told;   ///< stands in the message or the suggestion of an error on that line
    int lines_on{0};         ///< the problem stands so many lines below the beginning of the piece
};

/// Rows that differ in why the file is bad.
struct BadKind {
    std::string_view name;
    std::span<const BadFile> rows;
};

// One file a kind.
std::span<const BadFile> impossible_figures();
std::span<const BadFile> half_phrases();
std::span<const BadFile> wrong_words();
std::span<const BadFile> strange_characters();
std::span<const BadFile> slips_in_circuits();
std::span<const BadFile> slips_in_jobs();
std::span<const BadFile> slips_in_lists();
std::span<const BadFile> slips_in_states();
std::span<const BadFile> slips_in_lessons();
std::span<const BadFile> slips_in_electronics();
std::span<const BadFile> slips_of_hands();
std::span<const BadFile> slips_in_lines();
std::span<const BadFile> slips_in_parts();

/// A file that must pass, made in the same way.
struct GoodFile {
    SoundFile file{};
    std::string_view piece;
    std::string_view typed;
    std::string_view why;
};
std::span<const GoodFile> good_files();

/// The text of the sound file, and with a piece exchanged. The piece must stand in it.
std::string sound_text(SoundFile file);
std::string changed_text(SoundFile file, std::string_view piece, std::string_view typed);
/// The line, from 1, on which the piece begins in the sound file.
int line_of(SoundFile file, std::string_view piece);

/// A folder with the sound files in it, gone at the end of its life.
class Bench {
public:
    Bench();
    ~Bench();
    Bench(const Bench&) = delete;
    Bench& operator=(const Bench&) = delete;
    /// Writes a file there and gives its path.
    std::string write(SoundFile file, const std::string& text) const;
    std::string write(std::string_view name, const std::string& text) const;

private:
    std::string folder_;
};

}  // namespace voltfall::testing
