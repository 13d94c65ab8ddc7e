#include <chrono>

#include "netlists/files/circuit_file.hpp"
#include "netlists/graph/drawn_state.hpp"
#include "netlists/graph/feeds.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/graph/poles.hpp"
#include "tests/support/catch.hpp"
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

std::string step_places(const std::vector<WayStep>& steps) {
    std::string text;
    for (const WayStep& step : steps) text += (text.empty() ? "" : " ") + step.place;
    return text;
}

std::shared_ptr<const Circuit> bookmobile() {
    const CircuitReading reading =
        read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/bookmobile/cab-blower.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

const PositionFeeds& position(const Feeds& feeds, const std::string& label) {
    for (const PositionFeeds& found : feeds.positions) {
        if (found.label == label) return found;
    }
    FAIL("no position " << label);
    return feeds.positions.front();
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

TEST_CASE("feeds of a small circuit name each position, what is shared and what floats") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.wire("w2", "b", "p2");
    net.pack("R1", "p2", "p1", 1);
    net.wire("w3", "p1", "s1");
    net.wire("w4", "p2", "s2");
    net.selector("S1", "c", {{"dim", "s1"}, {"bright", "s2"}});
    net.wire("w5", "c", "B1-");
    net.relay("K1", "c", "nc", "x", "y");
    const Feeds feeds = trace_feeds(net.circuit());
    REQUIRE(feeds.positions.size() == 3);
    CHECK_FALSE(position(feeds, "off").loads[0].complete);
    CHECK(step_places(position(feeds, "dim").loads[0].back) == "w2 R1 w3 S1 w5");
    CHECK(step_places(position(feeds, "bright").loads[0].back) == "w2 w4 S1 w5");
    CHECK(feeds.loads[0].works_in == std::vector<std::string>{"dim", "bright"});
    std::string every;
    for (const SharedPlace& place : feeds.loads[0].places) {
        if (place.every) every += place.place + " ";
    }
    CHECK(every == "w1 w2 S1 w5 ");
    CHECK(names(net.circuit(), feeds.floating_off) == "x y");
    CHECK(position(feeds, "dim").loads[0].back[1].only_way);
}

TEST_CASE("a position word that two switches share is written with the switch's name") {
    SmallNetwork net;
    net.selector("S1", "B1-", {{"hi", "a"}});
    net.selector("S2", "B1-", {{"hi", "b"}, {"lo", "c"}});
    const Feeds feeds = trace_feeds(net.circuit());
    CHECK(feeds.positions[1].label == "S1=hi");
    CHECK(feeds.positions[4].label == "lo");
}

TEST_CASE("a contact that is no control is shown where it closes something") {
    SmallNetwork net;
    net.wire("w1", "B1+", "a");
    net.load("L1", "a", "b");
    net.selector("P1", "b", {{"closed", "B1-"}});
    net.edit().controls.clear();
    const Feeds feeds = trace_feeds(net.circuit());
    REQUIRE(feeds.positions.size() == 1);
    CHECK(feeds.positions[0].label == "P1=closed");
    CHECK(feeds.positions[0].loads[0].complete);
}

TEST_CASE("the bookmobile's blower: the way of the current in each position") {
    const auto circuit = bookmobile();
    const Feeds feeds = trace_feeds(*circuit);
    REQUIRE(feeds.positions.size() == 5);
    const auto& off = position(feeds, "off").loads;
    REQUIRE(off.size() == 1);
    CHECK_FALSE(off[0].complete);
    CHECK_FALSE(off[0].feed.empty());

    const PositionFeeds& lo = position(feeds, "lo");
    CHECK(lo.pulled.empty());
    const std::string back = step_places(lo.loads[0].back);
    CHECK_THAT(back, Catch::Matchers::Contains("555 "));
    CHECK_THAT(back, Catch::Matchers::Contains(" 556 "));
    CHECK_THAT(back, Catch::Matchers::Contains(" R1 "));
    CHECK_THAT(back, Catch::Matchers::Contains(" 60 "));
    CHECK_THAT(back, Catch::Matchers::Contains(" 150b G202"));
    CHECK_THAT(step_places(lo.loads[0].feed), Catch::Matchers::Contains("F7 "));
    CHECK_THAT(step_places(lo.loads[0].feed), Catch::Matchers::Contains("541 C101.4 542"));

    const PositionFeeds& hi = position(feeds, "hi");
    REQUIRE(hi.pulled.size() == 1);
    CHECK(circuit->part(hi.pulled[0]).name == "K3");
    CHECK_THAT(step_places(hi.loads[0].back), Catch::Matchers::Contains("557"));
    CHECK_THAT(step_places(hi.loads[0].back), Catch::Matchers::Contains("150a G201"));
    CHECK_THAT(step_places(hi.loads[0].back), !Catch::Matchers::Contains("R1"));
    REQUIRE(hi.coils.size() == 1);
    CHECK(hi.coils[0].complete);
    CHECK_THAT(step_places(hi.coils[0].feed), Catch::Matchers::Contains("141"));
    CHECK_THAT(step_places(hi.coils[0].back), Catch::Matchers::Contains("76"));
}

TEST_CASE("the bookmobile's blower: what all speeds share is the feed, what only three share is the pack") {
    // Common practice, no source: some speeds dead points to the pack, all dead to feed, fuse or motor.
    const auto circuit = bookmobile();
    const Feeds feeds = trace_feeds(*circuit);
    const LoadShares& blower = feeds.loads.at(0);
    CHECK(blower.works_in == std::vector<std::string>{"lo", "m1", "m2", "hi"});
    const auto shared = [&](const std::string& place) {
        const auto found =
            std::find_if(blower.places.begin(), blower.places.end(), [&](const auto& p) { return p.place == place; });
        REQUIRE(found != blower.places.end());
        return *found;
    };
    for (const char* place : {"F7", "541", "C101.4", "542", "555"}) CHECK(shared(place).every);
    for (const char* place : {"R1", "556", "150b", "G202"}) {
        CHECK(shared(place).positions == std::vector<std::string>{"lo", "m1", "m2"});
    }
    CHECK(shared("557").positions == std::vector<std::string>{"hi"});
    CHECK(shared("63").positions == std::vector<std::string>{"m1"});
}

TEST_CASE("the bookmobile's blower: with the switch off only the way of the high contact to the coil is fed") {
    const auto circuit = bookmobile();
    const Feeds feeds = trace_feeds(*circuit);
    // Everything hangs on the battery through the motor or the coil; nothing floats.
    CHECK(names(*circuit, feeds.floating_off).empty());
}

TEST_CASE("floating joints of the bookmobile take a few microseconds") {
    const auto circuit = bookmobile();
    const Network network = network_at_rest(*circuit);
    std::size_t sum = 0;
    const int times = 2000;
    const auto start = std::chrono::steady_clock::now();
    for (int i = 0; i < times; ++i) sum += floating_joints(network).size();
    const std::chrono::duration<double, std::micro> spent = std::chrono::steady_clock::now() - start;
    INFO("microseconds a call: " << spent.count() / times << " for " << network.joints << " joints, found " << sum);
    CHECK(spent.count() / times < 100);  // wide: a debug build with sanitizers on a shared machine
}
