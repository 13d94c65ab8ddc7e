// The answer of `faults`: what every fault of the catalogue would show to the driver and at the fuses, grouped by what
// it shows.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "engine/solve/jobs.hpp"
#include "engine/solve/settled.hpp"

namespace voltfall {

/// A fault of the catalogue at one of its sizes.
struct ListedFault {
    std::string fault;  ///< phrase without size
    std::optional<double> size;
    Unit unit{Unit::none};
    bool smallest{false};  ///< the least of the sizes tried
    bool largest{false};
};

/// What shows: a word for every state, and the fuses that open in any of them.
struct SymptomPattern {
    std::vector<std::pair<std::string, std::string>> seen;     ///< state -> words ("normal", "M1 slow, L1 out")
    std::vector<std::pair<std::string, std::string>> changed;  ///< the same of loads that go otherwise than sound ones
    std::vector<std::string> fuses;

    bool operator==(const SymptomPattern&) const = default;
};

struct SymptomGroup {
    SymptomPattern symptom;
    std::vector<ListedFault> faults;  ///< in the order of the catalogue, sizes rising
};

struct FaultsAnswer {
    std::string circuit;
    SymptomPattern healthy;
    std::vector<SymptomGroup> groups;  ///< in the order met; the unnoticed one (as healthy) last
    std::vector<std::string> notes;
};

/// Solves the whole catalogue, five sizes where a mode has sizes, in every state, to the end of its course. A case that
/// has no solution is a symptom of its own. A failure where the sound circuit has no solution in one of the states.
tl::expected<FaultsAnswer, SolveFailure> symptoms_of_catalogue(Simulator& simulator, const Circuit& circuit,
                                                               std::span<const State> states, int workers,
                                                               const ProgressReport& report);

/// The sizes tried: five from the least to the largest, evenly spread by ratio or by difference, two figures each.
std::vector<double> sizes_tried(const SizeRange& range);

}  // namespace voltfall
