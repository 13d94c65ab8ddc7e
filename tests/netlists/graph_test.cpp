#include "netlists/graph/drawn_state.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/graph/poles.hpp"
#include "netlists/graph/separate_circuits.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"
#include "tests/support/small_network.hpp"

using namespace voltfall;

namespace {

/// Battery, fuse wire, lamp switched to ground.
SmallNetwork low_side_lamp() {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.wire("w2", "b", "c");
    net.selector("S1", "d", {{"on", "c"}});
    net.wire("w3", "d", "B1-");
    return net;
}

}  // namespace

TEST_CASE("a joint behind an open switch floats, one behind a load does not") {
    const SmallNetwork net = low_side_lamp();
    Network network(net.circuit());
    CHECK(names(net.circuit(), floating_joints(network)).empty());  // c hangs on plus through the lamp
    network.apply(std::vector<Change>{OpenBranch{net.circuit().parts[1].load_branch}});
    CHECK(names(net.circuit(), floating_joints(network)) == "b c");
}

TEST_CASE("a joint tied only through a diode floats when diodes do not count") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.diode("D1", "a", "b");
    net.wire("w2", "b", "c");
    const Network network(net.circuit());
    CHECK(floating_joints(network).empty());
    CHECK(names(net.circuit(), floating_joints(network, Diodes::block)) == "b c");
}

TEST_CASE("islands number joints that are tied together alike") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.wire("w2", "x", "y");
    const Network network(net.circuit());
    const std::vector<int> island = islands(network);
    CHECK(island == std::vector<int>{0, 0, 0, 1, 1});
}

TEST_CASE("a path takes the fewest ohms and does not run through loads, coils or the battery") {
    SmallNetwork net;
    net.wire("long", "B1+", "a", 0.5);
    net.wire("short1", "B1+", "m", 0.1);
    net.wire("short2", "m", "a", 0.1);
    net.load("L1", "a", "b");
    net.relay("K1", "a", "e", "x", "y");
    const Network network(net.circuit());
    CHECK(places(net.circuit(), path(network, net.joint("B1+"), net.joint("a"))) == "short1 short2");
    CHECK(path(network, net.joint("B1+"), net.joint("b")).empty());
    CHECK(path(network, net.joint("B1+"), net.joint("e")).empty());
    CHECK(path(network, net.joint("B1+"), net.joint("B1-")).empty());
}

TEST_CASE("a path can avoid a branch and follows a diode one way only") {
    SmallNetwork net;
    const BranchId wire = net.wire("w1", "a", "b", 0.1);
    net.diode("D1", "a", "b");
    const Network network(net.circuit());
    CHECK(places(net.circuit(), path(network, net.joint("a"), net.joint("b"))) == "w1");
    CHECK(places(net.circuit(), path(network, net.joint("a"), net.joint("b"), wire)) == "D1");
    CHECK(path(network, net.joint("b"), net.joint("a"), wire).empty());
}

TEST_CASE("a load's path is written in the order of the current, whichever way round it is wired") {
    SmallNetwork net = low_side_lamp();
    Network network(net.circuit());
    CHECK_FALSE(load_path(network, net.part("L1")).complete);
    CHECK(places(net.circuit(), load_path(network, net.part("L1")).feed) == "w1");
    set_position(network, net.part("S1"), 1);
    const LoadPath found = load_path(network, net.part("L1"));
    CHECK(found.complete);
    CHECK(places(net.circuit(), found.feed) == "w1");
    CHECK(places(net.circuit(), found.back) == "w2 S1 w3");

    SmallNetwork turned;
    turned.load("L1", "ground side", "plus side");
    turned.wire("w1", "B1+", "plus side");
    turned.wire("w2", "ground side", "B1-");
    const LoadPath other = load_path(Network(turned.circuit()), turned.part("L1"));
    CHECK(other.complete);
    CHECK(places(turned.circuit(), other.feed) == "w1");
    CHECK(places(turned.circuit(), other.back) == "w2");
}

