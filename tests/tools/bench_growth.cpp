// How the answers grow with the circuit (a chain of connectors, loads side by side, copies of the demo) and with the
// readings of a job.
#include <cmath>

#include "engine/planning/next.hpp"
#include "engine/planning/plan.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/bench_table.hpp"

namespace voltfall::bench {

namespace {

/// A motor behind `count` connectors in a row.
std::string chain_text(int count) {
    std::string text =
        "format = 1\nname = \"chain\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
        "F1 = \"fuse 40A maxi, feed 30\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\n"
        "S1 = \"switch C: off on=1\"\nG1 = \"ground stud\"\n";
    for (int i = 1; i <= count; ++i) text += fmt::format("C{} = \"connector inline, 2 way\"\n", i);
    text += "[wires]\nw0 = \"F1.2 > C1.1 3mm2 RD 1m\"\n";
    for (int i = 1; i < count; ++i) text += fmt::format("w{0} = \"C{0}.1 > C{1}.1 3mm2 RD 1m\"\n", i, i + 1);
    text += fmt::format("wa = \"C{}.1 > S1.C 3mm2 RD 1m\"\n", count);
    return text + "wb = \"S1.1 > M1.1 3mm2 RD 1m\"\nwc = \"M1.2 > G1 3mm2 BK 1m\"\n[controls]\nS1 = \"blower\"\n";
}

/// `count` lamps side by side behind one switch.
std::string parallel_text(int count) {
    std::string text =
        "format = 1\nname = \"side by side\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
        "F1 = \"fuse 100A maxi, feed 30\"\nS1 = \"switch C: off on=1\"\nSP1 = \"splice\"\nSP2 = \"splice\"\n"
        "G1 = \"ground stud\"\n";
    for (int i = 1; i <= count; ++i) text += fmt::format("L{} = \"lamp 5W\"\n", i);
    text +=
        "[wires]\nw0 = \"F1.2 > S1.C 10mm2 RD 1m\"\nwx = \"S1.1 > SP1 10mm2 RD 1m\"\nwy = \"SP2 > G1 10mm2 BK 1m\"\n";
    for (int i = 1; i <= count; ++i)
        text += fmt::format("pa{0} = \"SP1 > L{0}.1 1mm2 RD 1m\"\npb{0} = \"L{0}.2 > SP2 1mm2 BK 1m\"\n", i);
    return text + "[controls]\nS1 = \"lights\"\n";
}

/// `count` blowers as the demo's, each with its own fuse, switch and pack, behind one battery.
std::string copies_text(int count) {
    std::string parts = "format = 1\nname = \"copies\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n";
    std::string wires = "[wires]\n";
    std::string controls = "[controls]\n";
    for (int k = 1; k <= count; ++k) {
        parts += fmt::format(
            "F{0} = \"fuse 40A maxi, feed 30\"\nM{0} = \"motor 20A @13.5V, 3500rpm, stall 80A\"\n"
            "R{0} = \"pack 1 1.2ohm 2 0.7ohm 3 0.35ohm 4, limiter 121C\"\nS{0} = \"switch C: off lo=1 ml=2 mh=3 "
            "hi=4\"\n"
            "C{0} = \"connector bulkhead, 8 way\"\nG{0} = \"ground cowl stud\"\n",
            k);
        wires += fmt::format(
            "a{0} = \"F{0}.2 > C{0}.4 6mm2 RD 0.9m\"\nd{0} = \"C{0}.4 > M{0}.1 6mm2 RD 1.4m\"\n"
            "e{0} = \"M{0}.2 > R{0}.4 4mm2 BK 0.4m\"\nh{0} = \"R{0}.1 > S{0}.1 1.5mm2 GY 1m\"\n"
            "i{0} = \"R{0}.2 > S{0}.2 1.5mm2 GY 1m\"\nj{0} = \"R{0}.3 > S{0}.3 2.5mm2 GY 1m\"\n"
            "k{0} = \"R{0}.4 > S{0}.4 4mm2 GY 1m\"\nn{0} = \"S{0}.C > G{0} 4mm2 BK 0.6m\"\n",
            k);
        controls += fmt::format("S{0} = \"blower {0}\"\n", k);
    }
    return parts + wires + controls;
}

/// Lamps that share a fuse and a ground, each behind a switch of its own.
std::string lamps_text(int count) {
    std::string parts =
        "format = 1\nname = \"lamps\"\nsupply = \"12V\"\n\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
        "F1 = \"fuse 60A maxi, feed 30\"\nSP1 = \"splice\"\nSP2 = \"splice\"\nG1 = \"ground body\"\n";
    std::string wires = "\n[wires]\nw1 = \"F1.2 > SP1 6mm2 RD 1m\"\nw2 = \"SP2 > G1 6mm2 BK 1m\"\n";
    std::string controls = "\n[controls]\n";
    for (int k = 1; k <= count; ++k) {
        parts += fmt::format("S{0} = \"switch C: off on=1\"\nL{0} = \"lamp 21W\"\n", k);
        wires += fmt::format(
            "x{0}a = \"SP1 > S{0}.C 1.5mm2 RD 1m\"\nx{0}b = \"S{0}.1 > L{0}.1 1.5mm2 YE 1m\"\n"
            "x{0}c = \"L{0}.2 > SP2 1.5mm2 BK 1m\"\n",
            k);
        controls += fmt::format("S{0} = \"lamp {0}\"\n", k);
    }
    return parts + wires + controls;
}

struct Grown {
    std::string what;
    std::string text;
    std::vector<std::string> readings;
    double match_goal;  ///< s; 0: none
    double plan_goal;
};

void bench_one(const Grown& grown) {
    const CircuitReading reading = read_circuit_text(grown.text, grown.what);
    if (!reading.circuit) {
        fmt::print("  {}: cannot be read\n", grown.what);
        return;
    }
    const Circuit& circuit = *reading.circuit;
    Job job;
    Problems problems;
    for (const std::string& phrase : grown.readings)
        add_reading(job, circuit, TypedText::argument("bench", phrase), problems);
    if (problems.has_errors()) {
        fmt::print("  {}: a reading cannot be read\n", grown.what);
        return;
    }
    MatchOptions options;
    options.workers = 1;
    const std::string size =
        fmt::format("{} ({} branches, {} faults)", grown.what, circuit.branches.size(), circuit.modes.size());
    const auto goal = [](double seconds) { return seconds > 0 ? std::optional(seconds) : std::nullopt; };
    row("match, " + size, cpu_of([&] { (void)match(testing::solver(), circuit, job, options); }), "s",
        goal(grown.match_goal));
    row("  next", cpu_of([&] { (void)next_tests(testing::solver(), circuit, job, options); }), "s");
    row("  plan", cpu_of([&] { (void)plan_tests(testing::solver(), circuit, job, options); }), "s",
        goal(grown.plan_goal));
}

/// Readings of the cab blower with a third of an ohm in its bulkhead pin, written again and again.
std::vector<std::string> many_readings(std::size_t count) {
    static constexpr std::string_view told[] = {"key run, hi  B1+ to B1-  14.10V",
                                                "key run, off  M1.1 to B1-  14.20V",
                                                "key run, hi  F7.2 to B1-  14.07V",
                                                "key run, hi  M1.1 to B1-  10.20V",
                                                "key run, hi  M1.2 to B1-  0.12V",
                                                "key run, hi  clamp 542  12.4A",
                                                "key run, mh  M1.1 to B1-  11.0V",
                                                "key run, lo  M1.1 to B1-  13.0V",
                                                "key run, ml  across C101.4  1.9V",
                                                "key run, hi  across C101.4  3.6V",
                                                "fuse F7 good",
                                                "key run, lo,ml,mh  M1 slow",
                                                "key run, hi  relay K3 clicks"};
    std::vector<std::string> readings;
    for (std::size_t i = 0; i < count; ++i) readings.emplace_back(told[i % std::size(told)]);
    return readings;
}

void bench_readings(const Options& options) {
    const CircuitReading reading = read_circuit_file(options.scenarios + "/bookmobile/cab-blower.toml");
    if (!reading.circuit) return fmt::print("  the cab blower cannot be read\n");
    for (const auto& [count, goal] : {std::pair{13u, 0.3}, std::pair{50u, 0.5}, std::pair{200u, 2.0}}) {
        if (options.short_run && count > 50) break;
        Job job;
        Problems problems;
        for (const std::string& phrase : many_readings(count))
            add_reading(job, *reading.circuit, TypedText::argument("bench", phrase), problems);
        if (problems.has_errors()) return fmt::print("  a reading cannot be read\n");
        MatchOptions match_options;
        match_options.workers = 1;
        row(fmt::format("match, {} readings of the cab blower", count),
            cpu_of([&] { (void)match(testing::solver(), *reading.circuit, job, match_options); }), "s", goal);
    }
}

}  // namespace

void bench_growth(const Options& options) {
    heading("Growth");
    std::vector<Grown> all;
    for (const int count : {10, 30, 100, 300}) {
        if (options.short_run && count > 30) break;
        const int middle = count / 2;
        all.push_back({fmt::format("chain of {}", count),
                       chain_text(count),
                       {"on  blower slow", "key run, on  M1.1 to B1-  10.3V",
                        fmt::format("key run, on  C{}.1@w{} to B1-  12.9V", middle, middle - 1)},
                       count == 300 ? 5.0 : 0.0,
                       count == 300 ? 15.0 : 0.0});
    }
    for (const int count : {10, 30, 100}) {
        if (options.short_run && count > 30) break;
        all.push_back({fmt::format("{} loads in parallel", count),
                       parallel_text(count),
                       {"key run, on  L1.1 to L1.2  10.3V", "key run, on  L2.1 to B1-  13.9V"},
                       0,
                       0});
    }
    for (const int count : {1, 2, 4, 8}) {
        if (options.short_run && count > 2) break;
        all.push_back({fmt::format("{} blowers behind one battery", count),
                       copies_text(count),
                       {"S1=lo M1 slow", "key run, S1=hi  M1.1 to B1-  10.3V"},
                       0,
                       0});
    }
    for (const int count : {10, 20, 40}) {
        if (options.short_run && count > 10) break;
        all.push_back(
            {fmt::format("{} lamps, each behind its switch", count), lamps_text(count), {"S3=on L3 dead"}, 0, 0});
    }
    for (const Grown& one : all) bench_one(one);
    bench_readings(options);
}

}  // namespace voltfall::bench
