// Sensitivities and Bayes by published and computed numbers: reference circuits_and_theory rows S01-S05, S07-S10, T21.
#include <array>
#include <cmath>
#include <map>

#include "engine/planning/information.hpp"
#include "engine/readings/joint_normal.hpp"
#include "engine/solve/linear_circuit.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

/// C13 (Lessons in Electric Circuits, DC, node-voltage section): R1=2 from +10 V to n1, R2=4 n1-0, R3=2.5 n1-n2, R4=5
/// n2-0, R5=1 from -4 V to n2. The two resistors at sources are the sources' own.
struct TwoSources {
    test::BranchCircuit circuit;
    std::array<BranchId, 5> r{circuit.source("R1", "n1", "0", 10, 2), circuit.resistor("R2", "n1", "0", 4),
                              circuit.resistor("R3", "n1", "n2", 2.5), circuit.resistor("R4", "n2", "0", 5),
                              circuit.source("R5", "n2", "0", -4, 1)};
    JointId n1 = circuit.joint("n1");
    JointId n2 = circuit.joint("n2");
    JointId zero = circuit.joint("0");
    static constexpr double e1 = 3.8095238095238093;   // C13
    static constexpr double e2 = -1.5476190476190477;  // C13

    OperatingPoint point() const {
        OperatingPoint p;
        p.volts = {0, e1, e2};
        p.amps = {(e1 - 10) / 2, e1 / 4, (e1 - e2) / 2.5, e2 / 5, (e2 + 4) / 1};
        p.speed.assign(5, 0);
        return p;
    }
};

/// Nodes after one conductance changes by `dg`: V - dg (a'V) / (1 + dg a'Za) Za.
std::pair<double, double> rank_one(const TwoSources& c, JointId a, JointId b, double dg) {
    const Network network = c.circuit.network();
    const LinearCircuit linear(network, c.point());
    const std::vector<double> za = linear.response(a, b);
    const std::vector<double> volts = c.point().volts;
    const double av = volts[a.index] - volts[b.index];
    const double aza = za[a.index] - za[b.index];
    const double factor = std::isinf(dg) ? av / aza : dg * av / (1 + dg * aza);
    return {volts[c.n1.index] - factor * za[c.n1.index], volts[c.n2.index] - factor * za[c.n2.index]};
}

void check_pair(std::pair<double, double> got, double first, double second) {
    CHECK(got.first == Approx(first).margin(1e-6));
    CHECK(got.second == Approx(second).margin(1e-6));
}

const double infinite = std::numeric_limits<double>::infinity();

}  // namespace

TEST_CASE("S01, S02: one changed resistor from one solve of the linear circuit") {
    const TwoSources c;
    const Network network = c.circuit.network();
    const LinearCircuit linear(network, c.point());
    const std::vector<double> za = linear.response(c.n1, c.n2);
    CHECK(za[c.n1.index] == Approx(0.714286).margin(1e-6));                    // S01
    CHECK(za[c.n2.index] == Approx(-0.446429).margin(1e-6));                   // S01
    check_pair(rank_one(c, c.n1, c.n2, -0.4), 6.666667, -3.333333);            // S01: R3 open
    check_pair(rank_one(c, c.n1, c.n2, infinite), 0.512821, 0.512821);         // S01: R3 short
    check_pair(rank_one(c, c.n1, c.n2, 1 / 5.0 - 0.4), 4.806202, -2.170543);   // S01: R3 -> 5 ohm
    check_pair(rank_one(c, c.n1, c.n2, 1 / 1.25 - 0.4), 2.764228, -0.894309);  // S01: R3 -> 1.25 ohm
    check_pair(rank_one(c, c.n1, c.zero, -0.25), 5.0, -1.25);                  // S02: R2 open
    check_pair(rank_one(c, c.n1, c.zero, infinite), 0.0, -2.5);                // S02: R2 short
    check_pair(rank_one(c, c.n2, c.zero, -0.2), 3.724138, -1.793103);          // S02: R4 open
}

TEST_CASE("S03: the ratio of deviations names the resistor, whatever its value") {
    const TwoSources c;
    const Network network = c.circuit.network();
    const LinearCircuit linear(network, c.point());
    const auto ratio = [&](JointId a, JointId b) {
        const std::vector<double> za = linear.response(a, b);
        return za[c.n1.index] / za[c.n2.index];
    };
    CHECK(ratio(c.n1, c.n2) == Approx(-1.6).margin(1e-6));        // S03: R3
    CHECK(ratio(c.n1, c.zero) == Approx(4.0).margin(1e-6));       // S03: R2
    CHECK(ratio(c.n2, c.zero) == Approx(0.347826).margin(1e-6));  // S03: R4
}

TEST_CASE("S04: sensitivities by one adjoint solve") {
    const TwoSources c;
    const Network network = c.circuit.network();
    const LinearCircuit linear(network, c.point());
    const std::array<double, 5> expected{-1.473923, 0.226757, 0.612245, -0.014739, 0.583900};  // S04, V/ohm
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CHECK(linear.volts_per_ohm(c.n1, c.zero, c.r[i]) == Approx(expected[i]).margin(1e-5));
    }
}

