// States made definite and laid over a circuit, and faults that a state shows.
#include "engine/solve/state.hpp"

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/words.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/made_fault.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/scenario.hpp"

namespace voltfall::test {

TEST_CASE("a fault is present unless its part is new, its condition is not named or its dead spot was nudged") {
    BranchCircuit made;
    Part motor;
    motor.name = "M1";
    made.circuit().parts.push_back(motor);
    const Circuit& circuit = made.circuit();
    State state;
    Fault fault = fault_of("M1", "dead-spot", {}, {ModeFact::starts_by_hand});
    CHECK(present(circuit, fault, state));
    state.handled = {"tap m1"};
    CHECK_FALSE(present(circuit, fault, state));
    state = {};
    state.fitted_new = {PartId{0}};
    CHECK_FALSE(present(circuit, fault, state));
    CHECK(present(circuit, fault_of("M1.1", "resistance", {}), state));
    state = {};
    fault = fault_of("A1", "coil open", {});
    fault.condition = "hot";
    CHECK_FALSE(present(circuit, fault, state));
    state.conditions = {"hot"};
    CHECK(present(circuit, fault, state));
}

TEST_CASE("a fault with another size in its condition is always there and changes size") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    const BranchId joint = made.resistor("C101.4", "plus", "load", 0);
    made.resistor("L1", "load", "0", 1);
    auto mode = std::make_shared<FaultMode>();
    mode->place = "C101.4";
    mode->changes = [joint](double size, double) { return std::vector<Change>{AddOhms{joint, size}}; };
    Fault fault;
    fault.mode = mode;
    fault.size = 0.04;
    fault.condition = "hot";
    fault.size_in_condition = 0.4;
    const std::vector<Fault> faults{fault};
    State state;
    Network network(made.circuit());
    apply_faults(network, faults, state);
    CHECK(network.ohms(joint) == Approx(0.04));
    state.conditions = {"HOT"};
    Network hot(made.circuit());
    apply_faults(hot, faults, state);
    CHECK(hot.ohms(joint) == Approx(0.4));
}

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

/// A switch with positions, an implied key and a plugged part, by hand.
struct SwitchCircuit {
    SwitchCircuit() {
        Circuit& circuit = made.circuit();
        made.branch("B1", "30", "0", Source{12.6, 14.2, 0.008});
        circuit.implied_key = made.branch("key", "30", "15", Contact{0, false});
        one = made.branch("S1", "15", "s1", Contact{0.005, false});
        two = made.branch("S1", "15", "s2", Contact{0.005, false});
        socket = made.branch("C303.1", "s1", "r1", Resistor{0.002});
        circuit.branches.back().sort = BranchSort::socket;
        coil = made.resistor("R1", "r1", "0", 10);
        other = made.resistor("R2", "s2", "0", 5);
        Part battery;
        battery.name = "B1";
        battery.branches = {BranchId{0}};
        battery.pins = {{"+", made.joint("30")}};
        Part selector;
        selector.name = "S1";
        selector.kind = find_kind("switch");
        selector.positions = {{"off", {}}, {"lo", {"1"}}, {"hi", {"1", "2"}}};
        selector.contacts = {{"1", one}, {"2", two}};
        Part pack;
        pack.name = "R1";
        pack.branches = {socket, coil};
        circuit.parts = {battery, selector, pack};
        circuit.battery = PartId{0};
        circuit.bus_30 = made.joint("30");
    }
    State at(const std::string& position, KeyPosition key) const {
        State state;
        state.key = key;
        state.positions = {0, *made_circuit().parts[1].position_named(position), 0};
        return state;
    }
    const Circuit& made_circuit() const { return const_cast<SwitchCircuit*>(this)->made.circuit(); }
    double amps(const State& state, BranchId branch, std::vector<Fault> faults = {}) const {
        const SettleResult settled = settle(session(), made_circuit(), state, faults);
        REQUIRE(settled);
        return settled->point.amps[branch.index];
    }
    BranchCircuit made;
    BranchId one, two, socket, coil, other;
};

}  // namespace

