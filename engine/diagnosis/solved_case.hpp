// One suspected fault, solved in every state that the job names.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/diagnosis/questions.hpp"

namespace voltfall {

/// Which story is told of a fault that the readings' states may hide.
enum class World {
    as_stated,     ///< a new part is a good part
    new_part_bad,  ///< the part fitted in `new PART` fails in the same way
    later,         ///< what the fault leads to has happened: a limiter that it opens is open
    healthy,       ///< the fault does not show (an intermittent one, just then)
};

struct SolvedCase {
    bool ok{false};
    std::vector<Fault> faults;                   ///< what was laid over the circuit
    std::vector<std::optional<Course>> courses;  ///< by state: run alone, from all fuses whole; where it was needed
    std::vector<std::optional<Settled>> read;    ///< by state: as the meter finds it
    std::vector<PartId> opened;                  ///< what has blown in one of the states that the job names

    bool has_opened(PartId part) const;
};

/// Runs a case. Readings are taken after whatever opens in any state named has opened, except: `earlier`; a fuse just
/// fitted (read at once); a fuse that a reading says is good and that takes its time (read before it went). `also` are faults that are there besides.
SolvedCase solve_case(Simulator& simulator, const Questions& questions, const FaultMode* mode, double size,
                      double where, World world = World::as_stated, std::span<const Fault> also = {});

/// Does a new part that a state names take the fault away?
bool new_part_matters(const Questions& questions, const FaultMode& mode);

/// Does the mode set the battery's EMF itself?
bool sets_supply(const Circuit& circuit, const FaultMode& mode);

}  // namespace voltfall
