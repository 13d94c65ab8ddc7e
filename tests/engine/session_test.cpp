// What the library does and how the session holds it; rows of the measured behaviour that matter are kept here so that
// a newer library tells what changed.
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>

#include "engine/ngspice/ngspice_library.hpp"
#include "engine/ngspice/ngspice_session.hpp"
#include "netlists/platform/shared_library.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

/// 12 V over 100 and 200 ohm: 8 V in the middle.
struct Divider {
    BranchCircuit made;
    BranchId source = made.source("B1", "plus", "0", 12);
    BranchId upper = made.resistor("R1", "plus", "mid", 100);
    BranchId lower = made.resistor("R2", "mid", "0", 200);
    JointId mid = made.joint("mid");
};

[[maybe_unused]] long resident_kilobytes() {
    std::ifstream file("/proc/self/statm");
    long total = 0;
    long resident = 0;
    file >> total >> resident;
    return resident * 4;
}

}  // namespace

TEST_CASE("a library that is not there, or lacks a function, is told by what it is for") {
    const auto complaint = [](const auto& work) {
        try {
            work();
        } catch (const std::runtime_error& error) {
            return std::string(error.what());
        }
        return std::string("nothing");
    };
    CHECK(complaint([] {
              SharedLibrary("libnowhere.so.77", "the ladder");
          }).starts_with("the ladder is not there: libnowhere.so.77"));
    int (*function)(){};
    CHECK(complaint([&] {
              SharedLibrary("libm.so.6", "the ladder").find("climb", function);
          }).starts_with("the ladder is not there: "));
}

TEST_CASE("the session solves a divider, with currents from first to second joint") {
    Divider divider;
    const SolveResult point = session().solve(divider.made.network());
    REQUIRE(point);
    CHECK(point->volts[divider.mid.index] == Approx(8).epsilon(1e-6));
    CHECK(point->amps[divider.upper.index] == Approx(0.04).epsilon(1e-5));
    // A battery that gives current has it running from minus to plus inside.
    CHECK(point->amps[divider.source.index] == Approx(-0.04).epsilon(1e-5));
}

TEST_CASE("a value is altered without a new deck, and altering back is exact") {
    Divider divider;
    const Network healthy = divider.made.network();
    REQUIRE(session().solve(healthy));
    const auto before = session().counters();
    Network faulty = healthy;
    faulty.at(divider.lower).added_ohms = 200;
    const SolveResult changed = session().solve(faulty);
    REQUIRE(changed);
    CHECK(changed->volts[divider.mid.index] == Approx(9.6).epsilon(1e-6));
    const SolveResult back = session().solve(healthy);
    REQUIRE(back);
    CHECK(back->volts[divider.mid.index] == Approx(8).epsilon(1e-6));
    CHECK(session().counters().loads == before.loads);
    CHECK(session().counters().alters == before.alters + 2);
    CHECK(session().counters().operating_points == before.operating_points + 2);
}

TEST_CASE("a new structure is loaded as a new deck and the old one is right again afterwards") {
    Divider divider;
    const Network healthy = divider.made.network();
    REQUIRE(session().solve(healthy));
    Network shorted = healthy;
    shorted.connect(divider.mid, divider.made.circuit().reference, Resistor{0.01});
    const long loads = session().counters().loads;
    const SolveResult low = session().solve(shorted);
    REQUIRE(low);
    CHECK(low->volts[divider.mid.index] < 0.01);
    CHECK(session().counters().loads == loads + 1);
    const SolveResult back = session().solve(healthy);
    REQUIRE(back);
    CHECK(back->volts[divider.mid.index] == Approx(8).epsilon(1e-6));
}

