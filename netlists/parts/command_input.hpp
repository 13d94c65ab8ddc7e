// How electronics read their command, and what they do when there is none.
#pragma once

#include <optional>
#include <string_view>

#include "netlists/parts/layout.hpp"
#include "netlists/parts/part_reader.hpp"

namespace voltfall {

/// What the command wire carries. Volts and duty are what an ordinary meter shows of it: the mean volts, for a duty its
/// share of the supply.
enum class CommandBy { volts, duty, bus };

/// The two ends of a command: at `low` the output is at its least, at `high` at its full; the other way round where it
/// is inverse. Volts, or a share of the supply.
struct CommandRange {
    CommandBy by{CommandBy::volts};
    double low{};
    double high{};
    bool inverse{false};
    double least_share{0};  ///< output at the lower end, as a share of full
    double lost_share{0};   ///< output when the command is beyond both ends or absent
};

/// What a command of these volts asks for, as a share of full output. `level` is what its driver switches, near the
/// battery's volts: a part measures times, and is not misled by a drop in its own feed. Volts below the lower end turn
/// it off; volts above the upper end by more than a tenth of the range are no command. A duty outside its range is
/// none, on either side; the mean volts of a bus are none outside `bus_idle_below` and `bus_busy_above`.
double commanded_share(const CommandRange& range, double command_volts, double level);

/// Mean volts of a talking bus over its supply, for a command of nought and of full (ASSUMED: the wire rests at the
/// supply and is pulled down for a quarter to a half of the time).
inline constexpr double bus_share_at_nought = 0.55;
inline constexpr double bus_share_at_full = 0.75;
/// Mean volts outside these shares of the supply are no talk: a wire at rest, or a dead one (ASSUMED).
inline constexpr double bus_busy_above = 0.45;
inline constexpr double bus_idle_below = 0.85;

/// Figures of a command that a kind lists among its own.
#define VOLTFALL_COMMAND_FIGURES(kind)                                                                          \
    {kind, "command low", Unit::volt, 0, most_supply}, {kind, "command low", Unit::percent, 0, 1},              \
        {kind, "command high", Unit::volt, 0.1, most_supply}, {kind, "command high", Unit::percent, 0.01, 1}, { \
        kind, "input ohms", Unit::ohm, 100, 1e6                                                                 \
    }

/// Reads `command 0.5V-7V`, `command 7%-94% inverse`, `command bus`, then `open command off|full|limp` and `pulls
/// up|down`. What is not said is by volts from 0.5 V to 4.5 V, and off when the command is lost.
void read_command(PartReader& reader, Part& part);
/// The range that `read_command` has read.
CommandRange command_range(const Part& part);

/// The joints and faults of a command input.
struct CommandWire {
    JointId inside;  ///< what the electronics see
    BranchId input;  ///< from the pin to there
};
/// Lays the input between `CMD` and the supply pins, with its pull, and its faults: `no-command-seen`,
/// `command shorted-low`, `command shorted-high`.
CommandWire lay_command(const Part& part, Layout& layout, JointId plus, JointId minus);

/// A sound supply for electronics of the circuit's system, volts (`electronics_live`).
double least_working_volts(const Circuit& circuit);

}  // namespace voltfall
