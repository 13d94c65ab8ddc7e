// States, faults, relays, motors and fuses around the operating point, on hand-made circuits.
#include "engine/solve/settled.hpp"

#include <algorithm>
#include <cmath>

#include "engine/solve/ngspice_session.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/motor.hpp"
#include "netlists/tables/fuses.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/dense_oracle.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() { return NgspiceSession::instance(); }

constexpr double coil_ohms = 90;

Fault fault_of(const std::string& place, const std::string& words, std::vector<Change> changes) {
    auto mode = std::make_shared<FaultMode>();
    mode->place = place;
    mode->mode = words;
    mode->repair = place;
    mode->changes = [changes](double, double) { return changes; };
    Fault fault;
    fault.mode = mode;
    return fault;
}

/// A relay whose coil hangs on a supply of some volts and whose contact feeds a lamp.
struct RelayCircuit {
    explicit RelayCircuit(double volts, double series_ohms = 0) {
        made.source("B1", "plus", "0", volts, 0.01);
        series = made.resistor("feed", "plus", "86", series_ohms);
        coil = made.resistor("coil", "86", "0", coil_ohms);
        open = made.branch("87", "plus", "lamp", Contact{0.002, false});
        closed = made.branch("87a", "plus", "rest", Contact{0.002, true});
        lamp = made.resistor("L1", "lamp", "0", 7);
        made.resistor("L2", "rest", "0", 7);
        relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, open, closed);
    }
    BranchCircuit made;
    BranchId series, coil, open, closed, lamp;
    PartId relay;
};

bool pulled(const SettleResult& settled, PartId relay) { return settled->relay_pulled[relay.index]; }

Motor blower() { return motor_from_nameplate({13.5, 20, 3500, 80, 2, 1.0}); }

}  // namespace

TEST_CASE("a relay pulls at its pull-in volts, closes its contact and opens the other") {
    const RelayCircuit strong(12.6);
    SettleResult settled = settle_network(session(), strong.made.network());
    REQUIRE(settled);
    CHECK(pulled(settled, strong.relay));
    CHECK(settled->point.amps[strong.lamp.index] > 1.5);
    CHECK(settled->network.conducts(strong.open));
    CHECK_FALSE(settled->network.conducts(strong.closed));

    const RelayCircuit weak(7.0);
    settled = settle_network(session(), weak.made.network());
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, weak.relay));
    CHECK(std::abs(settled->point.amps[weak.lamp.index]) < 1e-9);
}

TEST_CASE("a relay goes by coil current times its healthy ohms, not by the volts across it") {
    const RelayCircuit made(12.6);
    Network network = made.made.network();
    // Volts across the coil stay 12.6, its current is a tenth.
    network.at(made.coil).added_ohms = 9 * coil_ohms;
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, made.relay));
}

TEST_CASE("a relay that opens its own coil's feed chatters, is left dropped and is reported") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId contact = made.branch("87a", "plus", "86", Contact{0.002, true});
    const BranchId coil = made.resistor("coil", "86", "0", coil_ohms);
    const PartId relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, {}, contact);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering == std::vector<PartId>{relay});
    CHECK_FALSE(pulled(settled, relay));
    CHECK(settled->point.amps[coil.index] > 0.1);
}

TEST_CASE("a holding circuit starts dropped and is listed as holding when asked for") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId contact = made.branch("87", "plus", "86", Contact{0.002, false});
    const BranchId coil = made.resistor("coil", "86", "0", coil_ohms);
    made.branch("start button", "plus", "86", Contact{0.002, false});
    const PartId relay = made.relay("K1", coil, coil_ohms, 7.2, 1.2, contact);
    const SettleResult plain = settle_network(session(), made.network());
    REQUIRE(plain);
    CHECK_FALSE(pulled(plain, relay));
    CHECK(plain->holding.empty());
    const SettleResult asked = settle_network(session(), made.network(), SecondAnswer::look_for);
    REQUIRE(asked);
    CHECK_FALSE(pulled(asked, relay));
    CHECK(asked->holding == std::vector<PartId>{relay});
}

TEST_CASE("of two relays that break each other's coil one wins and neither chatters") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    const BranchId first_breaks = made.branch("K1 87a", "plus", "K2.86", Contact{0.002, true});
    const BranchId second_breaks = made.branch("K2 87a", "plus", "K1.86", Contact{0.002, true});
    const BranchId first_coil = made.resistor("K1", "K1.86", "0", coil_ohms);
    const BranchId second_coil = made.resistor("K2", "K2.86", "0", coil_ohms);
    const PartId first = made.relay("K1", first_coil, coil_ohms, 7.2, 1.2, {}, first_breaks);
    const PartId second = made.relay("K2", second_coil, coil_ohms, 7.2, 1.2, {}, second_breaks);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->chattering.empty());
    CHECK(pulled(settled, first) != pulled(settled, second));
}

