// Feeds: what feeds what in each position, what is shared, what floats.
#include <chrono>

#include "netlists/files/circuit_file.hpp"
#include "netlists/graph/drawn_state.hpp"
#include "netlists/graph/feeds.hpp"
#include "netlists/graph/paths.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/small_network.hpp"

using namespace voltfall;

namespace {

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

TEST_CASE("a drawn key that has only run stands there where the engine is on") {
    for (const std::string word : {"on", "run"}) {
        const CircuitReading reading = read_circuit_text(
            "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nKY = \"key: off " + word +
                "=15\"\nF1 = \"fuse 10A mini, feed 15\"\nL1 = \"lamp 21W\"\n[wires]\n1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n"
                "2 = \"L1.2 > 31 1mm2 BK 1m\"\n",
            "key.toml");
        REQUIRE(reading.circuit);
        const Feeds feeds = trace_feeds(*reading.circuit);
        INFO(word);
        REQUIRE(feeds.positions.size() == 1);
        REQUIRE(feeds.positions[0].loads.size() == 1);
        CHECK(feeds.positions[0].loads[0].complete);
    }
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
    CHECK_THAT(back, Catch::Matchers::Contains(" 801 "));
    CHECK_THAT(back, Catch::Matchers::Contains(" 820b G202"));
    CHECK_THAT(step_places(lo.loads[0].feed), Catch::Matchers::Contains("F7 "));
    CHECK_THAT(step_places(lo.loads[0].feed), Catch::Matchers::Contains("541 C101.4 542"));

    const PositionFeeds& hi = position(feeds, "hi");
    REQUIRE(hi.pulled.size() == 1);
    CHECK(circuit->part(hi.pulled[0]).name == "K3");
    CHECK_THAT(step_places(hi.loads[0].back), Catch::Matchers::Contains("557"));
    CHECK_THAT(step_places(hi.loads[0].back), Catch::Matchers::Contains("820a G201"));
    CHECK_THAT(step_places(hi.loads[0].back), !Catch::Matchers::Contains("R1"));
    REQUIRE(hi.coils.size() == 1);
    CHECK(hi.coils[0].complete);
    CHECK_THAT(step_places(hi.coils[0].feed), Catch::Matchers::Contains("811"));
    CHECK_THAT(step_places(hi.coils[0].back), Catch::Matchers::Contains("804"));
}

TEST_CASE("the bookmobile's blower: what all speeds share is the feed, what only three share is the pack") {
    // Common practice, no source: some speeds dead points to the pack, all dead to feed, fuse or motor.
    const auto circuit = bookmobile();
    const Feeds feeds = trace_feeds(*circuit);
    const LoadShares& blower = feeds.loads.at(0);
    CHECK(blower.works_in == std::vector<std::string>{"lo", "ml", "mh", "hi"});
    const auto shared = [&](const std::string& place) {
        const auto found =
            std::find_if(blower.places.begin(), blower.places.end(), [&](const auto& p) { return p.place == place; });
        REQUIRE(found != blower.places.end());
        return *found;
    };
    for (const char* place : {"F7", "541", "C101.4", "542", "555"}) CHECK(shared(place).every);
    for (const char* place : {"R1", "556", "820b", "G202"}) {
        CHECK(shared(place).positions == std::vector<std::string>{"lo", "ml", "mh"});
    }
    CHECK(shared("557").positions == std::vector<std::string>{"hi"});
    CHECK(shared("802").positions == std::vector<std::string>{"ml"});
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
