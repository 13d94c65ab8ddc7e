// What a command works on: the circuit or job of its FILE, and the phrases of its options.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "cli/commands/arguments.hpp"
#include "cli/commands/console.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/state.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

struct Input {
    std::shared_ptr<const Circuit> circuit;
    Job job;  ///< without readings when FILE is a circuit
};

/// Reads FILE: a circuit, a job, or `-` for a circuit on stdin. Its problems go to stderr; nothing when it has errors.
std::optional<Input> load_input(const Arguments& arguments, const Console& console);

/// Adds the readings of --read to the job. False, and the problems on stderr, when one cannot be read.
bool add_typed_readings(const Arguments& arguments, const Console& console, Input& input);

/// Puts the instruments of --tools in place of the job's. False, and the problems on stderr, when one cannot be read.
bool set_typed_tools(const Arguments& arguments, const Console& console, Input& input);

/// The faults of --fault. Nothing, and the problems on stderr, when one cannot be read.
std::optional<std::vector<Fault>> typed_faults(const Arguments& arguments, const Console& console,
                                               const Circuit& circuit);

/// The states of --state, or the default ones where none is given.
std::optional<std::vector<State>> typed_states(const Arguments& arguments, const Console& console,
                                               const Circuit& circuit);

/// Says what could not be computed, with the faults and the state by name; the status to end with.
ExitStatus cannot_compute(const Console& console, const SolveFailure& failure, const std::vector<std::string>& faults,
                          const std::string& state);

/// The processes to solve with: as asked for, else one a core.
int workers_of(const Arguments& arguments);

/// Phrases of faults for answers and messages.
std::vector<std::string> fault_phrases(const Circuit& circuit, const std::vector<Fault>& faults);

}  // namespace voltfall