TEST_CASE("a contact that a fault holds is not moved by its relay") {
    const RelayCircuit made(0.5);
    Network network = made.made.network();
    const std::vector<Change> weld{HoldContact{made.open, true}};
    network.apply(weld);
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK_FALSE(pulled(settled, made.relay));
    CHECK(settled->network.conducts(made.open));
    CHECK(settled->point.amps[made.lamp.index] > 0.05);
}

TEST_CASE("a motor runs forward, backwards on reversed supply, and stands where its friction is not beaten") {
    struct Row {
        double volts;
        Turning turning;
    };
    for (const Row& row : {Row{13.5, Turning::forward}, Row{-13.5, Turning::backward}, Row{1.05, Turning::standing},
                           Row{0, Turning::standing}, Row{-1.05, Turning::standing}}) {
        INFO(row.volts << " V");
        BranchCircuit made;
        made.source("B1", "plus", "0", row.volts, 0.01);
        const BranchId motor = made.branch("M1", "plus", "0", blower());
        const SettleResult settled = settle_network(session(), made.network());
        REQUIRE(settled);
        CHECK(settled->network.at(motor).turning == row.turning);
        const double speed = settled->point.speed[motor.index];
        if (row.turning == Turning::standing) CHECK(std::abs(speed) < 1e-5);
        if (row.turning != Turning::standing) CHECK(speed * row.volts > 1000);
    }
}

TEST_CASE("a motor on its nameplate supply has its nameplate current and speed") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5);
    const BranchId motor = made.branch("M1", "plus", "0", blower());
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.amps[motor.index] == Approx(20).epsilon(1e-6));
    CHECK(settled->point.speed[motor.index] == Approx(radians_per_second(3500)).epsilon(1e-6));
}

TEST_CASE("a seized motor draws its stall current and stands") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5);
    Motor held = blower();
    held.rotor = Rotor::seized;
    const BranchId motor = made.branch("M1", "plus", "0", held);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.amps[motor.index] == Approx(80).epsilon(1e-4));
    CHECK(std::abs(settled->point.speed[motor.index]) < 1e-4);
}

TEST_CASE("a motor fed through a relay that pulls runs, and one that loses its path stands") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 13.5, 0.008);
    const BranchId coil = made.resistor("coil", "plus", "0", coil_ohms);
    const BranchId contact = made.branch("87", "plus", "m", Contact{0.002, false});
    const BranchId motor = made.branch("M1", "m", "0", blower());
    made.relay("K1", coil, coil_ohms, 7.2, 1.2, contact);
    SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->point.speed[motor.index] > 300);
    Network open = made.network();
    open.at(coil).open = true;
    settled = settle_network(session(), open);
    REQUIRE(settled);
    CHECK(std::abs(settled->point.speed[motor.index]) < 1e-5);
    CHECK(settled->network.at(motor).turning == Turning::standing);
}

TEST_CASE("joints that nothing ties to the reference float; behind a blocked diode they are weak and metered") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    made.branch("D1", "cathode", "plus", Diode{1e-14, 1.0});  // nothing drives it forward
    const BranchId wire = made.resistor("W1", "plus", "stub", 0.01);
    Network network = made.network();
    network.at(wire).open = true;
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    CHECK(settled->floats(made.joint("stub")));
    CHECK(settled->floating.size() == 1);
    CHECK(settled->weak == std::vector<JointId>{made.joint("cathode")});
    // 10 Mohm against a blocked junction: next to nothing.
    CHECK(std::abs(settled->point.volts[made.joint("cathode").index]) < 0.1);
}

TEST_CASE("a conducting diode leaves nothing weak") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12.6, 0.01);
    made.branch("D1", "plus", "lamp", Diode{1e-14, 1.0});
    made.resistor("L1", "lamp", "0", 10);
    const SettleResult settled = settle_network(session(), made.network());
    REQUIRE(settled);
    CHECK(settled->weak.empty());
    CHECK(settled->floating.empty());
    CHECK(settled->point.volts[made.joint("lamp").index] == Approx(11.7).margin(0.2));
}

