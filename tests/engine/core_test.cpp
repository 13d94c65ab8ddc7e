// The core's own properties: exact elimination, sources without ohms, motors that just turn, sweeps, confirmation.
#include <cmath>
#include <thread>

#include "engine/solve/connections.hpp"
#include "engine/solve/core_simulator.hpp"
#include "engine/solve/jobs.hpp"
#include "engine/solve/settled.hpp"
#include "engine/solve/star_mesh.hpp"
#include "engine/solve/way_round.hpp"
#include "netlists/graph/paths.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"
#include "tests/support/scenario.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall::test {

namespace {

double worst_difference(const OperatingPoint& one, const OperatingPoint& other) {
    double worst = 0;
    for (std::size_t i = 0; i < one.volts.size(); ++i) worst = std::max(worst, std::abs(one.volts[i] - other.volts[i]));
    return worst;
}

/// A simulator of record that is off by some volts at one joint, or gone.
class FalseRecord final : public Simulator {
public:
    double shift{0};
    bool lost{false};
    SolveResult solve(const Network& network) override {
        if (lost) return tl::unexpected(SolveFailure{SolveFailure::Kind::engine_lost, "it has left"});
        SolveResult result = ngspice().solve(network);
        if (result) result->volts.back() += shift;
        return result;
    }
};

/// Battery, contact ohms, a motor to ground.
struct MotorCircuit {
    BranchCircuit made;
    BranchId feed;
    BranchId motor;

    explicit MotorCircuit(double volts, double friction_amps) {
        made.branch("battery", "plus", "0", Source{volts, volts, 0.01});
        feed = made.resistor("feed", "plus", "m", 0.05);
        Motor law;
        law.armature_ohms = 0.2;
        law.constant = 0.025;
        law.friction_torque = law.constant * friction_amps;
        law.fan_torque = law.constant * 10 / (366.5 * 366.5);
        motor = made.branch("motor", "m", "0", law);
    }
};

}  // namespace

TEST_CASE("eliminating star to mesh loses no digit between a microohm and a teraohm") {
    // A divider of 1 and 2 ohm behind 1 uohm, with 1 Tohm to nowhere: 1 A driven in at the end sees 3.000001 ohm.
    const std::vector<BranchEnds> ends{{1, 0}, {2, 1}, {3, 2}, {3, 4}};
    StarMesh mesh;
    mesh.begin(std::make_shared<const StarMeshPlan>(plan_star_mesh(ends, 4)), 0);
    mesh.add_shunt(4, 1e-12);
    const std::vector<double> ohms{1, 2, 1e-6, 1e12};
    for (std::size_t i = 0; i < ends.size(); ++i) mesh.add(i, ends[i], 1 / ohms[i]);
    mesh.eliminate();
    std::vector<double> amps{0, 0, 0, 1, 0};
    mesh.solve(amps);
    CHECK(std::abs(amps[3] - 3.000001) < 1e-11);
    CHECK(std::abs(amps[2] - 3) < 1e-11);
    CHECK(std::abs(amps[1] - 1) < 1e-11);
    CHECK(amps[4] == Approx(amps[3] / 2));
}

TEST_CASE("sources without ohms stand anywhere, and carry what flows at their ends") {
    BranchCircuit made;
    const BranchId low = made.branch("low", "a", "0", Source{6, 6, 0});
    const BranchId high = made.branch("high", "b", "a", Source{6, 6, 0});
    const BranchId floating = made.branch("floating", "d", "c", Source{1.5, 1.5, 0});
    made.resistor("load", "b", "0", 3);
    made.resistor("tie", "c", "b", 1);
    made.resistor("end", "d", "0", 9);
    CoreSimulator core(ngspice());
    const SolveResult point = core.solve(made.network());
    const SolveResult record = ngspice().solve(made.network());
    REQUIRE(point);
    REQUIRE(record);
    CHECK(core.counters().handed_over == 0);
    CHECK(worst_difference(*point, *record) < 1e-9);
    for (const BranchId id : {low, high, floating})
        CHECK(point->amps[id.index] == Approx(record->amps[id.index]).margin(1e-9));
    // 13.5 V over 10 ohm, 12 V over 3 ohm (Ohm's law).
    CHECK(point->amps[floating.index] == Approx(-1.35).margin(1e-6));
    CHECK(point->amps[high.index] == Approx(-(4 + 1.35)).margin(1e-6));
}

TEST_CASE("sources without ohms against each other are the simulator of record's to refuse") {
    BranchCircuit made;
    made.branch("one", "a", "0", Source{12, 12, 0});
    made.branch("other", "a", "0", Source{11, 11, 0});
    CoreSimulator core(ngspice());
    CHECK_FALSE(core.solve(made.network()));
    CHECK(core.counters().handed_over == 1);
}