TEST_CASE("positions close their contacts, the key feeds 15 and the engine charges") {
    const SwitchCircuit made;
    CHECK(made.amps(made.at("off", KeyPosition::run), made.coil) == Approx(0).margin(1e-9));
    CHECK(made.amps(made.at("lo", KeyPosition::run), made.coil) == Approx(14.2 / 10.015).epsilon(1e-4));
    CHECK(made.amps(made.at("lo", KeyPosition::on), made.coil) == Approx(12.6 / 10.015).epsilon(1e-4));
    CHECK(made.amps(made.at("lo", KeyPosition::acc), made.coil) == Approx(0).margin(1e-9));
    CHECK(made.amps(made.at("lo", KeyPosition::off), made.coil) == Approx(0).margin(1e-9));
    CHECK(made.amps(made.at("lo", KeyPosition::start), made.coil) > 1);
    CHECK(made.amps(made.at("hi", KeyPosition::on), made.other) > 2);
}

TEST_CASE("a drawn key without the position asked for stands at the nearest that does the same") {
    struct Row {
        const char* positions;
        KeyPosition key;
        bool lit;
    };
    using enum KeyPosition;
    // The lamp hangs on 15: accessories are nearer to off than to on, the engine's run and start need what on feeds.
    for (const Row& row :
         {Row{"off on=15", off, false}, Row{"off on=15", acc, false}, Row{"off on=15", on, true},
          Row{"off on=15", run, true}, Row{"off on=15", start, true}, Row{"off run=15", off, false},
          Row{"off run=15", acc, false}, Row{"off run=15", on, true}, Row{"off run=15", run, true},
          Row{"off acc=75 on=75+15 start=50", acc, false}, Row{"off acc=75 on=75+15 start=50", run, true},
          Row{"off acc=75 on=75+15 start=50", start, false}}) {
        INFO(row.positions << ", key " << key_word(row.key));
        const CircuitReading reading = read_circuit_text(
            std::string("format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nKY = \"key: ") +
                row.positions + "\"\nF1 = \"fuse 10A mini, feed 15\"\nL1 = \"lamp 21W\"\n[wires]\n" +
                "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n2 = \"L1.2 > 31 1mm2 BK 1m\"\n",
            "key.toml");
        REQUIRE(reading.circuit);
        State state = default_states(*reading.circuit).front();
        state.key = row.key;
        const SettleResult settled = settle(session(), *reading.circuit, state, {});
        REQUIRE(settled);
        const BranchId lamp = reading.circuit->part(reading.circuit->find_part("L1")).load_branch;
        CHECK((std::abs(settled->point.amps[lamp.index]) > 1) == row.lit);
    }
}

TEST_CASE("a switch that is stuck and a contact that is held ignore the state") {
    const SwitchCircuit made;
    const State off = made.at("off", KeyPosition::on);
    CHECK(made.amps(off, made.other, {fault_of("S1", "stuck hi", {HoldPosition{PartId{1}, 2}})}) > 2);
    CHECK(made.amps(off, made.coil, {fault_of("S1", "held", {HoldContact{made.one, true}})}) > 1);
}

TEST_CASE("unplugging by plug, cavity or part opens the sockets; pulling leaves them") {
    const SwitchCircuit made;
    for (const char* name : {"C303", "c303.1", "R1"}) {
        INFO(name);
        State state = made.at("lo", KeyPosition::on);
        state.unplugged = {name};
        Network network(made.made_circuit());
        apply_state(network, state);
        CHECK(network.at(made.socket).open);
        CHECK_FALSE(network.at(made.coil).open);
    }
    for (const char* other : {"C30", "C303.11", "C3031"}) {
        INFO(other);
        State state = made.at("lo", KeyPosition::on);
        state.unplugged = {other};
        Network network(made.made_circuit());
        apply_state(network, state);
        CHECK_FALSE(network.at(made.socket).open);
    }
    State state = made.at("lo", KeyPosition::on);
    state.pulled = {PartId{2}};
    Network network(made.made_circuit());
    apply_state(network, state);
    CHECK_FALSE(network.at(made.socket).open);
    CHECK(network.at(made.coil).open);
}

