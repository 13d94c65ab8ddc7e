// A circuit while its file is read, and the questions that every section asks of it.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/tables/colours.hpp"

namespace voltfall {

/// Most parts and wires of one circuit.
inline constexpr std::size_t most_parts = 2000;
inline constexpr std::size_t most_wires = 4000;
/// Longest name of a part, plug or wire, in characters.
inline constexpr int longest_name = 60;

struct CircuitDraft {
    explicit CircuitDraft(Problems& to) : problems(to) {}

    Circuit circuit;
    Problems& problems;
    bool laid{false};                          ///< joints and branches exist
    const ColourTable* colour_table{nullptr};  ///< that the file names; null: none, or one that is not built in
    bool foreign_colours{false};               ///< the file names a table that is not built in: colours are text
    std::map<std::string, PartId> parts;       ///< by name in lower case
    std::map<std::string, PartId> plugs;       ///< connector of [plugs] in lower case -> part
    std::set<std::string> wires;               ///< names and numbers in lower case
    std::set<std::string> lost;  ///< names whose own lines have mistakes: used elsewhere without complaint
    bool plug_unnamed{false};    ///< a line of [plugs] does not say its name: a plug's name elsewhere may be that
    std::set<PartId> doubtful;   ///< parts read with mistakes: their terminals are not known for sure
    struct Unknown {
        std::string name;
        SourcePlace place;
        int more{0};
    };
    std::vector<Unknown> unknown;                                    ///< in the order found
    std::map<std::pair<PartId, std::string>, std::string> cavities;  ///< lower-case terminal -> as first written

    PartId part_named(std::string_view name) const;
    PartId plug_named(std::string_view name) const;
    bool is_lost(std::string_view name) const;
    void lose(std::string_view name);
    /// `C304` where other plugs are C303 and C305.
    bool is_made_like_a_plug(std::string_view name) const;
    /// Notes a name that no part or plug has; one problem a name, however often it stands in the wires.
    void note_unknown(std::string_view name, const SourcePlace& where);
    /// Reports the names noted so far.
    void report_unknown();
    /// Names of parts and plugs, for suggestions.
    std::vector<std::string> names() const;

    /// The text of an entry; a value of another type is reported with `example`.
    std::optional<TypedText> text_of(const TomlEntry& entry, std::string_view example);
    /// Letters, digits, `_`, `-`, `/`, and no word of the supply; otherwise reported.
    bool check_name(const TomlEntry& entry, std::string_view what);
    /// The place that an entry's key or a word names, as the circuit writes it; unknown ones are reported.
    std::optional<std::string> place_named(std::string_view typed, const SourcePlace& where);
};

/// The entry's value as a person would say it: "the number 12".
std::string value_words(const TomlEntry& entry);

}  // namespace voltfall
