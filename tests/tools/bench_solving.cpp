// Solving: by one batch process a case, by the library, by the core, by its sweeps; dictionaries, pairs, memory.
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <numeric>

#include "engine/courses/dictionary.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/heat/startup.hpp"
#include "engine/solve/core_simulator.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/spice/deck.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/bench_table.hpp"
#include "tests/tools/process.hpp"

namespace voltfall::bench {

namespace {

namespace fs = std::filesystem;

struct Demo {
    std::shared_ptr<const Circuit> circuit;
    std::vector<State> states;
};

std::vector<double> nine_sizes(const FaultMode& mode) {
    if (!mode.size) return {0.0};
    std::vector<double> sizes;
    for (int k = 0; k < 9; ++k) {
        const SizeRange& range = *mode.size;
        sizes.push_back(range.logarithmic ? range.low * std::pow(range.high / range.low, k / 8.0)
                                          : range.low + (range.high - range.low) * k / 8.0);
    }
    return sizes;
}

/// One mode at all its sizes and places.
std::vector<Fault> faults_of(const ModePtr& mode) {
    std::vector<Fault> faults;
    for (const double where :
         mode->along_wire ? std::vector<double>{1 / 6.0, 0.5, 5 / 6.0} : std::vector<double>{0.5}) {
        for (const double size : nine_sizes(*mode)) faults.push_back({mode, size, where, {}, {}});
    }
    return faults;
}

std::vector<Fault> usual_faults(const Circuit& circuit) {
    std::vector<Fault> faults;
    for (const ModePtr& mode : circuit.modes) {
        if (mode->catalogued) faults.push_back({mode, mode->size ? mode->size->usual : 0.0, 0.5, {}, {}});
    }
    return faults;
}

double process_seconds(const Demo& demo, int rounds) {
    const auto settled = settle(testing::ngspice(), *demo.circuit, demo.states.back(), {});
    if (!settled) return 0;
    const fs::path path = fs::temp_directory_path() / fmt::format("voltfall-bench-{}.cir", getpid());
    std::ofstream(path) << deck_file_text(build_deck(settled->network), settled->network);
    const double seconds = median_of(rounds, [&] {
        return cpu_of([&] { (void)run_process({"ngspice", "-b", path.string()}); }, RUSAGE_CHILDREN);
    });
    fs::remove(path);
    return seconds;
}

/// Seconds a fault and position, one settled after the other: every fault at its usual size.
double single_seconds(const Demo& demo, Simulator& simulator) {
    const std::vector<Fault> faults = usual_faults(*demo.circuit);
    const double seconds = cpu_of([&] {
        for (const State& state : demo.states) {
            for (const Fault& fault : faults) (void)settle(simulator, *demo.circuit, state, std::span(&fault, 1));
        }
    });
    return seconds / static_cast<double>(faults.size() * demo.states.size());
}

/// Every fault at every size and place in every position, as sweeps; the number of cases.
long sweep_dictionary(const Demo& demo, Simulator& simulator) {
    long cases = 0;
    for (const ModePtr& mode : demo.circuit->modes) {
        if (!mode->catalogued) continue;
        const std::vector<Fault> faults = faults_of(mode);
        for (const State& state : demo.states) {
            std::vector<SettleCase> list;
            for (const Fault& fault : faults) list.push_back({&state, std::span(&fault, 1), {}});
            cases += static_cast<long>(settle_all(simulator, *demo.circuit, list).size());
        }
    }
    return cases;
}

/// A hundred sizes of one contact's resistance.
std::vector<Fault> hundred_sizes(const Demo& demo) {
    const auto mode = std::find_if(demo.circuit->modes.begin(), demo.circuit->modes.end(), [](const ModePtr& one) {
        return one->catalogued && one->size && one->fault_class == FaultClass::joint;
    });
    std::vector<Fault> faults;
    for (int k = 0; k < 100; ++k) faults.push_back({*mode, 0.02 * std::pow(1.09, k), 0.5, {}, {}});
    return faults;
}

/// Seconds a size where nothing but the size changes, by the solver alone.
double solve_sweep_seconds(const Demo& demo) {
    std::vector<Network> networks;
    for (const Fault& fault : hundred_sizes(demo)) {
        const SettleResult settled = settle(testing::solver(), *demo.circuit, demo.states.back(), std::span(&fault, 1));
        if (settled) networks.push_back(settled->network);
    }
    std::vector<const Network*> pointers;
    for (const Network& network : networks) pointers.push_back(&network);
    constexpr int rounds = 50;
    const double seconds = cpu_of([&] {
        for (int i = 0; i < rounds; ++i) {
            std::vector<SolveResult> results(pointers.size());
            testing::solver().solve_all(pointers, results);
        }
    });
    return seconds / (rounds * static_cast<double>(pointers.size()));
}

/// The same, settled and checked: relays, motors, current law, power balance, floating joints.
double sweep_seconds(const Demo& demo) {
    const std::vector<Fault> faults = hundred_sizes(demo);
    std::vector<SettleCase> cases;
    for (const Fault& fault : faults) cases.push_back({&demo.states.back(), std::span(&fault, 1), {}});
    constexpr int rounds = 50;
    const double seconds = cpu_of([&] {
        for (int i = 0; i < rounds; ++i) (void)settle_all(testing::solver(), *demo.circuit, cases);
    });
    return seconds / (rounds * 100.0);
}

double pair_seconds(const Demo& demo, long& pairs) {
    const std::vector<Fault> faults = usual_faults(*demo.circuit);
    return cpu_of([&] {
        for (std::size_t i = 0; i < faults.size(); ++i) {
            std::vector<std::array<Fault, 2>> both;
            for (std::size_t j = 0; j < i; ++j) both.push_back({faults[i], faults[j]});
            std::vector<SettleCase> cases;
            for (const auto& two : both) cases.push_back({&demo.states.back(), two, {}});
            pairs += static_cast<long>(settle_all(testing::solver(), *demo.circuit, cases).size());
        }
    });
}

double resident_mebibytes() {
    std::ifstream statm("/proc/self/statm");
    long total = 0;
    long resident = 0;
    statm >> total >> resident;
    return static_cast<double>(resident) * static_cast<double>(sysconf(_SC_PAGESIZE)) / (1024.0 * 1024.0);
}

void bench_memory(const Demo& demo, Simulator& simulator, const std::string& by, long solves) {
    const std::vector<Fault> faults = usual_faults(*demo.circuit);
    const auto many = [&](long count) {
        for (long i = 0; i < count; ++i) {
            const auto at = static_cast<std::size_t>(i);
            (void)settle(simulator, *demo.circuit, demo.states[at % demo.states.size()],
                         std::span(&faults[at % faults.size()], 1));
        }
    };
    many(5000);
    const double before = resident_mebibytes();
    many(solves);
    row(fmt::format("memory grown over {} solves by {} (from {:.0f} MiB)", solves, by, before),
        resident_mebibytes() - before, "MiB");
}

void bench_heat(const Demo& demo) {
    const HeatModel model(testing::solver(), *demo.circuit);
    std::vector<double> seconds;
    for (const Fault& fault : usual_faults(*demo.circuit)) {
        for (const State& state : demo.states) {
            seconds.push_back(cpu_of([&] {
                (void)run_aftermath(testing::solver(), model, state, std::span(&fault, 1),
                                    default_value("aftermath_seconds"));
            }));
        }
    }
    row("aftermath of half an hour, mean",
        1e3 * std::accumulate(seconds.begin(), seconds.end(), 0.0) / static_cast<double>(seconds.size()), "ms", 5);
    double slowest = 0;
    for (const State& state : demo.states) {
        slowest =
            std::max(slowest, cpu_of([&] { (void)run_startup(testing::ngspice(), *demo.circuit, state, {}, 60); }));
    }
    row("start of 60 s by ngspice, slowest position", slowest, "s", 2);
}

}  // namespace

void bench_solving(const Options& options) {
    const CircuitReading reading = read_circuit_file(options.scenarios + "/bookmobile/cab-blower.toml");
    if (!reading.circuit) {
        std::cerr << "bench: the demo circuit cannot be read; run voltfall check on it\n";
        return;
    }
    const Demo demo{reading.circuit, default_states(*reading.circuit)};
    const bool brief = options.short_run;
    heading(fmt::format("Solving the demo: {} branches, {} joints", demo.circuit->branches.size(),
                        demo.circuit->joints.size()));
    const double process = process_seconds(demo, brief ? 5 : 25);
    row("one `ngspice -b` process a case", 1e3 * process, "ms");
    const double library = single_seconds(demo, testing::ngspice());
    const double core = median_of(5, [&] { return single_seconds(demo, testing::solver()); });
    const double sweep = median_of(5, [&] { return sweep_seconds(demo); });
    row("one fault, settled, by the library", 1e6 * library, "us");
    row("one fault, settled, by the core", 1e6 * core, "us");
    const double solved = median_of(5, [&] { return solve_sweep_seconds(demo); });
    row("one size in a sweep, solved", 1e6 * solved, "us");
    row("one size in a sweep, settled and checked", 1e6 * sweep, "us");
    row("  the library against a process", process / library, "times");
    row("  the core against a process", process / core, "times", 1000, Better::more);
    row("  a sweep, solved, against a process", process / solved, "times");
    row("  a sweep, settled, against a process", process / sweep, "times", 10000, Better::more);
    long cases = 0;
    const double dictionary =
        median_of(5, [&] { return cpu_of([&] { cases = sweep_dictionary(demo, testing::solver()); }); });
    row(fmt::format("dictionary: every fault, size, place, position ({})", cases), dictionary, "s", 0.10);
    long pairs = 0;
    const double both = pair_seconds(demo, pairs);
    row(fmt::format("every pair at usual sizes, one position ({})", pairs), both, "s", 0.8);
    bench_heat(demo);
    bench_memory(demo, testing::solver(), "the core", brief ? 50'000 : 1'000'000);
    bench_memory(demo, testing::ngspice(), "the library", brief ? 5'000 : 100'000);
}

}  // namespace voltfall::bench
