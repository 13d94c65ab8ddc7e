// What every check of a repair looks at.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis/weighing.hpp"
#include "engine/proof/proof.hpp"
#include "engine/proof/stage_readings.hpp"

namespace voltfall {

/// A load that the concern is about, with the positions in which it must work again.
struct ConcernedLoad {
    struct Position {
        StatePhrase phrase;
        State state;
        bool shown{false};  ///< the fault showed in it
        double amps{};      ///< of the sound load
    };
    PartId part;
    std::vector<Position> positions;

    /// The position with the greatest current among those that showed the fault, else among all; null where the load
    /// draws nothing in any.
    const Position* hardest() const;
};

struct ProofCase {
    Simulator& simulator;
    const Circuit& circuit;
    const Job& job;
    const Weighed& weighed;  ///< the readings before the repair
    const StageReadings& before;
    const StageReadings& after;
    std::vector<ConcernedLoad> loads;

    bool is_repaired(const std::string& place) const;
    /// Does what was repaired sit at that place, or the place at what was repaired ("C303" and "C303.1", "R1" and its
    /// plug)?
    bool touches_repaired(const std::string& place) const;
};

using ProofChecks = std::vector<ProofCheck>;

/// Loads whose readings before the repair were not a sound vehicle's; all loads where there is none.
std::vector<ConcernedLoad> concerned_loads(Simulator& simulator, const Circuit& circuit, const StageReadings& before);

/// Every position of the loads concerned, tried after the repair.
void check_loads(const ProofCase& of, ProofChecks& checks);
/// Amperes, feed drop and ground drop under load; the warmth of a plug.
void check_limits_after(const ProofCase& of, ProofChecks& checks);
/// Fuses, relays and air that were not well before; readings after the repair that no sound vehicle shows.
void check_same_again(const ProofCase& of, ProofChecks& checks);
/// Would these readings look otherwise if the fault were still there?
void check_not_blind(const ProofCase& of, ProofChecks& checks);
/// What was repaired, and why what failed has failed.
void check_cause(const ProofCase& of, ProofChecks& checks);
/// What [together] names with what was repaired.
void check_together(const ProofCase& of, ProofChecks& checks);
/// Faults that come and go, by counting.
void check_runs(const ProofCase& of, ProofChecks& checks);

/// The three paragraphs, what to order, what may wait, hand back or not. The checks must be complete.
void write_story(const ProofCase& of, ProofAnswer& answer);

/// The faults that the readings before the repair spoke for, the likeliest first.
std::vector<const Suspect*> likeliest_faults(const Weighed& weighed);
/// Is it the fault of a place that was repaired: of the thing itself, of its pins, or of the plug that the pin sits in?
bool is_repaired_at(const Circuit& circuit, const FaultMode& mode, const std::string& place);

/// The phrase of a test in that position, key named: "hi, key run  clamp 542".
std::string test_in(const Circuit& circuit, const StatePhrase& position, const Tested& tested);
/// The value as it was typed: "10.20V", "slow".
std::string value_text(const Circuit& circuit, const Reading& reading);
/// The parts whose faults a place stands for; invalid for a wire.
PartId part_of_place(const Circuit& circuit, const std::string& place);

}  // namespace voltfall