TEST_CASE("a motor that only just turns comes to rest in Newton's method") {
    // Where the torque just beats friction the curve has a slope of nothing: steps over it must be cut back.
    CoreSimulator core(ngspice());
    for (const double friction : {0.5, 2.0, 5.0}) {
        for (const double excess : {1e-9, 1e-6, 1e-3, 0.1}) {
            const double volts = friction * (0.2 + 0.05 + 0.01) + excess;
            MotorCircuit circuit(volts, friction);
            Network network = circuit.made.network();
            network.at(circuit.motor).turning = Turning::forward;
            INFO("friction " << friction << " A, " << excess << " V more than it needs");
            const SolveResult point = core.solve(network);
            REQUIRE(point);
            const SolveResult record = ngspice().solve(network);
            if (record) CHECK(worst_difference(*point, *record) < 1e-6);
        }
    }
    CHECK(core.counters().handed_over == 0);
}

TEST_CASE("a motor poled the other way round has the same figures with the other sign") {
    CoreSimulator core(ngspice());
    const auto solved = [&](double volts, Turning turning) {
        MotorCircuit circuit(volts, 2);
        auto& law = std::get<Motor>(circuit.made.circuit().branches[circuit.motor.index].law);
        law.brush_volts = 1;
        law.brush_soft_amps = 0.1;
        Network network = circuit.made.network();
        network.at(circuit.motor).turning = turning;
        const SolveResult point = core.solve(network);
        REQUIRE(point);
        const SolveResult record = ngspice().solve(network);
        REQUIRE(record);
        CHECK(worst_difference(*point, *record) < 1e-6);
        return std::pair(point->amps[circuit.motor.index], point->speed[circuit.motor.index]);
    };
    const auto [amps, speed] = solved(13.5, Turning::forward);
    // 12.5 V are left for 0.26 ohm and 25 mV a rad/s; 2 A turn the shaft, 10 A the fan at 366.5 rad/s.
    CHECK(12.5 - 0.26 * amps == Approx(0.025 * speed).epsilon(1e-4));
    CHECK(amps == Approx(2 + 10 * speed * speed / (366.5 * 366.5)).epsilon(1e-3));
    const auto [amps_back, speed_back] = solved(-13.5, Turning::backward);
    CHECK(amps_back == Approx(-amps).epsilon(1e-9));
    CHECK(speed_back == Approx(-speed).epsilon(1e-9));
    CHECK(core.counters().handed_over == 0);
}

TEST_CASE("a diode's volts follow its emission, by Shockley's law") {
    CoreSimulator core(ngspice());
    for (const double emission : {1.0, 1.5, 2.0}) {
        BranchCircuit made;
        made.source("B1", "plus", "0", 12, 0.01);
        const BranchId diode = made.branch("D1", "plus", "lamp", Diode{1e-12, emission});
        made.resistor("L1", "lamp", "0", 9.99);
        for (Simulator* simulator : {static_cast<Simulator*>(&core), static_cast<Simulator*>(&ngspice())}) {
            const SolveResult point = simulator->solve(made.network());
            REQUIRE(point);
            const double amps = point->amps[diode.index];
            const double volts = point->volts[made.joint("plus").index] - point->volts[made.joint("lamp").index];
            INFO("emission " << emission);
            CHECK(amps == Approx((12 - volts) / 10).epsilon(1e-6));
            // n kT/q ln(I / Is + 1), with 25.85 mV at 300 K.
            CHECK(volts == Approx(emission * 0.02585 * std::log(amps / 1e-12 + 1)).epsilon(0.003));
        }
    }
}

TEST_CASE("ohms that a fault adds to a battery stand in its current's way") {
    CoreSimulator core(ngspice());
    BranchCircuit made;
    const BranchId cell = made.source("B1", "plus", "0", 12, 0.01);
    const BranchId lamp = made.resistor("L1", "plus", "0", 1);
    Network network = made.network();
    network.apply(std::vector<Change>{AddOhms{cell, 0.49}});
    for (Simulator* simulator : {static_cast<Simulator*>(&core), static_cast<Simulator*>(&ngspice())}) {
        const SolveResult point = simulator->solve(network);
        REQUIRE(point);
        CHECK(point->amps[lamp.index] == Approx(8).epsilon(1e-6));
    }
}

