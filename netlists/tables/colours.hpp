// Colours of wires: the letters of published tables and what they mean. The sources stand beside each table.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall {

/// Letters and the colour that they stand for.
struct ColourCode {
    std::string_view letters;
    std::string_view colour;  ///< "red", "light green"
};

/// One published table.
struct ColourTable {
    std::string_view name;  ///< "IEC 60757", "german"
    std::span<const ColourCode> codes;
    /// Are single letters joined by nothing, as in `NW`? Where a table also has codes of two letters that begin alike,
    /// the longer one is read.
    bool joins_single_letters{false};
};

/// The tables, IEC 60757 first.
std::span<const ColourTable> colour_tables();
/// The table of that name, case and blanks aside; null where none has it.
const ColourTable* find_colour_table(std::string_view name);
/// All names, for suggestions.
std::vector<std::string> colour_table_names();

/// What typed letters mean.
struct ColourMeaning {
    std::string words;    ///< "red with blue"; empty where no table knows the letters, or tables differ
    std::string unclear;  ///< the letters in which tables differ, as typed; else empty
    struct Choice {
        std::string colour;  ///< "grey"
        std::string tables;  ///< "german, japanese, swedish"
        std::string iec;     ///< the IEC 60757 letters of it, or its name where IEC 60757 has none
    };
    std::vector<Choice> choices;  ///< what `unclear` may be, in the order of the tables
};

/// Reads a colour as typed: letters or a colour's name (`RD`, `white`, `LT GN`), up to three of them joined by `/`, `-`
/// or, for codes of two letters, nothing (`RDBU`). With a table its letters win, and what it does not know is read by
/// IEC 60757. Without one IEC 60757 wins, then every table is asked.
ColourMeaning colour_meaning(std::string_view typed, const ColourTable* table = nullptr);

}  // namespace voltfall