TEST_CASE("a load that shares a lost ground with another load has no way back") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.wire("w2", "B1+", "b");
    net.load("L1", "a", "g");
    net.load("L2", "b", "g");
    const LoadPath found = load_path(Network(net.circuit()), net.part("L1"));
    CHECK_FALSE(found.complete);
    CHECK(found.back.empty());
}

TEST_CASE("a load with both sides on plus has no way back") {
    SmallNetwork net;
    net.load("L1", "B1+", "b");
    net.wire("w2", "b", "B1+");
    net.pack("R1", "B1+", "B1-", 5);
    CHECK_FALSE(load_path(Network(net.circuit()), net.part("L1")).complete);

    SmallNetwork fused;
    fused.wire("F1", "B1+", "a");
    fused.wire("F2", "B1+", "b");
    fused.load("L1", "a", "b");
    fused.pack("R1", "b", "B1-", 5);
    CHECK_FALSE(load_path(Network(fused.circuit()), fused.part("L1")).complete);
}

TEST_CASE("a load has no way back through its own diode past its feed") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.diode("D1", "b", "a");
    net.pack("R1", "a", "B1-", 680);
    CHECK_FALSE(load_path(Network(net.circuit()), net.part("L1")).complete);
    net.wire("w2", "b", "B1-");
    CHECK(load_path(Network(net.circuit()), net.part("L1")).complete);
}

TEST_CASE("with two batteries in series the feed starts at the upper plus") {
    SmallNetwork net;
    net.source("B2", "B2+", "B2-", 12.6);
    net.wire("strap", "B1+", "B2-");
    net.wire("w1", "B2+", "a");
    net.load("L1", "a", "B1-");
    const LoadPath found = load_path(Network(net.circuit()), net.part("L1"));
    CHECK(found.complete);
    CHECK(places(net.circuit(), found.feed) == "w1");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "strap w1");
}

TEST_CASE("bridges are what a load hangs on, not doubled wires and not stubs") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.wire("twin1", "a", "b");
    net.wire("twin2", "a", "b");
    net.wire("stub", "b", "nowhere");
    net.load("L1", "b", "c");
    net.wire("ring1", "c", "d");
    net.wire("ring2", "d", "e");
    net.wire("ring3", "e", "c");
    net.wire("w2", "e", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "w1 w2");
}

TEST_CASE("a second feed beside the first leaves no bridge between them") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "B1-");
    // The coil's way from plus to minus closes a ring with the load's way; each still hangs on its own wires.
    net.wire("w2", "B1+", "p");
    net.relay("K1", "p", "q", "x", "y");
    net.wire("w3", "q", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "w1 w2 w3");
}

TEST_CASE("a diode across a load does not hide what the load hangs on") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.diode("D1", "b", "a");
    net.wire("w2", "b", "B1-");
    net.wire("w3", "B1+", "c");
    net.load("L2", "c", "d");
    net.diode("D2", "d", "c");
    net.wire("w4", "d", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "w1 w2 w3 w4");
}

TEST_CASE("a load hangs on every wire of its way through a ballast") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.heater("R1", "a", "b");
    net.wire("w2", "b", "c");
    net.load("L1", "c", "d");
    net.wire("w3", "d", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "w1 R1 w2 w3");
}

TEST_CASE("a heater of its own and a resistor across a coil are no way around") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.heater("H1", "a", "g");
    net.relay("K1", "a", "q", "x", "y");
    net.suppression("K1", "a", "q");
    net.wire("w2", "q", "g");
    net.wire("w3", "g", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "w1 w2 w3");
}

TEST_CASE("a diode that feeds a load is a bridge like a wire") {
    SmallNetwork net;
    net.diode("D1", "B1+", "a");
    net.load("L1", "a", "b");
    net.diode("D2", "b", "B1-");
    CHECK(places(net.circuit(), bridges(Network(net.circuit()))) == "D1 D2");
}

