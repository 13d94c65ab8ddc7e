// The file of a job that begins.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"

namespace voltfall {

struct JobStart {
    std::string circuit_path;  ///< as the job names it
    std::string concern;       ///< in the customer's words
    std::string number;        ///< of the order; may be empty
};

/// The text of the job's file: it reads without errors and has no reading yet. What the concern may mean stands in it
/// as lines behind a `#`, to be typed when it has been seen.
std::string job_draft(const Circuit& circuit, const JobStart& start);

/// The readings that a customer's words may stand for, as phrases of this circuit: "lo,ml,mh  blower dead". Empty where
/// nothing is recognised.
std::vector<std::string> readings_meant(const Circuit& circuit, std::string_view concern);

}  // namespace voltfall
