// What matching answers: plain data for the views.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "netlists/text/quantity.hpp"

namespace voltfall {

struct SizeEstimate {
    double best{};
    double low{};
    double high{};
    Unit unit{Unit::none};
};

/// What may have broken the candidate's thing: its share of the ways in which it came to that.
struct LikelyCause {
    std::string fault;  ///< phrase without size: "M1 drag"
    std::string place;  ///< "M1"
    double probability{};
};
/// What the candidate's fault has broken.
struct BrokenThing {
    std::string fault;  ///< "R1 limiter open"
    std::string place;  ///< "R1"
};
inline std::vector<std::string> phrases_of(const std::vector<BrokenThing>& victims) {
    std::vector<std::string> phrases;
    for (const BrokenThing& victim : victims) phrases.push_back(victim.fault);
    return phrases;
}

struct Candidate {
    std::string fault;  ///< phrase without size
    std::string place;
    std::string mode;
    bool nothing{false};  ///< no fault in the circuit
    double probability{};
    std::optional<SizeEstimate> size;
    std::optional<SizeEstimate> where;  ///< share of the wire's length
    std::vector<std::string> because;
    std::vector<std::string> against;
    std::vector<LikelyCause> caused_by;
    std::vector<BrokenThing> led_to;        ///< what it has done besides, if these readings are to fit
    std::vector<std::string> alike_so_far;  ///< faults that these readings cannot tell from this one
    std::vector<std::string> same_as;       ///< faults that no permitted probe in any state can
    std::string repair;                     ///< what would be repaired
};

struct Doubt {
    std::string reading;
    double probability{};
};
struct RuledOut {
    std::string fault;
    std::string by;
};

/// Two independent faults, each with its likeliest size: "R1 limiter open", "G201 resistance 0.15ohm".
struct FaultPair {
    std::array<std::string, 2> faults;
    std::array<std::string, 2> repairs;
    double probability{};
    std::array<std::string, 2> modes{};  ///< phrases without sizes
    double of_repairs{};                 ///< of all pairs that the same two repairs mend; 0 behind the first of them
};

/// What one visit mends, with what may be wrong there.
struct RepairChance {
    std::string place;                ///< "C101", "M1", "M1 terminals", "542"; "nothing"
    bool nothing{false};              ///< the sound circuit
    std::string reached_with;         ///< the part, plug or wire whose minutes count: "M1" of "M1 terminals"
    double probability{};             ///< of all its faults together, 0 to 1
    std::vector<std::string> faults;  ///< the likeliest first; not all where there are many
};

/// One reading, and what two suspects would have read there.
struct ContrastRow {
    std::string reading;  ///< its number
    std::string asked;    ///< the test: "hi  M1.1 to B1-"
    std::string read;     ///< as typed
    std::string first;    ///< what the first suspect would read: "10.21 V"; of words: expected, not expected
    std::string second;
    bool speaks_for_first{true};
};
/// The leading suspect beside the next one that the readings part from it.
struct Contrast {
    std::string first;  ///< phrases without size
    std::string second;
    std::vector<ContrastRow> rows;  ///< the strongest first
};

struct MatchAnswer {
    int readings{};
    std::vector<RepairChance> places;   ///< the likeliest first
    std::vector<Candidate> candidates;  ///< most probable first; `nothing` is one of them
    double none_of_these{};
    std::vector<Doubt> doubtful;
    std::vector<RuledOut> ruled_out;
    std::vector<std::string> notes;  ///< supply unknown, readings not weighed yet, reach unknown …
    std::optional<Contrast> contrast;
    bool supply_unknown{false};
    bool pairs_asked{false};
    std::vector<FaultPair> pairs;  ///< most probable first, where two faults were asked for
};

}  // namespace voltfall
