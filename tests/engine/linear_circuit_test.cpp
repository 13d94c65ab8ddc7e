#include "engine/solve/linear_circuit.hpp"

#include <cmath>
#include <random>

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/readings/accuracy.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;

namespace {

State state_named(const Circuit& circuit, const std::string& label) {
    for (const State& state : default_states(circuit)) {
        if (state.label == label) return state;
    }
    FAIL("no state " << label);
    return {};
}

Fault fault_named(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("--fault", phrase), circuit, problems);
    REQUIRE(fault);
    return *fault;
}

/// The branch a little off: its own ohms, or the motor's amps at the same volts, times 1 + share.
void nudge(NetworkBranch& branch, double share) {
    if (auto* resistor = std::get_if<Resistor>(&branch.law)) resistor->ohms *= 1 + share;
    if (auto* contact = std::get_if<Contact>(&branch.law)) contact->ohms *= 1 + share;
    if (auto* source = std::get_if<Source>(&branch.law)) source->ohms *= 1 + share;
    if (auto* motor = std::get_if<Motor>(&branch.law)) {
        motor->armature_ohms /= 1 + share;
        motor->brush_soft_amps *= 1 + share;
        motor->friction_torque *= 1 + share;
        motor->fan_torque *= 1 + share;
    }
}

double volts_at(const OperatingPoint& point, JointId joint) {
    return point.volts[joint.index];
}

struct Readings {
    double motor{};
    double drop{};
    double amps{};
};
Readings readings(const Circuit& circuit, const OperatingPoint& point) {
    const auto joint = [&](const char* name) { return volts_at(point, circuit.find_joint(name)); };
    return {joint("C304.1"), joint("C101.4@541") - joint("C101.4@542"),
            point.amps[circuit.wire(circuit.find_wire("542")).first_half.index]};
}

void compare_with_differences(const std::string& label, const std::vector<Fault>& faults) {
    const Circuit& circuit = testing::cab_blower();
    NgspiceSession& session = NgspiceSession::instance();
    const auto settled = settle(session, circuit, state_named(circuit, label), faults);
    REQUIRE(settled);
    const LinearCircuit linear(settled->network, settled->point);
    const ReadingSlope motor = linear.volts(circuit.find_joint("C304.1"), circuit.reference);
    const ReadingSlope drop = linear.volts(circuit.find_joint("C101.4@541"), circuit.find_joint("C101.4@542"));
    const ReadingSlope amps = linear.amps(circuit.wire(circuit.find_wire("542")).first_half);

    int compared = 0;
    for (std::size_t i = 0; i < circuit.branches.size(); ++i) {
        const double sigma = circuit.branches[i].tolerance;
        if (sigma <= 0) continue;
        constexpr double step = 1e-3;
        Network up = settled->network;
        Network down = settled->network;
        nudge(up.branches[i], step);
        nudge(down.branches[i], -step);
        const auto high = session.solve(up);
        const auto low = session.solve(down);
        REQUIRE(high);
        REQUIRE(low);
        const Readings a = readings(circuit, *high);
        const Readings b = readings(circuit, *low);
        const double scale = sigma / (2 * step);
        INFO(label << ", " << circuit.branches[i].place << " " << circuit.branches[i].role);
        CHECK(motor.tolerance[i] == Approx((a.motor - b.motor) * scale).margin(2e-5));
        CHECK(drop.tolerance[i] == Approx((a.drop - b.drop) * scale).margin(2e-5));
        CHECK(amps.tolerance[i] == Approx((a.amps - b.amps) * scale).margin(5e-4));
        ++compared;
    }
    CHECK(compared > 20);

    State higher = state_named(circuit, label);
    State lower = higher;
    const double emf = 14.2;
    higher.supply_volts = emf + 0.01;
    lower.supply_volts = emf - 0.01;
    const auto high = settle(session, circuit, higher, faults);
    const auto low = settle(session, circuit, lower, faults);
    REQUIRE(high);
    REQUIRE(low);
    CHECK(motor.supply ==
          Approx((readings(circuit, high->point).motor - readings(circuit, low->point).motor) / 0.02).epsilon(1e-3));
    CHECK(amps.supply ==
          Approx((readings(circuit, high->point).amps - readings(circuit, low->point).amps) / 0.02).epsilon(1e-3));
}

}  // namespace

TEST_CASE("the linearised circuit agrees with finite differences through ngspice, healthy") {
    compare_with_differences("hi", {});
    compare_with_differences("lo", {});
}

TEST_CASE("the linearised circuit agrees with finite differences through ngspice, with a fault", "[checked]") {
    const Circuit& circuit = testing::cab_blower();
    compare_with_differences("hi", {fault_named(circuit, "C101.4 resistance 0.3ohm")});
    compare_with_differences("mh", {fault_named(circuit, "M1 seized")});
}

