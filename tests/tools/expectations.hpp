// What was found on cases whose cause is known: the rows of a folder's expect.csv.
#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <tl/expected.hpp>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

/// One row of expect.csv.
struct ExpectedRow {
    std::filesystem::path folder;
    std::string id;
    std::string places;  ///< fault phrases, `|` between equals
    std::string evidence;
    std::string circuit;  ///< file of its circuit
    std::string cause;    ///< kind of cause
    std::string certainty;
};

struct Skipped {
    std::string what;
    std::string why;
};

/// The rows of the folder's expect.csv; what cannot be used is added to `skipped` with the reason.
std::vector<ExpectedRow> read_expectations(const std::filesystem::path& folder, std::vector<Skipped>& skipped);

/// The faults, as phrases without size in small letters, that the patterns of a row mean; or which pattern means none.
tl::expected<std::set<std::string>, std::string> faults_expected(const Circuit& circuit, std::string_view patterns);

/// Where those faults are mended.
std::set<std::string> places_of(const Circuit& circuit, const std::set<std::string>& faults);

}  // namespace voltfall
