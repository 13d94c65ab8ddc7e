// Prints how fast the demo is solved, searched and matched, how memory grows, and how one fault and state compares with
// one `ngspice -b` process on the same case.
#include <unistd.h>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iostream>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "engine/heat/protection.hpp"
#include "engine/heat/startup.hpp"
#include "engine/solve/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/spice/deck.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/tools/process.hpp"

namespace voltfall {
namespace {

namespace fs = std::filesystem;

struct Options {
    std::string voltfall;
    fs::path scenarios;
    bool short_run{false};
};

double seconds_of(const std::function<void()>& work) {
    const auto start = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// Resident memory of this process, MiB.
double resident_mebibytes() {
    std::ifstream statm("/proc/self/statm");
    long total = 0;
    long resident = 0;
    statm >> total >> resident;
    return static_cast<double>(resident) * static_cast<double>(sysconf(_SC_PAGESIZE)) / (1024.0 * 1024.0);
}

void print_line(const std::string& what, const std::string& figure, const std::string& aim = {}) {
    fmt::print("{:<62} {:>12}{}\n", what, figure, aim.empty() ? "" : "   aim " + aim);
    std::fflush(stdout);
}

/// The demo circuit with its states and a session.
struct Demo {
    std::shared_ptr<const Circuit> circuit;
    std::vector<State> states;
    Simulator& simulator;
};

void bench_healthy(const Demo& demo, int rounds) {
    std::vector<double> milliseconds;
    for (int round = 0; round < rounds; ++round) {
        for (const State& state : demo.states) {
            milliseconds.push_back(1e3 * seconds_of([&] { (void)settle(demo.simulator, *demo.circuit, state, {}); }));
        }
    }
    print_line(fmt::format("healthy solve of the demo, settled, median of {}", milliseconds.size()),
               fmt::format("{:.3f} ms", median(milliseconds)), "0.3 ms");
}

/// Five sizes of a mode, from its smallest to its largest; one where it has none.
std::vector<double> five_sizes(const FaultMode& mode) {
    if (!mode.size) {
        return {0.0};
    }
    std::vector<double> sizes;
    for (int step = 0; step < 5; ++step) {
        const double share = step / 4.0;
        const SizeRange& range = *mode.size;
        sizes.push_back(range.logarithmic ? range.low * std::pow(range.high / range.low, share)
                                          : range.low + share * (range.high - range.low));
    }
    return sizes;
}

/// Seconds a fault and state, settled.
double bench_faults(const Demo& demo) {
    long cases = 0;
    long unsolved = 0;
    const double seconds = seconds_of([&] {
        for (const ModePtr& mode : demo.circuit->modes) {
            if (!mode->catalogued) {
                continue;
            }
            for (const double size : five_sizes(*mode)) {
                const Fault fault{mode, size, 0.5, {}, {}};
                for (const State& state : demo.states) {
                    ++cases;
                    unsolved += settle(demo.simulator, *demo.circuit, state, std::span(&fault, 1)) ? 0 : 1;
                }
            }
        }
    });
    print_line(fmt::format("every mode, five sizes, all positions: {} cases, one process", cases),
               fmt::format("{:.2f} s", seconds));
    if (unsolved > 0) {
        print_line("  of them without a solution", fmt::format("{}", unsolved));
    }
    return seconds / static_cast<double>(cases);
}

void bench_processes(const Options& options) {
    const fs::path folder = options.scenarios / "bookmobile";
    const std::string circuit = (folder / "cab-blower.toml").string();
    const std::string job = (folder / "weak-air.job.toml").string();
    struct Run {
        std::string what;
        std::vector<std::string> words;
        std::string aim;
    };
    for (const Run& run : {Run{"`faults` on the demo, whole process", {options.voltfall, "faults", circuit}, "2 s"},
                           Run{"`match` on the demo's job, whole process", {options.voltfall, "match", job}, "1 s"},
                           Run{"`next` on the demo's job, whole process", {options.voltfall, "next", job}, "1 s"}}) {
        int status = 0;
        const double seconds = seconds_of([&] { status = run_process(run.words).status; });
        print_line(run.what + (status > 1 ? fmt::format(" (FAILED, status {})", status) : ""),
                   fmt::format("{:.2f} s", seconds), run.aim);
    }
}

void bench_memory(const Demo& demo, long solves) {
    Problems problems;
    const auto fault =
        read_fault_phrase(TypedText::argument("bench", "C101.4 resistance 0.3ohm"), *demo.circuit, problems);
    std::vector<Fault> faults;
    if (fault) {
        faults.push_back(*fault);
    }
    const auto many = [&](long count) {
        for (long i = 0; i < count; ++i) {
            const State& state = demo.states[static_cast<std::size_t>(i) % demo.states.size()];
            if (!faults.empty()) {
                faults.front().size = 0.02 + 1e-3 * static_cast<double>(i % 1000);
            }
            (void)settle(demo.simulator, *demo.circuit, state, faults);
        }
    };
    many(std::max(solves / 20, 500L));
    const double before = resident_mebibytes();
    many(solves);
    const double after = resident_mebibytes();
    print_line(fmt::format("memory growth over {} solves ({:.1f} MiB before)", solves, before),
               fmt::format("{:+.1f} MiB", after - before), "flat");
}

/// Aftermaths of every mode at its usual size in every state, and the whole of `protect`.
void bench_heat(const Demo& demo) {
    const HeatModel model(demo.simulator, *demo.circuit);
    std::vector<double> seconds;
    for (const ModePtr& mode : demo.circuit->modes) {
        if (!mode->catalogued) {
            continue;
        }
        const std::vector<Fault> faults{{mode, mode->size ? mode->size->usual : 0.0, 0.5, {}, {}}};
        for (const State& state : demo.states) {
            seconds.push_back(seconds_of([&] {
                (void)run_aftermath(demo.simulator, model, state, faults, default_value("aftermath_seconds"));
            }));
        }
    }
    print_line("one aftermath of half an hour, median", fmt::format("{:.2f} ms", 1e3 * median(seconds)), "5 ms");
    print_line("  the slowest", fmt::format("{:.2f} ms", 1e3 * *std::max_element(seconds.begin(), seconds.end())),
               "5 ms");
    const double all = seconds_of([&] { (void)judge_protection(demo.simulator, model, demo.states); });
    print_line("protection of the demo", fmt::format("{:.2f} s", all), "3 s");
}

/// Every position's start, the motor from standstill, 60 s of it; the slowest counts.
void bench_start(const Demo& demo) {
    double slowest = 0;
    long failed = 0;
    for (const State& state : demo.states) {
        const double seconds = seconds_of(
            [&] { failed += run_startup(NgspiceSession::instance(), *demo.circuit, state, {}, 60) ? 0 : 1; });
        slowest = std::max(slowest, seconds);
    }
    print_line(fmt::format("60 s start-up transient, whole, slowest of {}{}", demo.states.size(),
                           failed > 0 ? " (FAILED)" : ""),
               fmt::format("{:.2f} s", slowest), "2 s");
}

/// Seconds of one `ngspice -b` process on a deck of the same circuit.
double bench_ngspice(const Demo& demo, int rounds) {
    const auto settled = settle(demo.simulator, *demo.circuit, demo.states.back(), {});
    if (!settled) {
        print_line("the demo's last state has no solution", settled.error().message);
        return 0;
    }
    const fs::path path = fs::temp_directory_path() / fmt::format("voltfall-bench-{}.cir", getpid());
    std::ofstream(path) << deck_file_text(build_deck(settled->network), settled->network);
    std::vector<double> seconds;
    int status = 0;
    for (int round = 0; round < rounds; ++round) {
        seconds.push_back(seconds_of([&] { status = run_process({"ngspice", "-b", path.string()}).status; }));
    }
    fs::remove(path);
    print_line(fmt::format("one `ngspice -b` process on the same case, median of {}{}", rounds,
                           status >= 128 ? " (FAILED)" : ""),
               fmt::format("{:.2f} ms", 1e3 * median(seconds)));
    return median(seconds);
}

int bench(const Options& options) {
    const CircuitReading reading = read_circuit_file((options.scenarios / "bookmobile" / "cab-blower.toml").string());
    if (!reading.circuit) {
        std::cerr << "bench: the demo circuit cannot be read; run voltfall check on it\n";
        return 3;
    }
    const Demo demo{reading.circuit, default_states(*reading.circuit), NgspiceSession::instance()};
    bench_healthy(demo, options.short_run ? 100 : 1000);
    const double each = bench_faults(demo);
    const double process = bench_ngspice(demo, options.short_run ? 10 : 50);
    print_line("one fault and state, settled", fmt::format("{:.3f} ms", 1e3 * each));
    print_line("  times faster than one `ngspice -b` process", fmt::format("{:.0f}", process / each), "100");
    bench_heat(demo);
    bench_start(demo);
    bench_processes(options);
    bench_memory(demo, options.short_run ? 10'000 : 100'000);
    return 0;
}

int run(const std::vector<std::string>& arguments) {
    Options options;
    for (std::size_t at = 0; at < arguments.size(); ++at) {
        const std::string& word = arguments[at];
        if (word == "--short") {
            options.short_run = true;
        } else if (word == "--voltfall" && at + 1 < arguments.size()) {
            options.voltfall = arguments[++at];
        } else if (word == "--scenarios" && at + 1 < arguments.size()) {
            options.scenarios = arguments[++at];
        } else {
            std::cerr << fmt::format("bench: unknown word '{}'; usage: tests/bench [--short]\n", word);
            return 2;
        }
    }
    return bench(options);
}

}  // namespace
}  // namespace voltfall

int main(int argc, char** argv) {
    return voltfall::run({argv + 1, argv + argc});
}
