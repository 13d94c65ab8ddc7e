// A branch law added by one file and its name in `Law` is solved by both solvers, swept, linearised and written to a
// deck.
#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/core_simulator.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using voltfall::test::BranchCircuit;

namespace {

constexpr double supply_volts = 12;
constexpr double supply_ohms = 0.1;
constexpr double series_ohms = 1.9;

/// 12 V, 2 ohm, then the law to ground, with 50 ohm beside it, and a ladder of 20 rungs as ballast: a sweep pays only
/// where an elimination costs more than a port.
struct LawCircuit {
    BranchCircuit made;
    BranchId law;

    LawCircuit() {
        made.source("supply", "plus", "0", supply_volts, supply_ohms);
        made.resistor("series", "plus", "law", series_ohms);
        law = made.branch("law", "law", "0", CubicResistor{4, 6});
        made.resistor("beside", "law", "0", 50);
        std::string last = "plus";
        for (int rung = 1; rung <= 20; ++rung) {
            const std::string next = "rung" + std::to_string(rung);
            made.resistor("rail" + std::to_string(rung), last, next, 1);
            made.resistor(next, next, "0", 100);
            last = next;
        }
    }
    std::size_t joint() { return made.joint("law").index; }
};

double worst_difference(const OperatingPoint& one, const OperatingPoint& other) {
    double worst = 0;
    for (std::size_t i = 0; i < one.volts.size(); ++i) worst = std::max(worst, std::abs(one.volts[i] - other.volts[i]));
    return worst;
}

}  // namespace

TEST_CASE("a toy law is solved by the core as by ngspice, with and without a fault's ohms, and open") {
    LawCircuit circuit;
    CoreSimulator core(NgspiceSession::instance());
    for (const double added : {0.0, 1e-3, 0.5, 8.0, 1e5}) {
        for (const bool open : {false, true}) {
            Network network = circuit.made.network();
            network.at(circuit.law).added_ohms = added;
            network.at(circuit.law).open = open;
            const SolveResult by_core = core.solve(network);
            const SolveResult of_record = NgspiceSession::instance().solve(network);
            INFO(added << " ohm added, open " << open);
            REQUIRE(by_core);
            REQUIRE(of_record);
            CHECK(worst_difference(*by_core, *of_record) < confirmed_within);
            CHECK(check_balance(network, *by_core).holds());
            CHECK_NOTHROW(core.confirm(network, *by_core, {}));
        }
    }
    CHECK(core.counters().handed_over == 0);
}

TEST_CASE("a toy law's operating point is the root of its cubic") {
    LawCircuit circuit;
    CoreSimulator core(NgspiceSession::instance());
    const SolveResult point = core.solve(circuit.made.network());
    REQUIRE(point);
    // What comes through the resistor goes through the law and the 50 ohm beside it; by bisection.
    const double feed = point->volts[circuit.made.joint("plus").index];
    double low = 0;
    double high = feed;
    for (int step = 0; step < 100; ++step) {
        const double volts = (low + high) / 2;
        const double excess = volts / 4 * (1 + volts * volts / 36) + volts / 50 - (feed - volts) / series_ohms;
        (excess > 0 ? high : low) = volts;
    }
    CHECK(point->volts[circuit.joint()] == Approx(low).epsilon(1e-7));
}

TEST_CASE("a toy law is swept in size as it is solved one by one") {
    LawCircuit circuit;
    CoreSimulator core(NgspiceSession::instance());
    std::vector<Network> networks;
    for (const double ohms : {1.0, 2.0, 3.0, 4.0, 6.0, 9.0, 14.0, 20.0}) {
        Network network = circuit.made.network();
        network.at(circuit.law).law = CubicResistor{ohms, 6};
        networks.push_back(network);
    }
    std::vector<const Network*> asked;
    for (const Network& network : networks) asked.push_back(&network);
    std::vector<SolveResult> swept(networks.size());
    core.solve_all(asked, swept);
    for (std::size_t i = 0; i < networks.size(); ++i) {
        REQUIRE(swept[i]);
        const SolveResult alone = NgspiceSession::instance().solve(networks[i]);
        REQUIRE(alone);
        CHECK(worst_difference(*swept[i], *alone) < confirmed_within);
    }
    CHECK(core.counters().swept > 0);
}

TEST_CASE("a toy law is linearised by its own slope") {
    LawCircuit circuit;
    CoreSimulator core(NgspiceSession::instance());
    const BranchId series{1};
    const auto volts_at = [&](double ohms) {
        Network network = circuit.made.network();
        network.at(series).law = Resistor{ohms};
        const SolveResult point = core.solve(network);
        REQUIRE(point);
        return point->volts[circuit.joint()];
    };
    const Network network = circuit.made.network();
    const SolveResult point = core.solve(network);
    REQUIRE(point);
    const double slope =
        LinearCircuit(network, *point).volts_per_ohm(circuit.made.joint("law"), circuit.made.joint("0"), series);
    constexpr double step = 1e-4;
    CHECK(slope == Approx((volts_at(series_ohms + step) - volts_at(series_ohms - step)) / (2 * step)).epsilon(1e-5));
}