TEST_CASE("series runs join branches that only meet where no probe reaches") {
    SmallNetwork net;
    net.inner("m");
    net.wire("half1", "a", "m");
    net.wire("half2", "m", "b");
    net.wire("next", "b", "c");
    net.inner("n");
    net.wire("x1", "c", "n");
    net.wire("x2", "n", "d");
    net.wire("x3", "n", "e");  // three meet: not a series joint
    const auto runs = series_runs(Network(net.circuit()));
    REQUIRE(runs.size() == 1);
    CHECK(places(net.circuit(), runs[0]) == "half1 half2");
}

TEST_CASE("poles are taken from the easiest way") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.pack("R1", "b", "c", 1);
    net.wire("w2", "c", "B1-");
    net.diode("D1", "c", "k");
    const Network network(net.circuit());
    const Reach reach(network);
    const auto at = [&](const std::vector<Pole>& poles, const char* name) { return poles[net.joint(name).index]; };
    const std::vector<Pole> metal = reach.poles(Through::metal);
    CHECK(at(metal, "a") == Pole::plus);
    CHECK(at(metal, "b") == Pole::none);
    CHECK(at(metal, "c") == Pole::minus);
    CHECK(at(metal, "k") == Pole::none);  // minus would be met only from K to A
    const std::vector<Pole> all = reach.poles(Through::loads);
    CHECK(at(all, "b") == Pole::minus);  // through the pack, which is easier than through the lamp
}

TEST_CASE("a relay pulls when its coil hangs on plus and minus, with a diode across it too") {
    SmallNetwork net;
    net.wire("w1", "B1+", "f");
    net.relay("K1", "f", "g", "B1+", "out");
    net.diode("D1", "g", "f");
    net.selector("S1", "B1-", {{"on", "g"}});
    Network network(net.circuit());
    CHECK_FALSE(set_relays(network).pulled[net.part("K1").index]);
    set_position(network, net.part("S1"), 1);
    CHECK(set_relays(network).pulled[net.part("K1").index]);
    CHECK(Reach(network).poles(Through::metal)[net.joint("out").index] == Pole::plus);
}

TEST_CASE("a relay fed through another relay settles, one that cuts its own feed does not") {
    SmallNetwork chain;
    chain.relay("K2", "out", "B1-", "B1+", "out2");
    chain.relay("K1", "B1+", "B1-", "B1+", "out");
    Network chained(chain.circuit());
    const DrawnRelays relays = set_relays(chained);
    CHECK(relays.settled);
    CHECK(relays.pulled[chain.part("K2").index]);

    SmallNetwork buzzer;
    buzzer.relay("K1", "own", "B1-", "B1+", "unused", "own");
    Network buzzing(buzzer.circuit());
    CHECK_FALSE(set_relays(buzzing).settled);
}

TEST_CASE("circuits that share only supply, buses and metal are told apart") {
    const auto circuit = voltfall::testing::circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
F2 = "fuse 10A mini, feed 30"
L1 = "lamp 21W"
L2 = "lamp 21W"
SP1 = "splice"
L3 = "lamp 5W"
G1 = "ground"
[wires]
1 = "F1.2 > L1.1 1mm2 RD 1m"
2 = "L1.2 > G1 1mm2 BK 1m"
3 = "F2.2 > SP1 1mm2 RD 1m"
4 = "SP1 > L2.1 1mm2 RD 1m"
5 = "SP1 > L3.1 1mm2 RD 1m"
6 = "L2.2 > G1 1mm2 BK 1m"
7 = "L3.2 > 31 1mm2 BK 1m"
8 = "B1- > G1 16mm2 BK 0.5m"
)");
    std::vector<std::string> names;
    for (const std::vector<WireId>& wires : separate_circuits(*circuit)) {
        names.emplace_back();
        for (const WireId wire : wires) names.back() += circuit->wire(wire).name;
    }
    CHECK(names == std::vector<std::string>{"12", "34567", "8"});
}
