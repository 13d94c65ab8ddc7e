// A case whose answer cannot be right: what to tell, and the case itself for whoever mends the program.
#pragma once

#include <stdexcept>
#include <string>

#include "engine/solve/simulator.hpp"

namespace voltfall {

/// Thrown where an answer breaks a law of physics or two solvers disagree: a bug of the program, never a fault of the
/// circuit.
class UnsoundCase : public std::logic_error {
public:
    UnsoundCase(const std::string& what, std::string report);
    /// The same case, with more words about it.
    UnsoundCase(const UnsoundCase& of, const std::string& more_words);
    /// The case as text, to be sent with a report: a table of joints, then the deck that `ngspice -b` solves.
    const std::string& report() const { return report_; }

private:
    std::string report_;
};

/// The case for a report. `others` are the volts of a second solver by joint, or empty.
std::string describe_case(const Network& network, const OperatingPoint& point, std::span<const double> others);

}  // namespace voltfall
