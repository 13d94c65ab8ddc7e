// The sections that files have: one table of their words.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// Which file has the section.
enum class SectionOf { circuit, job };

enum class FileSection {
    parts,
    plugs,
    wires,
    controls,
    limits,
    reach,
    strip,
    care,
    together,
    closed,
    heat,
    readings,
    fitted,
    history,
    repaired,
    after,
};

/// "parts".
std::string_view section_word(FileSection section);

/// The section of that word, case as written.
std::optional<FileSection> section_named(std::string_view word);

/// The words of a file's sections, in the order of the table.
std::vector<std::string> words_of_sections(SectionOf file);
/// Of all files.
std::vector<std::string> words_of_sections();

/// Do its keys name places and figures with a point in them (`hi.amps`, `C101.4`), so that a table inside it is the
/// same as keys with points?
bool has_dotted_keys(std::string_view section);

}  // namespace voltfall