TEST_CASE("EMF, motor constant, friction, fan and brake can all be altered in a loaded deck") {
    BranchCircuit made;
    const BranchId source = made.source("B1", "plus", "0", 13.5, 0.01);
    const BranchId motor = made.branch("M1", "plus", "0", Motor{0.15, 1.0, 0.2, 0.025, 0.0, 3.8e-6, Rotor::free});
    const Network healthy = made.network();
    const auto fresh = [](const Network& network) {
        // Forces a load: a structure of another kind in between.
        Divider divider;
        REQUIRE(session().solve(divider.made.network()));
        const SolveResult point = session().solve(network);
        REQUIRE(point);
        return *point;
    };
    const auto altered = [&](const Network& network) {
        REQUIRE(session().solve(healthy));
        const long loads = session().counters().loads;
        const SolveResult point = session().solve(network);
        REQUIRE(point);
        CHECK(session().counters().loads == loads);
        return *point;
    };
    const auto check_same = [&](Network network) {
        const OperatingPoint by_altering = altered(network);
        const OperatingPoint by_loading = fresh(network);
        CHECK(by_altering.amps[motor.index] == Approx(by_loading.amps[motor.index]).epsilon(1e-9));
        CHECK(by_altering.speed[motor.index] == Approx(by_loading.speed[motor.index]).epsilon(1e-9).margin(1e-9));
        return by_altering.amps[motor.index];
    };
    const double amps = check_same(healthy);
    Network changed = healthy;
    std::get<Source>(changed.at(source).law).volts = 10;
    CHECK(check_same(changed) < amps);
    changed = healthy;
    std::get<Motor>(changed.at(motor).law).constant = 0.02;
    CHECK(check_same(changed) > amps);
    changed = healthy;
    std::get<Motor>(changed.at(motor).law).friction_torque = 0.1;
    CHECK(check_same(changed) > amps);
    changed = healthy;
    std::get<Motor>(changed.at(motor).law).fan_torque = 2e-6;
    CHECK(check_same(changed) < amps);
    changed = healthy;
    changed.at(motor).turning = Turning::standing;
    CHECK(check_same(changed) > 3 * amps);
}

TEST_CASE("joints without ohms between them read the same volts and the branch has no current of its own") {
    Divider divider;
    const BranchId splice = divider.made.resistor("SP1", "mid", "leg", 0);
    const SolveResult point = session().solve(divider.made.network());
    REQUIRE(point);
    CHECK(point->volts[divider.made.joint("leg").index] == point->volts[divider.mid.index]);
    CHECK(std::isnan(point->amps[splice.index]));
}

TEST_CASE("two batteries fighting without any ohms are no solution, and the next circuit is right") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    made.source("B2", "plus", "0", 14);
    made.resistor("R1", "plus", "0", 10);
    const SolveResult point = session().solve(made.network());
    REQUIRE_FALSE(point);
    CHECK(point.error().kind == SolveFailure::Kind::no_solution);
    CHECK(point.error().message.find("no steady solution") != std::string::npos);
    Divider divider;
    const SolveResult next = session().solve(divider.made.network());
    REQUIRE(next);
    CHECK(next->volts[divider.mid.index] == Approx(8).epsilon(1e-6));
}

TEST_CASE("two equal batteries in parallel without ohms have no single solution") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    made.source("B2", "plus", "0", 12);
    made.resistor("R1", "plus", "0", 10);
    CHECK_FALSE(session().solve(made.network()));
}

TEST_CASE("a battery shorted by plain copper is no solution, never a number") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    made.resistor("R1", "plus", "0", 0);
    const SolveResult point = session().solve(made.network());
    REQUIRE_FALSE(point);
    CHECK(point.error().kind == SolveFailure::Kind::no_solution);
}

TEST_CASE("values that the library would misread are refused before it sees them") {
    Divider divider;
    const Network healthy = divider.made.network();
    REQUIRE(session().solve(healthy));
    for (const double wrong : {std::numeric_limits<double>::quiet_NaN(), -5.0}) {
        Network bad = healthy;
        std::get<Resistor>(bad.at(divider.lower).law).ohms = wrong;
        if (wrong < 0) bad.at(divider.lower).added_ohms = 0;
        const SolveResult point = session().solve(bad);
        if (wrong < 0) continue;  // less than nothing is read as copper
        REQUIRE_FALSE(point);
        CHECK(point.error().kind == SolveFailure::Kind::bad_network);
    }
    Network endless = healthy;
    std::get<Source>(endless.at(divider.source).law).volts = std::numeric_limits<double>::infinity();
    CHECK(session().solve(endless).error().kind == SolveFailure::Kind::bad_network);
    REQUIRE(session().solve(healthy));
}

TEST_CASE("volts without bound are no solution") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 3e6, 1);
    CHECK_FALSE(session().solve(made.network()));
}

TEST_CASE("a dead stub behind an open reads what shunt and open leave it, microvolts") {
    Divider divider;
    const BranchId wire = divider.made.resistor("W1", "mid", "stub", 0.01);
    Network network = divider.made.network();
    network.at(wire).open = true;
    const SolveResult point = session().solve(network);
    REQUIRE(point);
    CHECK(std::abs(point->volts[divider.made.joint("stub").index]) < 2e-3);
}