TEST_CASE("leads: a jumper joins, a feed brings 30, a bulb loads by its watts; a supply of its own overrides") {
    const SwitchCircuit made;
    const JointId r1 = const_cast<BranchCircuit&>(made.made).joint("r1");
    State state = made.at("off", KeyPosition::off);
    state.leads = {{AddedLead::Kind::feed, r1, {}, 0}};
    CHECK(made.amps(state, made.coil) == Approx(12.6 / 10.013).epsilon(1e-4));
    state.leads = {{AddedLead::Kind::jumper, made.made_circuit().bus_30, r1, 0}};
    CHECK(made.amps(state, made.coil) == Approx(12.6 / 10.013).epsilon(1e-4));
    state.supply_volts = 10.0;
    CHECK(made.amps(state, made.coil) == Approx(10 / 10.013).epsilon(1e-4));
    state = made.at("off", KeyPosition::off);
    state.leads = {{AddedLead::Kind::load, made.made_circuit().bus_30, {}, 55}};
    const SettleResult loaded = settle(session(), made.made_circuit(), state, {});
    REQUIRE(loaded);
    const double bulb = 12.0 * 12.0 / 55;
    CHECK(-loaded->point.amps[0] == Approx(12.6 / (bulb + 0.008)).epsilon(1e-4));
}

TEST_CASE("default states go through each control's positions, the others at off, each once") {
    SwitchCircuit made;
    std::vector<State> states = default_states(made.made_circuit());
    REQUIRE(states.size() == 3);
    CHECK(states[0].label == "S1=off");
    CHECK(states[0].key == KeyPosition::on);
    CHECK(states[2].label == "S1=hi");
    CHECK(states[2].key == KeyPosition::run);

    Part second = made.made_circuit().parts[1];
    second.name = "S2";
    second.positions = {{"off", {}}, {"ac", {"1"}}};
    made.made.circuit().parts.push_back(second);
    states = default_states(made.made_circuit());
    REQUIRE(states.size() == 4);
    CHECK(states[0].label == "S1=off");
    CHECK(states[3].label == "S2=ac");
    CHECK(states[3].positions[1] == 0);
}

TEST_CASE("a circuit without controls has the one state 'key on'") {
    BranchCircuit made;
    const std::vector<State> states = default_states(made.circuit());
    REQUIRE(states.size() == 1);
    CHECK(states[0].label == "key on");
    CHECK(states[0].key == KeyPosition::on);
}

TEST_CASE("without a control or a switch, contacts that rest open are set in turn") {
    const CircuitReading reading = read_circuit_text(R"(format = 1
[parts]
B1 = "battery 12.6V"
F1 = "fuse 10A, feed 30"
T1 = "contact normally open"
T2 = "contact normally closed"
L1 = "lamp 21W"
G1 = "ground"
[wires]
1 = "F1.2 > T1.1 1mm2 RD 1m"
2 = "T1.2 > T2.1 1mm2 RD 1m"
3 = "T2.2 > L1.1 1mm2 RD 1m"
4 = "L1.2 > G1 1mm2 BK 1m"
)",
                                                     "contacts.toml");
    REQUIRE(reading.circuit);
    const std::vector<State> states = default_states(*reading.circuit);
    REQUIRE(states.size() == 2);
    CHECK(states[0].label == "T1=open");
    CHECK(states[1].label == "T1=closed");
}

