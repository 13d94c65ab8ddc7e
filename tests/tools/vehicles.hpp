// Vehicles with faults drawn at random, worked by a truthful technician who takes the proposed tests until the tool
// says stop.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/files/job_file.hpp"

namespace voltfall {

/// How one vehicle ended.
enum class Verdict {
    right,    ///< stop, and the thing to repair is the one, or cannot be told from it
    wrong,    ///< stop, and it is another
    unknown,  ///< the tests ran out before the tool was sure
};

struct WorkedVehicle {
    std::string fault;  ///< phrase without size
    Verdict verdict{Verdict::unknown};
    std::vector<std::string> taken;  ///< the tests with what they showed, as typed, in their order
    std::vector<std::string> left;   ///< the leading places in the end, each with its chance
    std::vector<std::string> named;  ///< places that the stop named, in the order to try them
    bool named_alone{};              ///< stopped with one place named, not several that no test parts
    double minutes{};
    int tests{};
    double stated{};        ///< probability that the tool gives its leading repair in the end
    bool leads{};           ///< is that repair the right one?
    double first_stated{};  ///< the same after nothing but what works
    bool first_leads{};
    bool on_path{};  ///< does the fault lie on the load's current path?
    double load_to_source{};
    double half_split{};
    double optimal{};
};

/// Is the fault there in every test, or in its condition only (hot, cold, wet, bump)?
enum class Presence { always, comes_and_goes };

/// Draws `count` faults by the priors of the circuit, each with a size, an own tolerance of every part, an own supply
/// and own meters, such that the driver notices something; and works them. The same seed gives the same vehicles.
/// A fault that comes and goes is one that can be loose, worn or rubbing; the customer tells what fails sometimes,
/// every second one also in which condition, and in the workshop all is well until that condition is made.
std::vector<WorkedVehicle> work_vehicles(const Circuit& circuit, std::size_t count, std::uint64_t seed, int workers,
                                         Presence presence = Presence::always);

/// The jobs with which such vehicles come in: how every load goes in every position.
std::vector<Job> jobs_of_vehicles(const Circuit& circuit, std::size_t count, std::uint64_t seed);

}  // namespace voltfall
