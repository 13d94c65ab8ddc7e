// Does every load that the concern is about work again, in every position?
#include <algorithm>

#include "engine/proof/proof_case.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

/// The last reading of that load in that position; a later one tells more than an earlier one.
const JudgedReading* load_reading(const StageReadings& stage, PartId load, const State& state) {
    const JudgedReading* found = nullptr;
    for (const JudgedReading& judged : stage.judged()) {
        const auto* reading = std::get_if<LoadReading>(&judged.reading->measurement);
        if (reading == nullptr || reading->part != load || !stage.stands_in(judged, state)) continue;
        // One that was not well counts, whatever came later.
        if (found == nullptr || found->sound) found = &judged;
    }
    return found;
}

std::string position_name(const Circuit& circuit, const StatePhrase& phrase) {
    StatePhrase without_key = phrase;
    if (!without_key.settings.empty()) without_key.key.reset();
    return write_state(circuit, without_key);
}

/// The open positions of one control as one phrase: "lo, ml, key run  M1".
std::string one_phrase(const Circuit& circuit, PartId load, const std::vector<StatePhrase>& open) {
    StatePhrase together = open.front();
    for (std::size_t i = 1; i < open.size(); ++i) {
        const bool alike = open[i].settings.size() == 1 && together.settings.size() == 1 &&
                           open[i].settings[0].part == together.settings[0].part && open[i].key == together.key;
        if (!alike) return test_in(circuit, open.front(), LoadTest{load, {}});
        together.settings[0].positions.push_back(open[i].settings[0].positions.front());
    }
    return test_in(circuit, together, LoadTest{load, {}});
}

void check_load(const ProofCase& of, const ConcernedLoad& load, ProofChecks& checks) {
    const Circuit& circuit = of.circuit;
    const std::string& name = circuit.part(load.part).name;
    std::vector<StatePhrase> open;
    std::vector<std::size_t> open_checks;
    for (const ConcernedLoad::Position& position : load.positions) {
        ProofCheck check{.sort = CheckSort::load, .what = name + " at " + position_name(circuit, position.phrase)};
        if (const JudgedReading* was = load_reading(of.before, load.part, position.state))
            check.before = value_text(circuit, *was->reading);
        if (const JudgedReading* now = load_reading(of.after, load.part, position.state)) {
            check.after = value_text(circuit, *now->reading);
            check.result = now->sound ? CheckResult::passed : CheckResult::failed;
            if (!now->sound) check.why = "a sound one is not '" + check.after + "' there";
        } else {
            check.why = "not tried since the repair";
            open.push_back(position.phrase);
            open_checks.push_back(checks.size());
        }
        checks.push_back(std::move(check));
    }
    if (open.empty()) return;
    const std::string closes = one_phrase(circuit, load.part, open);
    const bool one = open.size() == 1 || closes != test_in(circuit, open.front(), LoadTest{load.part, {}});
    for (std::size_t i = 0; i < open_checks.size(); ++i)
        checks[open_checks[i]].closes = one ? closes : test_in(circuit, open[i], LoadTest{load.part, {}});
}

}  // namespace

void check_loads(const ProofCase& of, ProofChecks& checks) {
    for (const ConcernedLoad& load : of.loads) check_load(of, load, checks);
}

}  // namespace voltfall