TEST_CASE("a solution that breaks the current law is a bug, not a number") {
    class Liar final : public Simulator {
    public:
        SolveResult solve(const Network& network) override {
            SolveResult point = oracle_.solve(network);
            if (point) point->amps[1] *= 1.01;
            return point;
        }

    private:
        DenseOracle oracle_;
    };
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    made.resistor("R1", "plus", "mid", 1);
    made.resistor("R2", "mid", "0", 1);
    Liar liar;
    CHECK_THROWS_AS(settle_network(liar, made.network()), std::logic_error);
}

TEST_CASE("what cannot be solved comes back as a failure") {
    class Nothing final : public Simulator {
    public:
        SolveResult solve(const Network&) override {
            return tl::unexpected(SolveFailure{SolveFailure::Kind::engine_lost, "gone"});
        }
    };
    BranchCircuit made;
    made.resistor("R1", "a", "0", 1);
    Nothing nothing;
    const SettleResult settled = settle_network(nothing, made.network());
    REQUIRE_FALSE(settled);
    CHECK(settled.error().kind == SolveFailure::Kind::engine_lost);
}

namespace {

/// Battery, fuses in two branches and loads that can be shorted.
struct FusedCircuit {
    FusedCircuit() {
        made.source("B1", "plus", "0", 12.6, 0.008);
        first = fuse("F1", "a", 10);
        second = fuse("F2", "b", 20);
        first_load = made.resistor("L1", "a", "0", 10);
        second_load = made.resistor("L2", "b", "0", 10);
    }
    PartId fuse(const std::string& name, const std::string& load_side, double rating) {
        const BranchId element = made.resistor(name, "plus", load_side, fuse_ohms(FuseType::mini, rating));
        Part part;
        part.name = name;
        part.branches = {element};
        part.fuse = FuseAction{element, "mini", rating};
        made.circuit().parts.push_back(part);
        return {static_cast<std::uint32_t>(made.circuit().parts.size() - 1)};
    }
    BranchCircuit made;
    PartId first, second;
    BranchId first_load, second_load;
};

}  // namespace

TEST_CASE("nothing opens in a healthy circuit, and its end is its beginning") {
    FusedCircuit fused;
    const CourseResult course = run_course(session(), fused.made.circuit(), State{}, {});
    REQUIRE(course);
    CHECK(course->aftermath.empty());
    CHECK_FALSE(course->after.has_value());
    CHECK(&course->end() == &course->faulted);
    CHECK_FALSE(opening_seconds(course->faulted, fused.first).has_value());
}

TEST_CASE("the fuse that opens first opens first; the times add up") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}}),
                                    fault_of("L2", "short", {SetLaw{fused.second_load, Resistor{0.2}}})};
    const CourseResult course = run_course(session(), fused.made.circuit(), State{}, faults);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 2);
    CHECK(course->aftermath[0].what == "F1 opens");
    CHECK(course->aftermath[1].what == "F2 opens");
    CHECK(course->aftermath[0].seconds == Approx(*opening_seconds(course->faulted, fused.first)).epsilon(1e-9));
    CHECK(course->aftermath[1].seconds > course->aftermath[0].seconds);
    REQUIRE(course->after.has_value());
    CHECK(std::abs(course->end().point.amps[fused.first_load.index]) < 1e-6);
    CHECK(course->opened == std::vector<PartId>{fused.first, fused.second});
}

TEST_CASE("fuses within a thousandth open together, and one already open stays open") {
    FusedCircuit fused;
    const PartId twin = fused.fuse("F3", "c", 10);
    const BranchId third_load = fused.made.resistor("L3", "c", "0", 10);
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}}),
                                    fault_of("L3", "short", {SetLaw{third_load, Resistor{0.2}}})};
    CourseResult course = run_course(session(), fused.made.circuit(), State{}, faults);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 2);
    CHECK(course->aftermath[0].seconds == course->aftermath[1].seconds);

    const std::vector<PartId> opened{fused.first};
    course = run_course(session(), fused.made.circuit(), State{}, faults, opened);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 1);
    CHECK(course->aftermath[0].part == twin);
    CHECK(std::abs(course->faulted.point.amps[fused.first_load.index]) < 1e-6);
}

TEST_CASE("a fuse just fitted is whole at first and blows again on the same short") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}})};
    State state;
    state.fitted_new = {fused.first};
    const std::vector<PartId> opened{fused.first};
    const CourseResult course = run_course(session(), fused.made.circuit(), state, faults, opened);
    REQUIRE(course);
    CHECK(course->faulted.point.amps[fused.first_load.index] > 40);
    REQUIRE(course->aftermath.size() == 1);
    CHECK(std::abs(course->end().point.amps[fused.first_load.index]) < 1e-6);
}

