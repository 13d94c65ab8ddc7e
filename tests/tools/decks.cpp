// Decks of random cases solved by the separate program `ngspice -b`, held against what our own solver says of them.
//   decks [COUNT] [SEED]     1,000 cases of the starters and of the bookmobile by default; ends with 1 where one
//   differs
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <string>
#include <vector>

#include "engine/figures/case_deck.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/simulators.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/support/batch_run.hpp"

using namespace voltfall;

namespace {

/// Volts that may part the two: the core's own promise (DEVELOPERS.md).
constexpr double most_volts_apart = 1e-6;

std::vector<std::shared_ptr<const Circuit>> circuits() {
    std::vector<std::string> paths;
    for (const char* folder : {"/scenarios/starters", "/scenarios/bookmobile"})
        for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_DIR) + folder))
            if (entry.path().extension() == ".toml") paths.push_back(entry.path().string());
    std::sort(paths.begin(), paths.end());
    std::vector<std::shared_ptr<const Circuit>> read;
    for (const std::string& path : paths)
        if (auto circuit = read_circuit_file(path).circuit) read.push_back(std::move(circuit));
    return read;
}

/// A mode of the catalogue, at the size that its bare phrase stands for.
Fault drawn_fault(const Circuit& circuit, std::mt19937& random) {
    const ModePtr& mode = circuit.modes[random() % circuit.modes.size()];
    const std::string phrase = mode->phrase();
    Problems problems;
    if (auto fault = read_fault_phrase(TypedText::argument("fault", phrase), circuit, problems)) return *fault;
    return {mode, 0, 0.5, {}, {}};
}

struct Tally {
    int same{0};
    int unsolved{0};
    double most{0};
};

/// Compares every joint that neither floats nor hangs on a blocked diode. False where one differs.
bool compare(Simulators& solvers, const Circuit& circuit, const State& state, const std::vector<Fault>& faults,
             Tally& tally) {
    const SettleResult settled = settle(solvers.sweep(), circuit, state, faults);
    const auto answer = case_deck(solvers.of_record(), circuit, state, faults, DeckMoment::faulted);
    if (!settled || !answer) {
        ++tally.unsolved;
        return settled.has_value() == answer.has_value();
    }
    const auto solved = test::batch_run(answer->deck);
    double apart = 0;
    std::string where;
    for (const auto& [place, node] : answer->nodes) {
        const JointId joint = circuit.find_joint(place);
        if (!joint.valid() || settled->floats(joint) || node == "0") continue;
        if (std::find(settled->weak.begin(), settled->weak.end(), joint) != settled->weak.end()) continue;
        const auto volts = solved.find(node);
        if (volts == solved.end()) continue;
        const double difference = std::abs(volts->second - settled->point.volts[joint.index]);
        if (difference > apart) {
            apart = difference;
            where = place;
        }
    }
    tally.most = std::max(tally.most, apart);
    if (apart <= most_volts_apart) {
        ++tally.same;
        return true;
    }
    fmt::print("{} at {}: {} differs by {} V\n", circuit.name, state.label, where, apart);
    for (const std::string& fault : answer->faults) fmt::print("  with {}\n", fault);
    return false;
}

}  // namespace

int main(int argc, char** argv) {
    const int count = argc > 1 ? std::atoi(argv[1]) : 1000;
    std::mt19937 random(argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1u);
    const auto known = circuits();
    if (count < 1 || known.empty()) {
        fmt::print(stderr, "usage: decks [COUNT] [SEED]\n");
        return 2;
    }
    Simulators solvers([]() -> TransientSimulator& { return NgspiceSession::instance(); }, SweepBy::core);
    Tally tally;
    int different = 0;
    for (int number = 0; number < count; ++number) {
        const Circuit& circuit = *known[random() % known.size()];
        const std::vector<State> states = default_states(circuit);
        const State& state = states[random() % states.size()];
        std::vector<Fault> faults;
        for (unsigned i = random() % 3; i > 0; --i) faults.push_back(drawn_fault(circuit, random));
        different += compare(solvers, circuit, state, faults, tally) ? 0 : 1;
    }
    fmt::print(
        "{} decks: {} the same within {} V (most apart {:.2g} V), {} without a solution on both sides, {} different\n",
        count, tally.same, most_volts_apart, tally.most, tally.unsolved, different);
    return different == 0 ? 0 : 1;
}