TEST_CASE("a sweep over many ohms gives what each network gives by itself") {
    CoreSimulator sweeping(ngspice());
    CoreSimulator single(ngspice());
    for (unsigned number = 1; number <= 60; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        for (std::size_t branch = 0; branch < circuit.branches.size(); branch += 3) {
            std::vector<Network> networks;
            for (const double ohms : {1e-3, 0.02, 0.3, 5.0, 100.0, 1e4}) {
                networks.emplace_back(circuit);
                networks.back().branches[branch].added_ohms += ohms;
            }
            networks.emplace_back(circuit);
            networks.back().branches[branch].open = true;
            std::vector<const Network*> pointers;
            for (const Network& network : networks) pointers.push_back(&network);
            std::vector<SolveResult> together(networks.size());
            sweeping.solve_all(pointers, together);
            for (std::size_t i = 0; i < networks.size(); ++i) {
                INFO("branch " << branch << ", network " << i);
                const SolveResult alone = single.solve(networks[i]);
                REQUIRE(alone.has_value() == together[i].has_value());
                if (alone) CHECK(worst_difference(*alone, *together[i]) < 1e-8);
            }
        }
    }
    CHECK(sweeping.counters().swept > 1000);
}

TEST_CASE("what rounding leaves over at the nodes of a network is taken in") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    CoreSimulator core(ngspice());
    double worst = 0;
    for (const ModePtr& mode : circuit->modes) {
        if (!mode->catalogued) continue;
        const Fault fault{mode, mode->size ? mode->size->usual : 0.0, 0.5, {}, {}};
        for (const State& state : default_states(*circuit)) {
            const SettleResult settled = settle(core, *circuit, state, std::span(&fault, 1));
            REQUIRE(settled);
            worst = std::max(worst, check_balance(settled->network, settled->point).current);
        }
    }
    // 4.7e-12 of the largest current where the answer is put together from the answers of its ports alone (COMPUTED).
    CHECK(worst < 1e-12);
}

TEST_CASE("several threads solve as one does") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const State state = default_states(*circuit).back();
    CoreSimulator core(ngspice());
    const SettleResult alone = settle(core, *circuit, state, {});
    REQUIRE(alone);
    std::vector<double> worst(64, 1);
    run_jobs(worst.size(), 4, [&](std::size_t job) {
        const SettleResult here = settle(core, *circuit, state, {});
        worst[job] = here ? worst_difference(here->point, alone->point) : 1;
    });
    for (const double difference : worst) CHECK(difference == 0);
}

TEST_CASE("what is kept of one network's connections is not told of another's") {
    Connections connections;
    for (unsigned number = 1; number <= 30; ++number) {
        Circuit circuit = random_circuit(number);
        Network network(circuit);
        // The healthy network between two others: what was kept of it is met again.
        for (std::size_t i = 0; i < 2 * network.branches.size(); ++i) {
            NetworkBranch& branch = network.branches[i / 2];
            branch.open = i % 2 == 0;
            circuit.reference = branch.a;
            INFO("circuit " << number << ", branch " << i / 2 << (branch.open ? " open" : " as it was"));
            connections.look_at(network);
            CHECK(connections.floating() == floating_joints(network));
            CHECK(connections.nodes().of_joint == number_nodes(network).of_joint);
            std::vector<std::size_t> motors;
            for (std::size_t m = 0; m < network.branches.size(); ++m) {
                if (sort_of(network.branches[m].law) == LawSort::motor) motors.push_back(m);
            }
            CHECK(connections.motors_with_way(motors) == motors_with_way_round(network, motors));
        }
    }
}

TEST_CASE("an error in a job stops the others and is thrown") {
    CHECK_THROWS_AS(run_jobs(100, 3,
                             [](std::size_t job) {
                                 if (job == 7) throw std::runtime_error("seven");
                             }),
                    std::runtime_error);
}

TEST_CASE("an answer that the simulator of record does not give is a bug, told with its joint") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    FalseRecord record;
    CoreSimulator core(record);
    const SettleResult settled = settle(core, *circuit, default_states(*circuit).back(), {});
    REQUIRE(settled);
    CHECK_NOTHROW(confirm(core, *settled));
    record.shift = 4e-6;
    try {
        confirm(core, *settled);
        FAIL("4 uV of difference passed");
    } catch (const std::logic_error& bug) {
        CHECK(std::string(bug.what()).find(circuit->joints.back().name) != std::string::npos);
    }
    // A smaller difference is a bug too, after the greater one was met.
    record.shift = 2e-6;
    CHECK_THROWS_AS(confirm(core, *settled), std::logic_error);
    record.lost = true;
    CHECK_THROWS_AS(confirm(core, *settled), std::runtime_error);
}

}  // namespace voltfall::test
