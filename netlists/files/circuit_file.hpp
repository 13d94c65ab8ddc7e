// Reads a circuit file. All problems of one run; what can be read is read.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <string_view>

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/toml_file.hpp"

namespace voltfall {

/// The circuit is null when the file has errors.
struct CircuitReading {
    std::shared_ptr<const Circuit> circuit;
    Problems problems;
};

/// Gives the circuit that stands at a path. Who reads many jobs of one circuit hands over one that keeps it.
using CircuitSource = std::function<CircuitReading(const std::string& path)>;

/// Reads and builds a circuit from a file on disk. A missing or unreadable file is a problem, not an exception.
CircuitReading read_circuit_file(const std::string& path);
/// The same from text; `file` names it in problems.
CircuitReading read_circuit_text(std::string_view text, const std::string& file);
/// The same from a file that is cut into entries; `problems` has those of its syntax.
CircuitReading read_circuit(const TomlFile& file, Problems problems);

}  // namespace voltfall
