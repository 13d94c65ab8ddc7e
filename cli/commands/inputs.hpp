// What a command works on: the circuit or job of its FILE, and the phrases of its options.
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "cli/commands/console.hpp"
#include "cli/commands/options.hpp"
#include "engine/figures/circuit_figures.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/state.hpp"
#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/files/typed_file.hpp"

namespace voltfall {

struct Input {
    std::shared_ptr<const Circuit> circuit;
    Job job;  ///< without readings when FILE is a circuit
};

/// The job with the workshop's own instruments (of the settings), where it names none.
Job with_own_tools(Job job, const Console& console);

/// Reads FILE: a circuit, a job, or `-` for either on stdin. Its problems go to stderr. Returns nullopt when it has
/// errors.
std::optional<Input> load_input(const std::string& file, const Console& console);
std::optional<Input> load_input(const TypedFile& file, const Console& console);

/// Adds the readings of --read-from, then those of --read, to the job. Returns nullopt when all were read; else, with
/// the problems on stderr, the status to end with: of a file with errors, or of wrong usage.
std::optional<ExitStatus> add_typed_readings(const TypedReadings& reads, const Console& console, Input& input);
/// The options that give the same readings again: ` --read "hi M1.1 to B1- 10.3V"`.
std::string options_of(const TypedReadings& reads);

/// Puts instruments (--tools) in place of the job's, where any are typed. Returns false, with the problems on
/// stderr, when one cannot be read.
bool set_typed_tools(const std::vector<std::string>& tools, const Console& console, Input& input);

/// The faults of --fault. Returns nullopt, with the problems on stderr, when one cannot be read.
std::optional<std::vector<Fault>> typed_faults(const std::vector<std::string>& phrases, const Console& console,
                                               const Circuit& circuit);

/// The states of --state, or the default ones where none is given. Returns nullopt, with the problems on stderr, when
/// one cannot be read.
std::optional<std::vector<State>> typed_states(const std::vector<std::string>& phrases, const Console& console,
                                               const Circuit& circuit);

/// The one state of --state, or the last of the default ones (a blower's highest speed) where none is given. Returns
/// nullopt, with the reason on stderr, when it cannot be read or names several.
std::optional<State> typed_state(const std::vector<std::string>& phrases, const Console& console,
                                 const Circuit& circuit);

/// Joints and wires of --points; a name of both means the joint. Returns nullopt, with the problems on stderr, when one
/// is unknown.
std::optional<PointChoice> typed_points(const std::vector<std::string>& lists, const Console& console,
                                        const Circuit& circuit);

/// Says what could not be computed, with the faults and the state by name; the status to end with.
ExitStatus cannot_compute(const Console& console, const SolveFailure& failure, const std::vector<Fault>& faults,
                          const Circuit& circuit, const std::string& state);
/// The same of the healthy circuit in one of the states asked for.
ExitStatus cannot_compute(const Console& console, const SolveFailure& failure);

/// The threads to solve with: as asked for, else one a core.
int workers_of(const Console& console);

}  // namespace voltfall
