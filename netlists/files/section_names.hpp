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

/// What is said of a word that is a section, where it stands as none: in another sort of file (`[parts]` in a job), or
/// as a key of this one (`history = [...]`). Empty where no section is so called.
std::string section_advice(std::string_view word, SectionOf file);

/// Are its keys names of the user's own, so that one that stands twice may be called otherwise?
bool names_are_free(std::string_view section);

/// Do its keys name places and figures with a point in them (`hi.amps`, `C101.4`), so that a table inside it is the
/// same as keys with points?
bool has_dotted_keys(std::string_view section);

}  // namespace voltfall
