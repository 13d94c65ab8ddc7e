// The answer of `faults`: the catalogue, grouped by what the driver and the fuses would show.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/views/text_page.hpp"
#include "netlists/text/quantity.hpp"

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
    std::vector<std::pair<std::string, std::string>> seen;  ///< state -> word ("normal", "M1 slow, A1 dead")
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

std::string faults_text(const FaultsAnswer& answer, PageStyle style);
std::string faults_json(const FaultsAnswer& answer);
std::string faults_plain(const FaultsAnswer& answer);

}  // namespace voltfall
