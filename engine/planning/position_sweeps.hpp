// A control turned through its positions while one watches a load: one look, though it is a reading a position.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "engine/planning/outcomes.hpp"
#include "engine/planning/outlook.hpp"

namespace voltfall {

/// The looks at one load in the positions of one control that the job does not tell of yet, as one test.
struct PositionSweep {
    std::vector<std::size_t> tests;  ///< of the outlook's future, in the order of the positions; two at least
    Test test;                       ///< "lo,ml,mh,hi  blower"
    double bits{};                   ///< that all of them tell together of what must be repaired
};

/// Every sweep that the circuit's own states allow, by load and control. A control of more positions than a person
/// keeps in mind is turned through the first of them.
std::vector<PositionSweep> position_sweeps(const Outlook& outlook);

/// What the suspect shows in each position of the sweep: "dead in lo, ml, normal in mh, hi"; one word where it is the
/// same in all.
std::string sweep_expected(const Outlook& outlook, const PositionSweep& sweep, std::size_t suspect);

/// What a person may see in the positions, as the outcomes of one test, labelled as in `sweep_expected`; those with
/// less than `least` of the standings' weight are one, "anything else".
Outcomes sweep_outcomes(const Outlook& outlook, const PositionSweep& sweep, double least);
inline constexpr std::string_view other_patterns = "anything else";

/// The sweep that is done before any other test: it takes no minutes and tells as much a minute as the test that saves
/// most. The same rule puts it first in `next`.
std::optional<PositionSweep> leading_sweep(const Outlook& outlook);

/// What is to be read before the switch is turned, each line once; of the times that a position may stay on the
/// shortest.
std::vector<std::string> sweep_cautions(const Outlook& outlook, const PositionSweep& sweep);

/// The outcome of a test with words that the suspect makes likeliest.
std::string word_expected(const Outlook& outlook, const TestCandidate& test, std::size_t suspect);

}  // namespace voltfall