TEST_CASE("a larger fuse in the holder holds longer") {
    FusedCircuit fused;
    const Fault short_circuit = fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.4}}});
    const std::vector<Fault> alone{short_circuit};
    const std::vector<Fault> with_wrong_fuse{short_circuit, fault_of("F1", "rating", {FitFuse{fused.first, 30}})};
    const SettleResult right = settle(session(), fused.made.circuit(), State{}, alone);
    const SettleResult wrong = settle(session(), fused.made.circuit(), State{}, with_wrong_fuse);
    REQUIRE(right);
    REQUIRE(wrong);
    CHECK(opening_seconds(*right, fused.first).has_value());
    CHECK_FALSE(opening_seconds(*wrong, fused.first).has_value());
}

TEST_CASE("a fault is present unless its part is new, its condition is not named or its dead spot was nudged") {
    BranchCircuit made;
    Part motor;
    motor.name = "M1";
    made.circuit().parts.push_back(motor);
    const Circuit& circuit = made.circuit();
    State state;
    Fault fault = fault_of("M1", "dead-spot", {});
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

/// A switch with positions, an implied key and a plugged part, by hand.
struct SwitchCircuit {
    SwitchCircuit() {
        Circuit& circuit = made.circuit();
        made.branch("B1", "30", "0", Source{12.6, 14.2, 0.008});
        circuit.implied_key = made.branch("key", "30", "15", Contact{0, false});
        one = made.branch("S1", "15", "s1", Contact{0.005, false});
        two = made.branch("S1", "15", "s2", Contact{0.005, false});
        socket = made.branch("C303.1", "s1", "r1", Resistor{0.002});
        circuit.branches.back().role = "plug";
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
    state.leads = {{AddedLead::Kind::feed, r1, {}, 0, "feed R1.1"}};
    CHECK(made.amps(state, made.coil) == Approx(12.6 / 10.013).epsilon(1e-4));
    state.leads = {{AddedLead::Kind::jumper, made.made_circuit().bus_30, r1, 0, "jumper"}};
    CHECK(made.amps(state, made.coil) == Approx(12.6 / 10.013).epsilon(1e-4));
    state.supply_volts = 10.0;
    CHECK(made.amps(state, made.coil) == Approx(10 / 10.013).epsilon(1e-4));
    state = made.at("off", KeyPosition::off);
    state.leads = {{AddedLead::Kind::load, made.made_circuit().bus_30, {}, 55, "load 55W"}};
    const SettleResult loaded = settle(session(), made.made_circuit(), state, {});
    REQUIRE(loaded);
    const double bulb = 12.0 * 12.0 / 55;
    CHECK(-loaded->point.amps[0] == Approx(12.6 / (bulb + 0.008)).epsilon(1e-4));
}

TEST_CASE("a lamp in the fuse's place carries the lamp's current at most") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.01}}})};
    State state;
    state.lamp_in = {fused.first};
    const CourseResult course = run_course(session(), fused.made.circuit(), state, faults);
    REQUIRE(course);
    CHECK(course->aftermath.empty());
    const double bulb = 12.0 * 12.0 / 21;
    CHECK(course->faulted.point.amps[fused.first_load.index] == Approx(12.6 / (bulb + 0.018)).epsilon(1e-3));
}

