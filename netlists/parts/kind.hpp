// A kind of part is one row of one table. One file a kind: its line, terminals, branches, fault modes.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/tables/figure_bounds.hpp"

namespace voltfall {

class PartReader;
class Layout;

/// Does the part push into a socket whose contacts can fail by themselves?
enum class Fitting { wired, plugs_in };

/// Where words of the user's own may stand in the line: `motor 20A, left`, `ground left cowl stud`.
enum class FreeText { after_comma, anywhere };

/// What does nothing but join wires, and how.
enum class Joining {
    nothing,
    cavities,  ///< a connector: the wires of each cavity meet half by half
    legs,      ///< a splice: all its wires meet
    metal,     ///< a ground: its wires meet the vehicle's metal
};

/// What a circuit looks for among its parts.
enum class Duty {
    other,
    battery,         ///< the supply
    key,             ///< turned by the driver: follows the state's key
    control,         ///< set by a person: a control unless [controls] says otherwise
    acting_contact,  ///< moved by pressure or heat
};

/// Volts over a sound part while current flows.
enum class Drop { none, by_design };

/// A field without a default must be stated: the presets make its absence an error.
struct Kind {
    std::string_view word;     ///< first word of the line: "motor"
    std::string_view example;  ///< a whole line, for messages
    Fitting fitting;
    Joining joining;
    Duty duty;
    Drop drop;
    LoadKind load;                ///< what a person calls it by ear or eye
    std::string_view load_words;  ///< words of a reading that may mean it: "blower fan"
    /// Reads the rest of the line into the part; problems go to the reader.
    void (*read)(PartReader& reader, Part& part);
    /// Terminal names the part has; empty for what only joins: those have any.
    std::vector<std::string> (*terminals)(const Part& part);
    /// Other ways to write its terminals, as "A=1 K=2". Numbers are those of DIN 72552 (studylib.net/doc/18037421,
    /// ilexa.co.uk, w126-archiv.mercedesforen.de; relays by 1 to 5: common practice): 30 battery, 15 switched by the
    /// key, 31 return, 33 and 32 of motors, 53 of wiper motors, 54 to 58 of lamps, 81 and 82 of switches that break and
    /// make, 85 to 88 of relays.
    std::string_view terminal_aliases;
    /// Lays joints and branches and declares the fault modes.
    void (*lay)(const Part& part, Layout& layout);
    std::span<const FigureBounds>
        figures;  ///< what each of its figures can be; a figure in one of two units has two rows
    FreeText free_text{FreeText::after_comma};
    std::string_view terminals_called{"terminals"};  ///< in messages: "taps", "contacts"
};

/// What a kind states of itself where it is nothing to look at: no load, no control, and joins nothing.
struct PassiveLine {
    std::string_view word;
    std::string_view example;
    Fitting fitting;
    Drop drop;
    void (*read)(PartReader& reader, Part& part);
    std::vector<std::string> (*terminals)(const Part& part);
    std::string_view terminal_aliases;
    void (*lay)(const Part& part, Layout& layout);
    std::span<const FigureBounds> figures;
};

/// The row of such a kind: fuses, diodes, potentiometers.
constexpr Kind passive_kind(const PassiveLine& line) {
    return {
        .word = line.word,
        .example = line.example,
        .fitting = line.fitting,
        .joining = Joining::nothing,
        .duty = Duty::other,
        .drop = line.drop,
        .load = LoadKind::none,
        .load_words = "",
        .read = line.read,
        .terminals = line.terminals,
        .terminal_aliases = line.terminal_aliases,
        .lay = line.lay,
        .figures = line.figures,
    };
}

/// "1" and "2", as most parts have them.
std::vector<std::string> two_terminals(const Part& part);

/// Facts of a part's kind; a part without a kind has none of them.
inline bool joins(const Part& part, Joining how) {
    return part.kind && part.kind->joining == how;
}
inline bool only_joins(const Part& part) {
    return part.kind && part.kind->joining != Joining::nothing;
}
inline bool has_duty(const Part& part, Duty duty) {
    return part.kind && part.kind->duty == duty;
}
inline bool drops_by_design(const Part& part) {
    return part.kind && part.kind->drop == Drop::by_design;
}

/// The rows, in the order of files.md.
std::span<const Kind> kinds();
/// The row of that word, or null.
const Kind* find_kind(std::string_view word);
/// All kind words, for suggestions.
std::vector<std::string> kind_words();

/// What a figure of the kind can be, or null.
const FigureBounds* find_figure(const Kind& kind, std::string_view figure, Unit unit);
/// The same; throws std::logic_error where the kind states none, for then the program and not the person is wrong.
const FigureBounds& figure_bounds(const Kind& kind, std::string_view figure, Unit unit);
/// Has the kind any figure in that unit?
bool has_figure_in(const Kind& kind, Unit unit);

/// The terminal as the part names it (case and aliases folded), or empty when it has none of that name. Parts that
/// only join give the typed text back.
std::string canonical_terminal(const Part& part, std::string_view typed);

}  // namespace voltfall
