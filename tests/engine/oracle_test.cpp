// The library held against an independent solver and against the separate batch program.
#include <algorithm>
#include <cmath>

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "tests/support/batch_run.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/dense_oracle.hpp"
#include "tests/support/random_circuit.hpp"

namespace voltfall::test {

namespace {

constexpr double agreement = 1e-6;  // volts
constexpr unsigned circuits = 400;
constexpr unsigned batch_circuits = 25;

double worst_difference(const OperatingPoint& one, const OperatingPoint& other) {
    double worst = 0;
    for (std::size_t i = 0; i < one.volts.size(); ++i) {
        worst = std::max(worst, std::abs(one.volts[i] - other.volts[i]));
    }
    return worst;
}

}  // namespace

TEST_CASE("random circuits with relays, motors and diodes settle as with the independent solver") {
    DenseOracle oracle;
    int pulled = 0;
    int turning = 0;
    int chattering = 0;
    double worst = 0;
    for (unsigned number = 1; number <= circuits; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        const Network network(circuit);
        const SettleResult ours = settle_network(NgspiceSession::instance(), network);
        const SettleResult theirs = settle_network(oracle, network);
        REQUIRE(ours);
        REQUIRE(theirs);
        CHECK(ours->relay_pulled == theirs->relay_pulled);
        CHECK(ours->chattering == theirs->chattering);
        const double difference = worst_difference(ours->point, theirs->point);
        CHECK(difference < agreement);
        worst = std::max(worst, difference);
        pulled += static_cast<int>(std::count(ours->relay_pulled.begin(), ours->relay_pulled.end(), true));
        chattering += static_cast<int>(ours->chattering.size());
        for (const double speed : ours->point.speed) turning += speed > 1;
    }
    WARN(circuits << " random circuits, worst difference " << worst << " V");
    // The circuits must exercise what they are for.
    CHECK(pulled > 50);
    CHECK(turning > 30);
    CHECK(chattering > 0);
}

TEST_CASE("a fault's alteration and its undoing give what a fresh deck gives") {
    DenseOracle oracle;
    NgspiceSession& session = NgspiceSession::instance();
    for (unsigned number = 1; number <= 40; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        const Network healthy(circuit);
        const SolveResult before = session.solve(healthy);
        REQUIRE(before);
        for (std::size_t i = 0; i < healthy.branches.size(); i += 5) {
            INFO("branch " << i);
            Network faulty = healthy;
            if (number % 2 == 0) {
                faulty.branches[i].open = true;
            } else {
                faulty.branches[i].added_ohms = 0.3;
            }
            const SolveResult ours = session.solve(faulty);
            const SolveResult theirs = oracle.solve(faulty);
            REQUIRE(ours);
            REQUIRE(theirs);
            CHECK(worst_difference(*ours, *theirs) < agreement);
        }
        const SolveResult after = session.solve(healthy);
        REQUIRE(after);
        CHECK(worst_difference(*before, *after) < 1e-9);
    }
}

TEST_CASE("the batch program solves exported decks to the session's numbers") {
    for (unsigned number = 1; number <= batch_circuits; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        const SettleResult settled = settle_network(NgspiceSession::instance(), Network(circuit));
        REQUIRE(settled);
        const Deck deck = build_deck(settled->network);
        const auto printed = batch_run(deck_file_text(deck, settled->network));
        for (std::size_t joint = 0; joint < settled->network.joints; ++joint) {
            const int node = deck.node_of_joint[joint];
            if (node == 0) continue;
            REQUIRE(printed.count(Deck::node_name(node)) == 1);
            CHECK(std::abs(printed.at(Deck::node_name(node)) - settled->point.volts[joint]) < agreement);
        }
        for (std::size_t i = 0; i < deck.sense_of_branch.size(); ++i) {
            if (deck.sense_of_branch[i].empty()) continue;
            const double amps = settled->point.amps[i];
            CHECK(std::abs(printed.at("i(" + deck.sense_of_branch[i] + ")") - amps) < agreement * (1 + std::abs(amps)));
        }
    }
}

}  // namespace voltfall::test
