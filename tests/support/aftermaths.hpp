// What becomes of a case, followed and looked at by name; and a held winding by small steps of one's own.
#pragma once

#include <algorithm>
#include <cmath>
#include <memory>
#include <string>

#include "engine/heat/aftermath.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/scenario.hpp"

namespace voltfall {

inline Aftermath followed(const Circuit& circuit, const std::string& state, const std::string& fault, double seconds) {
    Simulator& simulator = NgspiceSession::instance();
    const HeatModel model(simulator, circuit);
    AftermathResult result =
        run_aftermath(simulator, model, state_named(circuit, state), faults_named(circuit, fault), seconds);
    REQUIRE(result);
    return *std::move(result);
}

inline const HeatEvent* event_named(const Aftermath& aftermath, const std::string& name) {
    for (const HeatEvent& event : aftermath.events) {
        if (event.name == name) return &event;
    }
    return nullptr;
}

inline const BodyHeat& body_named(const Aftermath& aftermath, const std::string& name) {
    for (const BodyHeat& body : aftermath.bodies) {
        if (body.name == name) return body;
    }
    FAIL("no body " << name);
    return aftermath.bodies.front();
}

inline std::shared_ptr<const Circuit> read_text(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "heat.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

/// A blower on high behind something that opens, or behind nothing.
inline std::shared_ptr<const Circuit> blower_behind(const std::string& line) {
    const std::string feed = line.empty() ? "B1+" : "F1.2";
    return read_text("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n" +
                     (line.empty() ? "" : "F1 = \"" + line + ", feed 30\"\n") +
                     "M1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\nS1 = \"switch C: off hi=1\"\nG1 = "
                     "\"ground\"\n[wires]\nw1 = \"" +
                     feed + " > M1.1 6mm2 RD 1m\"\nw2 = \"M1.2 > S1.C 6mm2 BK 1m\"\nw3 = \"S1.1 > G1 6mm2 BK 0.5m\"\n");
}

inline const Body& model_body(const HeatModel& model, const std::string& name) {
    const auto found =
        std::find_if(model.bodies().begin(), model.bodies().end(), [&](const Body& body) { return body.name == name; });
    REQUIRE(found != model.bodies().end());
    return *found;
}

/// A held winding by small steps: 13.2 V of a charging battery less the brushes, over the ohms of its way and its own,
/// which are 12.5 / 80 ohm at 25 C and rise by 0.393 %/K of 20 C.
struct HeldWinding {
    double way_ohms{};
    double capacity{};
    double conductance{};  ///< of standing air
    double celsius{40};

    double ohms() const { return 0.15625 * (1 + 0.00393 * (celsius - 20)) / (1 + 0.00393 * 5); }
    double amps() const { return 13.2 / (way_ohms + ohms()); }
    void step(double seconds, bool closed = true) {
        const double now = closed ? amps() : 0;
        celsius += seconds * (now * now * ohms() + now - conductance * (celsius - 40)) / capacity;
    }
};

inline HeldWinding held_winding(const Circuit& circuit, const Aftermath& aftermath) {
    const HeatModel model(NgspiceSession::instance(), circuit);
    const Body& body = model_body(model, "M1 winding");
    const double cold = std::abs(aftermath.faulted.point.amps[body.branch.index]);
    return {13.2 / cold - 0.15625, body.capacity, body.still_air};
}

}  // namespace voltfall
