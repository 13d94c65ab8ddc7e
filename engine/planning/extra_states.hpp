// States beside the circuit's own positions in which a measurement can tell what no plain one does.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"

namespace voltfall {

struct ExtraState {
    StatePhrase phrase;
    State state;
    enum class Kind {
        load_in_place,  ///< a load's plug is off, a bulb or coil of known watts draws current in its stead
        lamp_in_seat,   ///< a lamp stands in a blown fuse's place: it limits what a short may draw
        new_fuse,       ///< a fuse of the same rating, fitted once and watched
        like_relay,     ///< another relay of the same kind in its socket
        wiggled,        ///< somebody moves the harness there
        made,           ///< a condition that may bring about what comes and goes
    } kind{};
    VoltsTest volts;                  ///< what is measured with a load or lamp in: "across F7", "C304.1 to C304.2"
    PartId fitted;                    ///< the new fuse, the other relay
    std::vector<std::string> places;  ///< what must be reached for the state and the probe
    double minutes{};                 ///< for the state, beyond strip-down
    std::optional<Trigger> makes{};   ///< the condition made
};

/// For loads that plug in, where the job has a `load` at hand; for fuses that the job found blown, or that surely are:
/// a lamp in the seat, first with everything plugged in and then with each plug or connector off in turn, and after
/// that a new fuse. Relays that are suspected are changed for a like one. Where the job tells of a fault that comes and
/// goes, places that may be loose are wiggled. Nothing that smoked is fed.
std::vector<ExtraState> extra_states(Simulator& simulator, const Circuit& circuit, const Job& job,
                                     const Weighed& weighed);

/// A place that is felt with the load on, in the position that sends most through it.
struct FeltPlace {
    StatePhrase phrase;
    std::string place;  ///< "C304", "F7"
};

/// Places at which a poor contact is likely enough, that can be reached and that nobody has felt yet.
std::vector<FeltPlace> felt_places(Simulator& simulator, const Circuit& circuit, const Job& job,
                                   const Weighed& weighed);

/// Does the job say that the fuse is blown, now or again and again, by a look or by the supply's volts across it? Which
/// fuses stand open in a reading is stricter (`readings/found_fuses`): one that blows sometimes is whole in between.
bool found_blown(const Circuit& circuit, const Job& job, PartId fuse);

/// Is the tool among the job's? A job without the line has meter, clamp and lamp.
bool has_tool(const Job& job, const std::string& name);

}  // namespace voltfall
