// What a test costs: minutes of the hand, and strip-down that is paid once.
#pragma once

#include <string>
#include <vector>

#include "engine/planning/test_candidates.hpp"

namespace voltfall {

/// What the job's readings have opened or reached already: places, and strip groups.
std::vector<std::string> reached_places(const Circuit& circuit, const Job& job);

/// What must be reached to get at a place: "C101.4" by way of C101, a wire by its nearer end.
std::string reach_place(const Circuit& circuit, const std::string& place);
/// Adds a reached place and what its strip-down opens besides.
void add_reached(const Circuit& circuit, const std::string& place, std::vector<std::string>& reached);

/// Strip-down that a test needs and that is not done yet: paid once, whatever is measured behind it.
struct Opening {
    std::string name;  ///< of a strip-down that opens several places, else the place
    double minutes{};
    bool known{true};  ///< by [reach] or [strip]
};
std::vector<Opening> openings_of(const Circuit& circuit, const TestCandidate& test,
                                 const std::vector<std::string>& reached);

/// Minutes of a test, there and back once, and notes where they are guessed.
struct TestMinutes {
    double minutes{};
    std::vector<std::string> notes;
};
TestMinutes minutes_of(const Circuit& circuit, const TestCandidate& test, const std::vector<std::string>& reached);

}  // namespace voltfall