TEST_CASE("a motor that turns has more small-signal ohms than its winding") {
    // V = I Ra + Vb tanh(I/soft) + K w and K I = Tf + kq w^2, so dV/dI = Ra + K^2 / (2 kq w) far above `soft`
    // (reference parts 1.4).
    const Motor motor{0.15783, 1.0, 0.2, 0.025578, 0.0, 3.77e-6, Rotor::free};
    NetworkBranch branch(motor, {}, {});
    const double speed = 366.5;
    CHECK(slope_ohms(branch, {0, 19.8, speed}) == Approx(0.15783 + 0.025578 * 0.025578 / (2 * 3.77e-6 * speed)));
    branch.turning = Turning::standing;
    CHECK(slope_ohms(branch, {0, 19.8, 0}) == Approx(0.15783));
    branch.open = true;
    CHECK(slope_ohms(branch, {}) == open_ohms);
}

TEST_CASE("an accuracy is read as makers print it", "[checked]") {
    const Accuracy meter = read_accuracy("0.8%+3digits");
    CHECK(meter.limit(12.60, 0.01) == Approx(0.1008 + 0.03));
    const Accuracy clamp = read_accuracy("2.5%+0.3A");
    CHECK(clamp.limit(20, 0.1) == Approx(0.8));
    const Accuracy ohms = read_accuracy("1%+2digits+0.15ohm leads");
    CHECK(ohms.limit(2, 0.01) == Approx(0.02 + 0.02 + 0.15));
}

TEST_CASE("the job's own clamp counts before the default", "[checked]") {
    CHECK(accuracy_of(Instrument::clamp, {{"clamp", 0.01, 0.3, 0}}).limit(20, 0.1) == Approx(0.5));
    CHECK(accuracy_of(Instrument::clamp, {}).limit(20, 0.1) == Approx(0.8));
}

namespace {

/// Standard deviation of a reading over circuits whose parts all differ by their tolerance, solved by ngspice.
template <class Read>
double spread_of(const Network& network, const Circuit& circuit, const Read& read, double share_of_tolerance) {
    NgspiceSession& session = NgspiceSession::instance();
    std::mt19937 lot(7);
    std::normal_distribution<double> normal;
    constexpr int circuits = 1500;
    double sum = 0;
    double square = 0;
    for (int i = 0; i < circuits; ++i) {
        Network varied = network;
        for (std::size_t b = 0; b < circuit.branches.size(); ++b)
            nudge(varied.branches[b], std::exp(share_of_tolerance * circuit.branches[b].tolerance * normal(lot)) - 1);
        const auto solved = session.solve(varied);
        REQUIRE(solved);
        const double value = read(*solved);
        sum += value;
        square += value * value;
    }
    return std::sqrt(square / circuits - (sum / circuits) * (sum / circuits));
}

double first_order(const ReadingSlope& slope) {
    double square = 0;
    for (const double one : slope.tolerance) square += one * one;
    return std::sqrt(square);
}

}  // namespace

TEST_CASE("first-order spreads are those of a Monte Carlo through ngspice where the circuit is linear enough") {
    const Circuit& circuit = testing::cab_blower();
    const auto settled = settle(NgspiceSession::instance(), circuit, state_named(circuit, "hi"), {});
    REQUIRE(settled);
    const LinearCircuit linear(settled->network, settled->point);
    const JointId motor = circuit.find_joint("C304.1");
    const BranchId wire = circuit.wire(circuit.find_wire("542")).first_half;
    // A tenth of the tolerances: the curve is its tangent; 3 % is the sampling error of 1,500 circuits at two sigma.
    const double volts = first_order(linear.volts(motor, circuit.reference));
    CHECK(spread_of(
              settled->network, circuit, [&](const OperatingPoint& p) { return volts_at(p, motor); }, 0.1) ==
          Approx(0.1 * volts).epsilon(0.05));
    const double amps = first_order(linear.amps(wire));
    CHECK(spread_of(
              settled->network, circuit, [&](const OperatingPoint& p) { return p.amps[wire.index]; }, 0.1) ==
          Approx(0.1 * amps).epsilon(0.05));
    // Where it is not linear: contacts spread by a factor (log-normal), so that at their whole tolerance the drop over
    // one contact is skewed; the amps, which the motor and pack set, keep to 5 %.
    CHECK(spread_of(
              settled->network, circuit, [&](const OperatingPoint& p) { return p.amps[wire.index]; }, 1.0) ==
          Approx(amps).epsilon(0.05));
    const JointId in = circuit.find_joint("C101.4@541");
    const JointId out = circuit.find_joint("C101.4@542");
    const double drop = first_order(linear.volts(in, out));
    const double sampled = spread_of(
        settled->network, circuit, [&](const OperatingPoint& p) { return volts_at(p, in) - volts_at(p, out); }, 1.0);
    CHECK(sampled > 1.05 * drop);
    CHECK(sampled < 2 * drop);
}
