// A whole `match` of a small circuit that the bytes choose: never a crash, and probabilities add up to one.
#include <cmath>

#include "engine/diagnosis/match.hpp"
#include "engine/solve/core_simulator.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/fuzz/fuzzed.hpp"

namespace {

using namespace voltfall;

/// Bytes as choices; 0 when they are used up.
class Choices {
public:
    Choices(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}
    unsigned of(unsigned count) {
        if (left_ == 0) return 0;
        --left_;
        return *data_++ % count;
    }

private:
    const std::uint8_t* data_;
    std::size_t left_;
};

/// A load behind a fuse, some connectors and a switch in its feed or its ground.
std::string circuit_text(Choices& choose) {
    static const char* const loads[] = {"motor 20A @13.5V, 3500rpm, stall 80A", "lamp 21W", "resistor 0.6ohm 250W",
                                        "clutch 3.6ohm, pulls 7.5V"};
    const unsigned connectors = 1 + choose.of(3);
    std::string text =
        "format = 1\nname = \"fuzz\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 30A maxi, "
        "feed 30\"\nS1 = \"switch "
        "C: off on=1\"\nG1 = \"ground stud\"\nL1 = \"" +
        std::string(loads[choose.of(4)]) + "\"\n";
    for (unsigned i = 1; i <= connectors; ++i) text += "C" + std::to_string(i) + " = \"connector inline, 2 way\"\n";
    std::string at = "F1.2";
    std::string wires = "[wires]\n";
    unsigned number = 1;
    const auto wire = [&](const std::string& to) {
        wires += "w" + std::to_string(number++) + " = \"" + at + " > " + to + " " + std::to_string(1 + choose.of(6)) +
                 "mm2 RD " + std::to_string(1 + choose.of(9)) + "m\"\n";
    };
    for (unsigned i = 1; i <= connectors; ++i) {
        wire("C" + std::to_string(i) + ".1");
        at = "C" + std::to_string(i) + ".1";
    }
    const bool high_side = choose.of(2) == 0;
    if (high_side) {
        wire("S1.C");
        at = "S1.1";
    }
    wire("L1.1");
    at = "L1.2";
    if (!high_side) {
        wire("S1.C");
        at = "S1.1";
    }
    wire("G1");
    return text + wires;
}

/// In the place of the simulator of record: the core stands alone here.
class Nobody final : public Simulator {
public:
    SolveResult solve(const Network&) override {
        return tl::unexpected(SolveFailure{SolveFailure::Kind::no_solution, "nobody is asked"});
    }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    Choices choose(data, size);
    const CircuitReading reading = read_circuit_text(circuit_text(choose), "fuzz.toml");
    if (!reading.circuit) std::abort();
    static const char* const points[] = {"L1.1", "L1.2", "F1.2", "C1.1", "S1.C"};
    Job job;
    Problems problems;
    const unsigned readings = choose.of(5);
    for (unsigned i = 0; i < readings; ++i) {
        std::string phrase = choose.of(2) == 0 ? "on, key run  " : "off, key run  ";
        if (choose.of(4) == 0)
            phrase += choose.of(2) == 0 ? "fuse F1 good" : "fuse F1 blown";
        else
            phrase += std::string(points[choose.of(5)]) + " to B1-  " +
                      std::to_string(choose.of(150) / 10.0).substr(0, 5) + "V";
        add_reading(job, *reading.circuit, TypedText::argument("reading", phrase), problems);
    }
    static Nobody nobody;
    static CoreSimulator simulator(nobody);
    MatchOptions options;
    options.workers = 1;
    const MatchAnswer answer = match(simulator, *reading.circuit, job, options);
    for (const Candidate& candidate : answer.candidates)
        if (!(candidate.probability >= 0 && candidate.probability <= 1 + 1e-9)) std::abort();
    if (!std::isfinite(answer.none_of_these)) std::abort();
    return 0;
}