TEST_CASE("without shunts megohms divide exactly") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 24);
    made.resistor("R1", "plus", "mid", 250e6);
    made.resistor("R2", "mid", "0", 250e6);
    const SolveResult exact = session().solve_without_shunts(made.network());
    REQUIRE(exact);
    CHECK(exact->volts[made.joint("mid").index] == Approx(12).epsilon(1e-9));
    // With them the middle is pulled down: that is why.
    CHECK(session().solve(made.network())->volts[made.joint("mid").index] < 6);
}

#ifndef __SANITIZE_ADDRESS__  // it keeps freed memory in quarantine
TEST_CASE("memory stays flat over many solves and loads") {
    Divider divider;
    const Network healthy = divider.made.network();
    Network faulty = healthy;
    faulty.at(divider.lower).added_ohms = 1;
    Network other = healthy;
    other.connect(divider.mid, divider.made.circuit().reference, Resistor{5});
    const auto solve_some = [&](int rounds) {
        for (int i = 0; i < rounds; ++i) {
            REQUIRE(session().solve(healthy));
            REQUIRE(session().solve(faulty));
            if (i % 20 == 0) REQUIRE(session().solve(other));
        }
    };
    solve_some(1000);
    const long before = resident_kilobytes();
    solve_some(9000);
    CHECK(resident_kilobytes() - before < 2000);
}
#endif

TEST_CASE("the library's start leaves directory, environment and temporary files as they were") {
    REQUIRE(session().version().find("ngspice") == 0);
    const auto here = std::filesystem::current_path();
    CHECK(here.string().find("voltfall-") == std::string::npos);
    const char* scripts = std::getenv("SPICE_SCRIPTS");
    CHECK((scripts == nullptr || std::string(scripts).find("voltfall-") == std::string::npos));
}

TEST_CASE("the library accepts both spellings of a wrong command with rc 0: only its text tells") {
    Divider divider;
    REQUIRE(session().solve(divider.made.network()));
    CHECK(ngspice_library().command(const_cast<char*>("alter @r99[resistance] = 4")) == 0);
    // The circuit is unchanged and the session goes on.
    const SolveResult point = session().solve(divider.made.network());
    REQUIRE(point);
    CHECK(point->volts[divider.mid.index] == Approx(8).epsilon(1e-6));
}

TEST_CASE("a wrong point breaks the current law") {
    Divider divider;
    const Network network = divider.made.network();
    SolveResult point = session().solve(network);
    REQUIRE(point);
    Balance balance = check_balance(network, *point);
    CHECK(balance.current < balance_tolerance);
    CHECK(balance.power < balance_tolerance);
    point->amps[divider.upper.index] *= 1.0001;
    balance = check_balance(network, *point);
    CHECK(balance.current > balance_tolerance);
}

TEST_CASE("a solution of nothing but zeros breaks the sources' law") {
    Divider divider;
    const Network network = divider.made.network();
    OperatingPoint zeros{std::vector<double>(network.joints, 0.0), std::vector<double>(network.branches.size(), 0.0),
                         std::vector<double>(network.branches.size(), 0.0)};
    CHECK_FALSE(check_balance(network, zeros).holds());
    const SolveResult point = session().solve(network);
    REQUIRE(point);
    CHECK(check_balance(network, *point).holds());
}

TEST_CASE("hundreds of sound loads at one joint are no bug") {
    BranchCircuit made;
    made.branch("B1", "plus", "0", Source{12.6, 14.2, 0.008});
    for (int i = 0; i < 400; ++i) {
        const std::string joint = "l" + std::to_string(i);
        made.resistor("wire" + std::to_string(i), "plus", joint, 0.018);
        made.resistor("lamp" + std::to_string(i), joint, "0", 28.8);
    }
    const SolveResult point = session().solve(made.network());
    REQUIRE(point);
    CHECK(check_balance(made.network(), *point).holds());
}

TEST_CASE("a wrong motor speed breaks the power balance") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5, 0.01);
    const BranchId motor = made.branch("M1", "plus", "0", Motor{0.15, 1.0, 0.2, 0.025, 0.02, 3.8e-6, Rotor::free});
    SolveResult point = session().solve(made.network());
    REQUIRE(point);
    CHECK(check_balance(made.network(), *point).power < balance_tolerance);
    point->speed[motor.index] *= 1.001;
    CHECK(check_balance(made.network(), *point).power > balance_tolerance);
}

}  // namespace voltfall::test
