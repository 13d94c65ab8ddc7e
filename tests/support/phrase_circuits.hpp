// Circuits that the tests of phrases read their phrases against.
#pragma once

#include <fstream>
#include <memory>
#include <sstream>
#include <string>

#include "netlists/files/circuit_file.hpp"
#include "netlists/text/words.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::testing {

inline std::string all_problems(const Problems& problems) {
    std::string text;
    for (const Problem& problem : problems.list()) {
        if (problem.severity != Severity::error) continue;
        text += std::to_string(problem.place.line) + ":" + std::to_string(problem.place.column) + " " +
                problem.message + " | " + problem.suggestion + "\n";
    }
    return text;
}

inline std::shared_ptr<const Circuit> circuit_of(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "test.toml");
    INFO(all_problems(reading.problems));
    REQUIRE(reading.circuit);
    return reading.circuit;
}

inline std::string cab_blower_text() {
    std::ifstream stream(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml");
    std::stringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// The example circuit: a cab blower with four speeds, a pack switched to ground and a relay for the highest.
inline const Circuit& cab_blower() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(cab_blower_text());
    return *circuit;
}

/// The same circuit with one of its texts changed.
inline std::shared_ptr<const Circuit> cab_blower_with(const std::string& from, const std::string& to) {
    std::string text = cab_blower_text();
    REQUIRE(text.find(from) != std::string::npos);
    return circuit_of(text.replace(text.find(from), from.size(), to));
}

/// Two switches with positions of the same name, a clutch and a fan, a pressure switch, chained wires, a breaker.
inline const Circuit& two_controls() {
    static const std::shared_ptr<const Circuit> circuit = circuit_of(R"(format = 1
name = "two controls"
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 30A regular, feed 30"
F2 = "fuse 10A mini, feed 15"
CB1 = "breaker 20A resets, feed 30"
S1 = "switch C: off lo=1 hi=2"
S2 = "switch C: off hi=1 fast=2"
M1 = "motor 10A @13.5V, 3500rpm, stall 40A"
M2 = "motor 8A @13.5V, 3000rpm, stall 30A"
M3 = "motor 5A @13.5V, 3000rpm, stall 20A"
R1 = "resistor 0.6ohm 100W"
A1 = "clutch 3.6ohm, pulls 7.5V"
P1 = "contact opens 1.96bar, closes 2.25bar, healthy 2.5bar"
C205 = "connector, 4 way"
C310 = "connector, 4 way"
G1 = "ground frame"
[wires]
10 = "F1.2 > S1.C 3mm2 RD 1m"
801 = "S1.2 > C205.A > C310.1 > M1.1 3mm2 OG 1.1m 0.8m 0.5m"
61 = "S1.1 > R1.1 3mm2 BN 1m"
62 = "R1.2 > C310.2 2mm2 BU 0.3m"
802 = "C310.2 > M1.1 2mm2 BU 0.3m"
64 = "M1.2 > G1 3mm2 BK 0.4m"
20 = "CB1.2 > S2.C 3mm2 RD 1m"
21 = "S2.1 > C310.3 > M2.1 3mm2 YE 1m 1m"
22 = "M2.2 > G1 3mm2 BK 0.4m"
23 = "S2.2 > M3.1 1mm2 YE 2m"
24 = "M3.2 > G1 1mm2 BK 1m"
30 = "F2.2 > P1.1 1mm2 GN 1m"
31a = "P1.2 > A1.1 1mm2 GN 1m"
32 = "A1.2 > G1 1mm2 BK 1m"
[controls]
S1 = "blower"
S2 = "fan"
)");
    return *circuit;
}

inline TypedText typed(const std::string& text) {
    return TypedText::argument("test", text);
}

}  // namespace voltfall::testing
