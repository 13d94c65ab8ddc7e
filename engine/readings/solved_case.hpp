// One suspected fault, solved in every state that the job names.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "engine/courses/dictionary.hpp"
#include "engine/readings/questions.hpp"

namespace voltfall {

/// Which story is told of a fault that the readings' states may hide.
enum class World {
    as_stated,     ///< a new part is a good part
    new_part_bad,  ///< the part fitted in `new PART` fails in the same way
    later,         ///< what the fault leads to has happened: a limiter that it opens is open
};

struct SolvedCase {
    bool ok{false};
    std::vector<Fault> faults;       ///< what was laid over the circuit
    std::vector<CourseRef> courses;  ///< by state: run alone, from all fuses whole; where it was needed
    std::vector<SettledRef> read;    ///< by state: as the meter finds it
    std::vector<std::shared_ptr<CellValues>>
        values;                  ///< by state: what was read there before; null where nothing is kept
    std::vector<PartId> opened;  ///< what has blown in one of the states that the job names

    bool has_opened(PartId part) const;
    /// A load in a state that was read, beside the sound circuit in the same state.
    LoadState load(std::size_t state, PartId part, const SolvedCase& healthy) const;
};

/// One way in which a mode may stand: its size, its place along the wire, and the story told of it.
struct Trial {
    double size{0};
    double where{0.5};
    World world{World::as_stated};
    std::span<const Fault> also{};  ///< faults that are there besides
};

/// Runs the trials of one mode (null: the healthy circuit) together, which is what sweeps are quick at. Readings are
/// taken after whatever opens in any state named has opened, and with the fuses open that earlier readings have found
/// blown, except: `earlier`; a fuse just fitted (read at once); a
/// fuse that a reading says is good and that takes its time (read before it went).
std::vector<SolvedCase> solve_cases(Simulator& simulator, const Questions& questions, const FaultMode* mode,
                                    std::span<const Trial> trials, Dictionary* dictionary = nullptr);
/// The same for one trial.
SolvedCase solve_case(Simulator& simulator, const Questions& questions, const FaultMode* mode, const Trial& trial,
                      Dictionary* dictionary = nullptr);

/// The sound circuit with every fuse whole: what the readings should be.
SolvedCase solve_sound(Simulator& simulator, const Questions& questions, Dictionary* dictionary);

/// Does a new part that a state names take the fault away?
bool new_part_matters(const Questions& questions, const FaultMode& mode);

/// Does the mode set the battery's EMF itself?
bool sets_supply(const FaultMode& mode);
/// Is the mode inside the battery or at its posts? What a meter reads between them is then no longer the EMF.
bool is_of_battery(const FaultMode& mode);

}  // namespace voltfall
