#include "netlists/spice/deck.hpp"

#include <algorithm>

#include "netlists/spice/nodes.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/random_circuit.hpp"

namespace voltfall::test {

namespace {

bool has_line(const Deck& deck, const std::string& line) {
    return std::find(deck.elements.begin(), deck.elements.end(), line) != deck.elements.end();
}

std::size_t lines_beginning(const Deck& deck, const std::string& with) {
    return static_cast<std::size_t>(std::count_if(deck.elements.begin(), deck.elements.end(),
                                                  [&](const std::string& l) { return l.rfind(with, 0) == 0; }));
}

BranchCircuit battery_and_lamp() {
    BranchCircuit circuit;
    circuit.source("B1", "plus", "0", 12.6, 0.008);
    circuit.resistor("540", "plus", "mid", 0.01);
    circuit.resistor("L1", "mid", "0", 7);
    return circuit;
}

}  // namespace

TEST_CASE("a deck has one resistor a branch, an inner node for a battery and a shunt at every node") {
    const BranchCircuit made = battery_and_lamp();
    const Deck deck = build_deck(made.network());
    CHECK(deck.nodes == 2);
    CHECK(has_line(deck, "r0 n1 x0 0.008"));
    CHECK(has_line(deck, "v0 x0 0 dc 12.6"));
    CHECK(has_line(deck, "r1 n1 n2 0.01"));
    CHECK(has_line(deck, "rs1 n1 0 1e+08"));
    CHECK(has_line(deck, "rs2 n2 0 1e+08"));
    CHECK(deck.sense_of_branch[0] == "v0");
}

TEST_CASE("the reference is node 0 and joints without ohms between them share a node") {
    BranchCircuit made = battery_and_lamp();
    made.resistor("splice", "mid", "leg", 0);
    made.branch("stud", "metal", "0", Contact{0, true});
    const Deck deck = build_deck(made.network());
    const auto node = [&](const std::string& joint) { return deck.node_of_joint[made.joint(joint).index]; };
    CHECK(node("0") == 0);
    CHECK(node("metal") == 0);
    CHECK(node("leg") == node("mid"));
    CHECK(lines_beginning(deck, "r3 ") == 0);
    CHECK(deck.nodes == 2);
}

TEST_CASE("ohms given to a piece of copper make it an element, and only then the structure changes") {
    BranchCircuit made = battery_and_lamp();
    const BranchId splice = made.resistor("splice", "mid", "leg", 0);
    const Network healthy = made.network();
    Network faulty = healthy;
    faulty.at(splice).added_ohms = 0.3;
    CHECK(deck_structure(faulty) != deck_structure(healthy));
    CHECK(has_line(build_deck(faulty), "r3 n2 n3 0.3"));

    Network worse = faulty;
    worse.at(splice).added_ohms = 3;
    CHECK(deck_structure(worse) == deck_structure(faulty));
}

TEST_CASE("an open is 1e12 ohm in the branch's own resistor and no new structure") {
    BranchCircuit made = battery_and_lamp();
    const BranchId contact = made.branch("S1", "mid", "far", Contact{0.005, true});
    const Network closed = made.network();
    Network open = closed;
    std::get<Contact>(open.at(contact).law).closed = false;
    CHECK(deck_structure(open) == deck_structure(closed));
    CHECK(has_line(build_deck(open), "r3 n2 n3 1e+12"));
    open.at(contact).open = true;
    CHECK(has_line(build_deck(open), "r3 n2 n3 1e+12"));
}

TEST_CASE("the charging volts count only while charging") {
    BranchCircuit made;
    made.branch("B1", "plus", "0", Source{12.6, 14.2, 0.008});
    Network network = made.network();
    CHECK(has_line(build_deck(network), "v0 x0 0 dc 12.6"));
    network.battery = BatteryState::charging;
    CHECK(has_line(build_deck(network), "v0 x0 0 dc 14.2"));
    CHECK(deck_structure(network) == deck_structure(made.network()));
}

TEST_CASE("a motor is winding, brushes, EMF and a speed node with friction, fan and brake") {
    BranchCircuit made;
    made.branch("M1", "plus", "0", Motor{0.15, 1.0, 0.2, 0.025, 0.05, 4e-6, Rotor::free});
    Network network = made.network();
    Deck deck = build_deck(network);
    REQUIRE(deck.speed_node_of_branch[0] == 2);
    CHECK(has_line(deck, "vm0 n1 ma0 dc 0"));
    CHECK(has_line(deck, "r0 ma0 mb0 0.15"));
    CHECK(has_line(deck, "bb0 mb0 mc0 V=1*tanh(i(vm0)/0.2)"));
    CHECK(has_line(deck, "e0 mc0 0 n2 0 0.025"));
    CHECK(has_line(deck, "f0 0 n2 vm0 0.025"));
    CHECK(has_line(deck, "i0 n2 0 dc 0.05"));
    CHECK(has_line(deck, "bf0 n2 0 I=v(q0)*v(n2)*abs(v(n2))"));
    CHECK(has_line(deck, "rb0 n2 0 1e+12"));

    network.branches[0].turning = Turning::backward;
    CHECK(has_line(build_deck(network), "i0 n2 0 dc -0.05"));
    network.branches[0].turning = Turning::standing;
    deck = build_deck(network);
    CHECK(has_line(deck, "i0 n2 0 dc 0"));
    CHECK(has_line(deck, "rb0 n2 0 1e-07"));
    CHECK(deck.structure == deck_structure(made.network()));
}

TEST_CASE("a seized rotor is braked whichever way it is said to turn") {
    BranchCircuit made;
    made.branch("M1", "plus", "0", Motor{0.15, 1.0, 0.2, 0.025, 0.05, 4e-6, Rotor::seized});
    const Deck deck = build_deck(made.network());
    CHECK(has_line(deck, "rb0 n2 0 1e-07"));
    CHECK(has_line(deck, "i0 n2 0 dc 0"));
}

TEST_CASE("a diode gets a resistor in front only when a fault gives it ohms") {
    BranchCircuit made;
    const BranchId diode = made.branch("D1", "a", "k", Diode{1e-14, 1.0});
    Network network = made.network();
    CHECK(has_line(build_deck(network), "d0 n1 n2 dm0"));
    CHECK(lines_beginning(build_deck(network), "r0 ") == 0);
    network.at(diode).added_ohms = 0.5;
    CHECK(has_line(build_deck(network), "r0 n1 x0 0.5"));
    CHECK(has_line(build_deck(network), "d0 x0 n2 dm0"));
    network.at(diode).open = true;
    CHECK(has_line(build_deck(network), "r0 n1 n2 1e+12"));
    CHECK(lines_beginning(build_deck(network), "d0 ") == 0);
}

TEST_CASE("without shunts no node has one") {
    const BranchCircuit made = battery_and_lamp();
    CHECK(lines_beginning(build_deck(made.network(), Shunts::none), "rs") == 0);
    CHECK(deck_structure(made.network(), Shunts::none) != deck_structure(made.network()));
}

TEST_CASE("values come in the order of the deck, whatever the network") {
    for (unsigned number = 1; number <= 60; ++number) {
        INFO("random circuit " << number);
        const Circuit circuit = random_circuit(number);
        const Network network(circuit);
        const Deck deck = build_deck(network);
        const std::vector<double> values = deck_values(network);
        REQUIRE(values.size() == deck.values.size());
        for (std::size_t i = 0; i < values.size(); ++i) CHECK(values[i] == deck.values[i].value);
        CHECK(deck.structure == deck_structure(network));
    }
}

TEST_CASE("a deck file names every joint in a comment, keeps typed text out of elements and ends with a fixed block") {
    BranchCircuit made = battery_and_lamp();
    made.circuit().name = "evil\n.control\nshell rm";
    made.resistor("W1", "mid", "C101.4@541", 1);
    const Deck deck = build_deck(made.network());
    const std::string text = deck_file_text(deck, made.network());
    CHECK(text.find("* Voltfall: evil?.control?shell rm\n") == 0);
    CHECK(text.find("* n3 = C101.4@541\n") != std::string::npos);
    CHECK(text.find("* r3 = W1 branch\n") != std::string::npos);
    CHECK(text.find("set numdgt=12\n") != std::string::npos);
    CHECK(text.find("print n3\n") != std::string::npos);
    CHECK(text.find(".end\n") == text.size() - 5);
}

TEST_CASE("lines for the library begin with a title and end with .end, without a control block") {
    const BranchCircuit made = battery_and_lamp();
    const std::vector<std::string> lines = deck_lines(build_deck(made.network()));
    CHECK(lines.front() == "voltfall");
    CHECK(lines.back() == ".end");
    for (const std::string& line : lines) CHECK(line.find(".control") == std::string::npos);
}

TEST_CASE("less than a tenth of a micro-ohm is copper") {
    NetworkBranch branch{Resistor{0}, {}, {}};
    CHECK(is_copper(branch));
    branch.added_ohms = 1e-6;
    CHECK_FALSE(is_copper(branch));
    branch = {Contact{0, false}, {}, {}};
    CHECK_FALSE(is_copper(branch));
    branch = {Resistor{0}, {}, {}};
    branch.open = true;
    CHECK_FALSE(is_copper(branch));
}

}  // namespace voltfall::test