TEST_CASE("default states go through each control's positions, the others at off, each once") {
    SwitchCircuit made;
    std::vector<State> states = default_states(made.made_circuit());
    REQUIRE(states.size() == 3);
    CHECK(states[0].label == "off");
    CHECK(states[0].key == KeyPosition::on);
    CHECK(states[2].label == "hi");
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

TEST_CASE("a state phrase becomes states: several positions give several, the key follows unless said") {
    const SwitchCircuit made;
    StatePhrase phrase;
    phrase.settings = {{PartId{1}, {1, 2}}};
    std::vector<State> states = states_of(made.made_circuit(), phrase);
    REQUIRE(states.size() == 2);
    CHECK(states[0].label == "lo");
    CHECK(states[1].key == KeyPosition::run);
    phrase.settings.clear();
    phrase.unplugged = {"C303"};
    states = states_of(made.made_circuit(), phrase);
    REQUIRE(states.size() == 1);
    CHECK(states[0].label == "off, unplug C303");
    CHECK(states[0].key == KeyPosition::on);
    phrase.key = KeyPosition::off;
    states = states_of(made.made_circuit(), phrase);
    CHECK(states[0].key == KeyPosition::off);
    CHECK(states[0].label == "off, key off, unplug C303");
}

namespace {

/// A load of some kind alone on a supply of some volts.
struct LoadCircuit {
    LoadCircuit(const std::string& kind, Law law, double volts) {
        made.source("B1", "plus", "0", volts, 0.01);
        feed = made.resistor("feed", "plus", "load", 0.001);
        Part part;
        part.name = "X1";
        part.kind = find_kind(kind);
        part.load_branch = made.branch("X1", "load", "0", law);
        part.branches = {part.load_branch};
        part.pins = {{"1", made.joint("load")}, {"2", made.joint("0")}};
        part.parameters = {{"rated rpm", 3500, Unit::rpm, "file", 0, true, false},
                           {"coil ohms", 3.6, Unit::ohm, "file", 0, true, false},
                           {"pull volts", 7.5, Unit::volt, "file", 0, true, false}};
        made.circuit().parts = {part};
    }
    Settled settled(double added_ohms = 0) const {
        Network network = made.network();
        network.at(feed).added_ohms = added_ohms;
        SettleResult result = settle_network(session(), network);
        REQUIRE(result);
        return *result;
    }
    BranchCircuit made;
    BranchId feed;
};

}  // namespace

TEST_CASE("a motor is seen dead, slow, normal, fast or running beside the healthy one") {
    const LoadCircuit made("motor", blower(), 13.5);
    const Settled healthy = made.settled();
    const Settled weak = made.settled(0.3);
    const Settled dead = made.settled(1e6);
    CHECK(load_state(healthy, PartId{0}, &healthy).seen == "normal");
    CHECK(load_state(weak, PartId{0}, &healthy).seen == "slow");
    CHECK(load_state(healthy, PartId{0}, &weak).seen == "fast");
    CHECK(load_state(dead, PartId{0}, &healthy).seen == "dead");
    CHECK(load_state(healthy, PartId{0}, &dead).seen == "runs");
    CHECK(load_state(healthy, PartId{0}, nullptr).seen == "normal");
    const LoadState state = load_state(healthy, PartId{0}, nullptr);
    CHECK(state.volts == Approx(13.28).margin(0.02));
    REQUIRE(state.rpm);
    CHECK(*state.rpm == Approx(3460).margin(30));
}

TEST_CASE("a clutch is pulled or not, a lamp dim, a heater weak") {
    const LoadCircuit clutch("clutch", Resistor{3.6}, 12.6);
    const Settled healthy = clutch.settled();
    CHECK(load_state(clutch.settled(1.0), PartId{0}, &healthy).seen == "normal");
    CHECK(load_state(clutch.settled(4.0), PartId{0}, &healthy).seen == "dead");
    const Settled dropped = clutch.settled(1e6);
    CHECK(load_state(healthy, PartId{0}, &dropped).seen == "runs");

    const LoadCircuit lamp("lamp", Resistor{7}, 12.6);
    const Settled bright = lamp.settled();
    CHECK(load_state(bright, PartId{0}, &bright).seen == "normal");
    CHECK(load_state(lamp.settled(4), PartId{0}, &bright).seen == "dim");
    CHECK(load_state(lamp.settled(1e3), PartId{0}, &bright).seen == "dead");

    const LoadCircuit heater("resistor", Resistor{0.6}, 12.6);
    const Settled warm = heater.settled();
    CHECK(load_state(heater.settled(0.4), PartId{0}, &warm).seen == "weak");
}

TEST_CASE("a wire's two currents differ by what a chafe takes from its middle") {
    BranchCircuit made;
    made.source("B1", "plus", "0", 12);
    Wire wire;
    wire.name = "542";
    wire.middle = made.joint("middle");
    wire.first_half = made.resistor("542", "plus", "middle", 0.01);
    wire.second_half = made.resistor("542", "middle", "load", 0.01);
    made.resistor("L1", "load", "0", 2);
    made.circuit().wires = {wire};
    Network network = made.network();
    network.connect(wire.middle, made.circuit().reference, Resistor{1});
    const SettleResult settled = settle_network(session(), network);
    REQUIRE(settled);
    const WireAmps amps = wire_amps(*settled, WireId{0});
    CHECK(amps.from - amps.to == Approx(11.8).margin(0.1));
    CHECK(amps.to == Approx(5.9).margin(0.1));
}

}  // namespace voltfall::test