TEST_CASE("a state phrase becomes states: several positions give several, the key follows unless said") {
    const SwitchCircuit made;
    StatePhrase phrase;
    phrase.settings = {{PartId{1}, {1, 2}}};
    std::vector<State> states = states_of(made.made_circuit(), phrase);
    REQUIRE(states.size() == 2);
    CHECK(states[0].label == "S1=lo");
    CHECK(states[1].key == KeyPosition::run);
    // Every position of one control with every one of the other.
    const Circuit& two = testing::two_controls();
    const PartId s1 = two.find_part("S1");
    const PartId s2 = two.find_part("S2");
    StatePhrase both;
    both.settings = {{s1, {1, 2}}, {s2, {0, 1, 2}}};
    std::string stand;
    for (const State& state : states_of(two, both))
        stand += std::to_string(state.positions[s1.index]) + std::to_string(state.positions[s2.index]) + " ";
    CHECK(stand == "10 11 12 20 21 22 ");
    phrase.settings.clear();
    phrase.unplugged = {"C303"};
    states = states_of(made.made_circuit(), phrase);
    REQUIRE(states.size() == 1);
    CHECK(states[0].label == "S1=off, unplug C303");
    CHECK(states[0].key == KeyPosition::on);
    phrase.key = KeyPosition::off;
    states = states_of(made.made_circuit(), phrase);
    CHECK(states[0].key == KeyPosition::off);
    CHECK(states[0].label == "S1=off, key off, unplug C303");
}

TEST_CASE("a key that is a control: off is off, start cranks, and however typed it is the same state") {
    const CircuitReading reading = read_circuit_text(
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nKY = \"key: off acc=75 on=75+15 "
        "start=15+50, "
        "feed 30\"\nF1 = \"fuse 10A mini, feed 15\"\nL1 = \"resistor 5ohm\"\nG1 = \"ground\"\n[wires]\nw1 = \"F1.2 > "
        "L1.1 "
        "2.5mm2 RD 1m\"\nw2 = \"L1.2 > G1 2.5mm2 BK 1m\"\n[controls]\nKY = \"key\"\n",
        "key.toml");
    REQUIRE(reading.circuit);
    const Circuit& circuit = *reading.circuit;
    const auto amps_in = [&](const State& state, std::span<const Fault> faults) {
        const SettleResult settled = settle(NgspiceSession::instance(), circuit, state, faults);
        REQUIRE(settled);
        return std::abs(settled->point.amps[circuit.part(circuit.find_part("L1")).load_branch.index]);
    };
    const State off = state_named(circuit, "key off");
    CHECK(off.key == KeyPosition::off);
    CHECK(amps_in(off, {}) < 1e-6);
    CHECK(amps_in(state_named(circuit, "key on"), {}) == Approx(12.6 / 5).epsilon(0.02));
    // A starter of 200 A behind 8 mohm: 12.6 - 1.6 = 11.0 V are left; a weak battery and a poor post leave less.
    const State start = state_named(circuit, "key start");
    CHECK(start.key == KeyPosition::start);
    CHECK(amps_in(start, {}) == Approx(11.0 / 5).epsilon(0.02));
    CHECK(amps_in(start, faults_named(circuit, "B1 weak 11V")) == Approx(11.0 / 12.6 * 11.0 / 5).epsilon(0.02));
    CHECK(amps_in(start, faults_named(circuit, "B1 resistance 20mohm")) < 0.8 * 11.0 / 5);
    // By the control and by `key`, the same state and so the same supply.
    for (const char* word : {"off", "acc", "on", "start"}) {
        INFO(word);
        Problems problems;
        const auto by_key =
            read_state_phrase(TypedText::argument("state", std::string("key ") + word), circuit, problems);
        const auto by_control =
            read_state_phrase(TypedText::argument("state", std::string("KY=") + word), circuit, problems);
        REQUIRE((by_key && by_control));
        CHECK(states_of(circuit, *by_key).front() == states_of(circuit, *by_control).front());
    }
}

}  // namespace voltfall::test