TEST_CASE("S05: the spread of a reading from the tolerance of every resistor") {
    TwoSources c;
    const auto sigma = [&](double tolerance) {
        for (Branch& branch : c.circuit.circuit().branches) branch.tolerance = tolerance;
        const Network network = c.circuit.network();
        const ReadingSlope slope = LinearCircuit(network, c.point()).volts(c.n1, c.zero);
        double sum = 0;
        for (const double s : slope.tolerance) sum += s * s;
        return std::sqrt(sum);
    };
    CHECK(sigma(0.05 / 3) == Approx(0.058218).margin(1e-5));               // S05: 5 % is three sigma
    CHECK(sigma(0.05 / std::sqrt(3.0)) == Approx(0.100837).margin(1e-5));  // S05: uniform within 5 %
}

namespace {

/// The mid-node volts of C08 healthy and with each fault of C10, in the order OK, R1-R4 open, R1-R4 short, from the
/// resistances: the table's five figures are too few for the posterior's five.
double divider(double upper, double lower) {
    return 24 * lower / (upper + lower);
}
double parallel(double a, double b) {
    return a * b / (a + b);
}
const std::array<double, 9> mid_node{divider(parallel(100, 250), parallel(350, 200)),
                                     divider(250, parallel(350, 200)),
                                     divider(100, parallel(350, 200)),
                                     divider(parallel(100, 250), 200),
                                     divider(parallel(100, 250), 350),
                                     24.0,
                                     24.0,
                                     0,
                                     0};

std::vector<double> posterior(double reading, double sigma) {
    std::vector<double> logs;
    for (const double volts : mid_node) logs.push_back(log_normal_density(reading - volts, sigma));
    return weights_of_logs(logs);
}

}  // namespace

TEST_CASE("S07, S08, S09: one reading against nine equal hypotheses") {
    const std::vector<double> s07 = posterior(19.0, 1);
    CHECK(s07[4] == Approx(0.60536).margin(1e-4));  // S07: R4 open
    CHECK(s07[3] == Approx(0.39334).margin(1e-4));  // S07: R3 open
    CHECK(s07[0] == Approx(0.00130).margin(1e-4));  // S07: OK
    const std::vector<double> sharp = posterior(19.0, 0.5);
    CHECK(sharp[4] == Approx(0.84872).margin(1e-4));  // S07, sigma 0.5
    CHECK(sharp[3] == Approx(0.15128).margin(1e-4));
    const std::vector<double> s08 = posterior(14.4, 1);
    CHECK(s08[2] == Approx(0.50121).margin(2e-4));  // S08: R2 open
    CHECK(s08[0] == Approx(0.49517).margin(2e-4));  // S08: OK
    CHECK(s08[3] == Approx(0.00361).margin(1e-4));  // S08: R3 open
    const std::vector<double> s09 = posterior(23.9, 0.5);
    CHECK(s09[5] == Approx(0.5).margin(1e-6));  // S09: no voltage splits R1 short from R2 short
    CHECK(s09[6] == Approx(0.5).margin(1e-6));
}

TEST_CASE("S10: what the mid-node probe tells falls with its spread") {
    const auto bits = [](double sigma, std::size_t bins) {
        std::vector<Possibility> possibilities;
        for (std::size_t i = 0; i < mid_node.size(); ++i) possibilities.push_back({1.0 / 9, i, mid_node[i], sigma});
        return information_of_number(possibilities, mid_node.size(), {0, 0, 16, bins});
    };
    CHECK(bits(0.001, 4000) == Approx(2.72548).margin(1e-3));  // S10: noise-free
    CHECK(bits(0.5, 4000) == Approx(2.6831).margin(1e-3));     // S10
    CHECK(bits(1, 4000) == Approx(2.3862).margin(1e-3));
    CHECK(bits(2, 4000) == Approx(1.8477).margin(1e-3));
    CHECK(bits(5, 4000) == Approx(0.9424).margin(1e-3));
}

namespace {

/// Probes that the best-bits choice expects to need for one bad segment of those from `first` to `last`.
double expected_probes(std::size_t first, std::size_t last) {
    const std::size_t count = last - first + 1;
    if (count == 1) return 0;
    double best_bits = -1;
    std::size_t best = first;
    for (std::size_t probe = first; probe < last; ++probe) {  // behind segment `probe`
        std::vector<Possibility> possibilities;
        for (std::size_t bad = first; bad <= last; ++bad) {
            possibilities.push_back({1.0 / static_cast<double>(count), bad - first, bad <= probe ? 0.0 : 12.0, 0.05});
        }
        const double bits = information_of_number(possibilities, count, {0, 0, 2, 400});
        if (bits > best_bits + 1e-9) {
            best_bits = bits;
            best = probe;
        }
    }
    const double left = static_cast<double>(best - first + 1);
    const double all = static_cast<double>(count);
    return 1 + left / all * expected_probes(first, best) + (all - left) / all * expected_probes(best + 1, last);
}

}  // namespace

TEST_CASE("T21: the half-split emerges from the bits") {
    const std::map<std::size_t, double> expected{{4, 2.0}, {5, 2.4}, {8, 3.0}, {16, 4.0}};  // T21, half-split
    for (const auto& [segments, probes] : expected) {
        INFO(segments << " segments");
        CHECK(expected_probes(0, segments - 1) == Approx(probes).margin(1e-9));
    }
}
