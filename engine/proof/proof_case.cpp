#include "engine/proof/proof_case.hpp"

#include <algorithm>

#include "engine/readings/word_evidence.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// A load that draws less does not work, amperes.
constexpr double least_amps = 0.05;

bool within(const std::string& place, const std::string& other) {
    return same_word(place, other) || is_cavity_of(place, other) || is_cavity_of(other, place);
}

/// Was a load, at that position, not as a sound vehicle's?
bool showed(const StageReadings& before, PartId load, const State& state) {
    return std::any_of(before.judged().begin(), before.judged().end(), [&](const JudgedReading& judged) {
        const auto* reading = std::get_if<LoadReading>(&judged.reading->measurement);
        return reading != nullptr && reading->part == load && !judged.sound && before.stands_in(judged, state);
    });
}

bool concerned(const StageReadings& before, PartId load) {
    return std::any_of(before.judged().begin(), before.judged().end(), [&](const JudgedReading& judged) {
        const auto* reading = std::get_if<LoadReading>(&judged.reading->measurement);
        return reading != nullptr && reading->part == load && !judged.sound;
    });
}

ConcernedLoad with_positions(Simulator& simulator, const Circuit& circuit, const StageReadings& before, PartId load) {
    ConcernedLoad found{load, {}};
    for (const StatePhrase& phrase : default_phrases(circuit)) {
        for (const State& state : states_of(circuit, phrase)) {
            const SettleResult sound = settle(simulator, circuit, state, {});
            const double amps = sound ? std::abs(sound->point.amps[circuit.part(load).load_branch.index]) : 0;
            const bool shown = showed(before, load, state);
            // A position without a solution is not known to be one in which the load does nothing.
            if (sound && amps < least_amps && !shown) continue;
            found.positions.push_back({definite(circuit, phrase), state, shown, amps});
        }
    }
    return found;
}

}  // namespace

const ConcernedLoad::Position* ConcernedLoad::hardest() const {
    const Position* best = nullptr;
    const bool any = std::any_of(positions.begin(), positions.end(),
                                 [](const Position& p) { return p.shown && p.amps >= least_amps; });
    for (const Position& position : positions) {
        if (position.amps < least_amps || (any && !position.shown)) continue;
        if (best == nullptr || position.amps > best->amps) best = &position;
    }
    return best;
}

std::vector<ConcernedLoad> concerned_loads(Simulator& simulator, const Circuit& circuit, const StageReadings& before) {
    std::vector<ConcernedLoad> found;
    const std::vector<PartId> loads = loads_of(circuit);
    const bool any =
        std::any_of(loads.begin(), loads.end(), [&](const PartId load) { return concerned(before, load); });
    for (const PartId load : loads) {
        if (!any || concerned(before, load)) found.push_back(with_positions(simulator, circuit, before, load));
    }
    return found;
}

bool ProofCase::is_repaired(const std::string& place) const {
    return std::any_of(job.repaired.begin(), job.repaired.end(),
                       [&](const Repaired& repaired) { return same_word(repaired.place, place); });
}

bool ProofCase::touches_repaired(const std::string& place) const {
    return std::any_of(job.repaired.begin(), job.repaired.end(), [&](const Repaired& repaired) {
        if (within(repaired.place, place)) return true;
        const PartId one = part_of_place(circuit, repaired.place);
        return one.valid() && one == part_of_place(circuit, place);
    });
}

std::vector<const Suspect*> likeliest_faults(const Weighed& weighed) {
    std::vector<const Suspect*> faults;
    for (const std::size_t i : weighed.ranked())
        if (weighed.suspects[i].mode != nullptr) faults.push_back(&weighed.suspects[i]);
    return faults;
}

bool is_repaired_at(const Circuit& circuit, const FaultMode& mode, const std::string& place) {
    return sits_at(circuit, mode, place) || is_cavity_of(place, mode.place);
}

std::string test_in(const Circuit& circuit, const StatePhrase& position, const Tested& tested) {
    return write_test(circuit, {position, tested});
}

std::string value_text(const Circuit& circuit, const Reading& reading) {
    return write_value(circuit, reading.measurement);
}

PartId part_of_place(const Circuit& circuit, const std::string& place) {
    return circuit.part_at(place);
}

}  // namespace voltfall
