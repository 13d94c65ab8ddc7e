// The core held against the simulator of record: every fault of every scenario, at every size, place and position.
// `agreement_test "[nightly]"` takes many more random circuits, and every pair of faults of the demo.
#include <algorithm>
#include <cmath>
#include <filesystem>

#include "engine/solve/core_simulator.hpp"
#include "engine/solve/settled.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/dense_oracle.hpp"
#include "tests/support/random_circuit.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::test {

namespace {

/// Greatest difference met, and where.
struct Agreement {
    long cases{0};
    long unsolved{0};  ///< by both
    double worst_volts{0};
    double worst_amps{0};
    std::string worst_case;

    void compare(const Settled& settled, const std::string& words) {
        const SolveResult record = ngspice().solve(settled.network);
        INFO(words);
        REQUIRE(record);
        ++cases;
        for (std::uint32_t joint = 0; joint < settled.network.joints; ++joint) {
            const bool metered = settled.floats({joint}) || std::find(settled.weak.begin(), settled.weak.end(),
                                                                      JointId{joint}) != settled.weak.end();
            const double difference = metered ? 0 : std::abs(record->volts[joint] - settled.point.volts[joint]);
            if (difference <= worst_volts) continue;
            worst_volts = difference;
            worst_case = words;
        }
        for (std::size_t i = 0; i < record->amps.size(); ++i) {
            const double difference = std::abs(record->amps[i] - settled.point.amps[i]);
            if (difference > worst_amps) worst_amps = difference;  // false for the NaN of copper
        }
    }
};

std::vector<double> all_sizes(const FaultMode& mode) {
    if (!mode.size) return {0};
    constexpr int count = 9;
    const SizeRange& range = *mode.size;
    std::vector<double> sizes;
    for (int k = 0; k < count; ++k) {
        const double share = k / (count - 1.0);
        sizes.push_back(range.logarithmic ? range.low * std::pow(range.high / range.low, share)
                                          : range.low + (range.high - range.low) * share);
    }
    return sizes;
}

std::vector<double> all_places(const FaultMode& mode) {
    return mode.along_wire ? std::vector<double>{1 / 6.0, 0.5, 5 / 6.0} : std::vector<double>{0.5};
}

/// Every fault at every size, place and position, swept as the dictionary does it.
void compare_dictionary(const Circuit& circuit, CoreSimulator& core, Agreement& agreement) {
    for (const State& state : default_states(circuit)) {
        for (const ModePtr& mode : circuit.modes) {
            if (!mode->catalogued) continue;
            std::vector<Fault> faults;
            for (const double where : all_places(*mode)) {
                for (const double size : all_sizes(*mode)) faults.push_back({mode, size, where, {}, {}});
            }
            std::vector<SettleCase> cases;
            for (const Fault& fault : faults) cases.push_back({&state, std::span(&fault, 1), {}});
            const std::vector<SettleResult> settled = settle_all(core, circuit, cases);
            for (std::size_t i = 0; i < cases.size(); ++i) {
                const std::string words = write_fault(circuit, faults[i]) + " at " + state.label;
                if (settled[i]) {
                    agreement.compare(*settled[i], words);
                } else {
                    ++agreement.unsolved;
                }
            }
        }
    }
}

std::vector<std::string> circuit_files(const std::string& folder) {
    std::vector<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/scenarios/" + folder)) {
        const std::string name = entry.path().filename().string();
        if (entry.path().extension() == ".toml" && name.find(".job.") == std::string::npos)
            files.push_back(entry.path().string());
    }
    std::sort(files.begin(), files.end());
    return files;
}

void compare_folder(const std::string& folder) {
    CoreSimulator core(ngspice());
    Agreement agreement;
    for (const std::string& file : circuit_files(folder)) {
        const CircuitReading reading = read_circuit_file(file);
        INFO(file);
        REQUIRE(reading.circuit);
        compare_dictionary(*reading.circuit, core, agreement);
        CHECK(agreement.worst_volts < confirmed_within);
    }
    WARN(folder << ": " << agreement.cases << " cases, worst " << agreement.worst_volts << " V, "
                << agreement.worst_amps << " A (" << agreement.worst_case << "); " << core.counters().handed_over
                << " handed over, " << agreement.unsolved << " without a solution");
    CHECK(agreement.cases > 10000);
    // What the core cannot do is rare, or it would not be worth having.
    CHECK(core.counters().handed_over * 1000 < agreement.cases);
}

void compare_random(unsigned first, unsigned last) {
    CoreSimulator core(ngspice());
    DenseOracle oracle;
    double worst = 0;
    for (unsigned number = first; number <= last; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        const SettleResult ours = settle_network(core, Network(circuit));
        const SettleResult record = settle_network(ngspice(), Network(circuit));
        const SettleResult independent = settle_network(oracle, Network(circuit));
        REQUIRE(ours);
        REQUIRE(record);
        REQUIRE(independent);
        CHECK(ours->relay_pulled == record->relay_pulled);
        for (std::size_t joint = 0; joint < ours->point.volts.size(); ++joint) {
            worst = std::max({worst, std::abs(ours->point.volts[joint] - record->point.volts[joint]),
                              std::abs(ours->point.volts[joint] - independent->point.volts[joint])});
        }
        CHECK(worst < confirmed_within);
    }
    WARN(last - first + 1 << " random circuits, worst " << worst << " V; " << core.counters().handed_over
                          << " handed over");
    CHECK(core.counters().handed_over <= (last - first) / 100);
}

}  // namespace

TEST_CASE("the core agrees with ngspice on every fault of the bookmobile") {
    compare_folder("bookmobile");
}

TEST_CASE("the core agrees with ngspice on every fault of the encoded cases", "[cases]") {
    compare_folder("cases");
}

TEST_CASE("the core agrees with ngspice and with the independent solver on random circuits") {
    compare_random(1, 400);
}

TEST_CASE("the core agrees on many more random circuits", "[.nightly]") {
    compare_random(401, 6000);
}

TEST_CASE("the core agrees on every pair of faults of the demo", "[.nightly]") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    CoreSimulator core(ngspice());
    Agreement agreement;
    const State state = default_states(*circuit).back();
    for (std::size_t i = 0; i < circuit->modes.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j) {
            const auto usual = [&](std::size_t k) {
                const ModePtr& mode = circuit->modes[k];
                return Fault{mode, mode->size ? mode->size->usual : 0, 0.5, {}, {}};
            };
            const std::vector<Fault> faults{usual(i), usual(j)};
            const SettleResult settled = settle(core, *circuit, state, faults);
            if (settled)
                agreement.compare(*settled,
                                  write_fault(*circuit, faults[0]) + " and " + write_fault(*circuit, faults[1]));
        }
    }
    WARN(agreement.cases << " pairs, worst " << agreement.worst_volts << " V (" << agreement.worst_case << ")");
    CHECK(agreement.worst_volts < confirmed_within);
}

}  // namespace voltfall::test
