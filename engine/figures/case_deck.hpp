// The answer of `deck`: the SPICE file of one case, and which node is which place.
#pragma once

#include <span>
#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "engine/solve/settled.hpp"

namespace voltfall {

/// Before anything opens, or when the case is over.
enum class DeckMoment { faulted, after };

struct DeckAnswer {
    std::vector<std::string> faults;  ///< phrases with their sizes
    std::string state;
    std::string at;                                          ///< "faulted" or "after"
    std::string file;                                        ///< where the deck was written; empty: it is in the answer
    std::vector<std::pair<std::string, std::string>> nodes;  ///< place -> node of the deck ("n12", "0")
    std::string deck;                                        ///< the file's text
};

/// Solves the case and writes its deck. `file` is left empty.
tl::expected<DeckAnswer, SolveFailure> case_deck(Simulator& simulator, const Circuit& circuit, const State& state,
                                                 std::span<const Fault> faults, DeckMoment moment);

}  // namespace voltfall
