#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

Json shown() {
    const Said said = command_line({"show", scenario("cab-blower.toml"), "--format", "json"});
    REQUIRE(said.status == 0);
    return Json::parse(said.out);
}

std::vector<std::string> places_of(const Json& steps) {
    std::vector<std::string> places;
    for (const Json& step : steps) places.push_back(step["place"]);
    return places;
}

bool has(const std::vector<std::string>& list, const std::string& item) {
    return std::find(list.begin(), list.end(), item) != list.end();
}

}  // namespace

TEST_CASE("the blower is fed through F7 and C101.4 in every position, and grounds where the position says") {
    const Json answer = shown();
    int complete = 0;
    for (const Json& position : answer["positions"]) {
        const Json& way = position["loads"][0];
        if (way["complete"] != true) continue;
        ++complete;
        const std::vector<std::string> feed = places_of(way["feed"]);
        CHECK(has(feed, "541"));
        CHECK(has(feed, "C101.4"));
        CHECK(has(feed, "542"));
        const std::vector<std::string> back = places_of(way["back"]);
        if (position["position"] == "hi") {
            CHECK(has(back, "K3"));
            CHECK(has(back, "820a"));
        } else {
            CHECK(has(back, "R1"));
            CHECK(has(back, "820b"));
        }
    }
    CHECK(complete == 4);
}

TEST_CASE("what every position hangs on is told as shared") {
    const Json answer = shown();
    std::vector<std::string> every;
    for (const Json& place : answer["loads"][0]["places"])
        if (place["every"] == true) every.push_back(place["place"]);
    CHECK(has(every, "F7"));
    CHECK(has(every, "542"));
    CHECK_FALSE(has(every, "K3"));
}

TEST_CASE("values that nobody typed are shown with their source, and what is assumed says so") {
    const Json answer = shown();
    bool assumed = false;
    for (const Json& value : answer["defaults"]) {
        CHECK_FALSE(value["source"].get<std::string>().empty());
        CHECK_FALSE(value["used_by"].empty());
        assumed = assumed || value["assumed"] == true;
    }
    CHECK(assumed);
    CHECK(contains(command_line({"show", "--defaults", scenario("cab-blower.toml")}).out, "ASSUMED"));
}

TEST_CASE("where a load waits for pressure or heat, show says how the contacts stand and how to ask for another") {
    // The low speed's relay and the high one's are both at work, so that nothing flows through the resistor.
    const ScratchFile file("fan.toml", R"(format = 1
[parts]
B1 = "battery 12V"
F1 = "fuse 40A, feed 30"
K1 = "relay 40A"
K2 = "relay 40A"
M1 = "motor 16A"
R1 = "resistor 0.33ohm 100W"
T1 = "contact closes 92C, opens 87C"
T2 = "contact closes 99C, opens 94C"
SP1 = "splice"
SP2 = "splice"
SP3 = "splice"
G1 = "ground"
[wires]
w1 = "F1.2 > SP1 6mm2 0.5m"
w2 = "SP1 > K1.30 6mm2 0.5m"
w3 = "SP1 > K2.30 6mm2 0.5m"
w4 = "K1.87 > R1.1 4mm2 1m"
w5 = "R1.2 > SP2 4mm2 0.3m"
w6 = "K2.87 > SP2 4mm2 1.2m"
w7 = "SP2 > M1.1 6mm2 0.1m"
w8 = "M1.2 > G1 6mm2 1m"
w9 = "SP1 > SP3 1mm2 1m"
w10 = "SP3 > K1.86 1mm2 1m"
w11 = "SP3 > K2.86 1mm2 1m"
w12 = "K1.85 > T1.1 1mm2 1m"
w13 = "K2.85 > T2.1 1mm2 1m"
w14 = "T1.2 > G1 1mm2 1m"
w15 = "T2.2 > G1 1mm2 1m"
)");
    const Said said = command_line({"show", file.path()}, page_of(200));
    INFO(said.out << said.err);
    CHECK(contains(said.out, "R1 has a whole way in no position"));
    CHECK(contains(said.out,
                   "here T1=closed, T2=closed; what goes where pressure or heat has moved one: voltfall whatif "
                   "CIRCUIT --state T1=open"));
    const Said cold = command_line({"whatif", file.path(), "--state", "T2=open", "--quiet"});
    CHECK(contains(cold.out, "R1"));
    CHECK_FALSE(contains(command_line({"show", scenario("cab-blower.toml")}).out, "pressure or heat"));
}

TEST_CASE("show text fits 44 and 80 columns") {
    for (const int width : {44, 80}) {
        const Said said = command_line({"show", scenario("cab-blower.toml")}, page_of(width));
        INFO(said.out);
        CHECK(said.status == 0);
        CHECK(widest_line(said.out) <= width);
    }
}

TEST_CASE("show as plain has a record a step") {
    bool step = false;
    for (const std::string& line :
         lines_of(command_line({"show", scenario("cab-blower.toml"), "--format", "plain"}).out))
        step = step || line.starts_with("step\thi\tM1\tfeed\t542\t");
    CHECK(step);
}

TEST_CASE("a fan unit or a module whose command says off works in every other position, not in off") {
    for (const std::string file : {"brushless.toml", "brushless-bus.toml", "module-linear.toml", "module-pwm.toml"}) {
        const Said said =
            command_line({"show", std::string(PROJECT_DIR) + "/scenarios/starters/" + file, "--format", "json"});
        INFO(file);
        REQUIRE(said.status == 0);
        const Json answer = Json::parse(said.out);
        REQUIRE(answer["loads"].size() == 1);
        const Json& load = answer["loads"][0];
        CHECK(load["works_in"].size() + 1 == answer["positions"].size());
        for (const Json& position : load["works_in"]) CHECK(position != "off");
        // What every position hangs on is still told.
        CHECK(std::any_of(load["places"].begin(), load["places"].end(),
                          [](const Json& place) { return place["every"] == true; }));
    }
}

TEST_CASE("the screen names no position in which electronics leave the load standing") {
    for (const std::string file : {"brushless.toml", "module-linear.toml", "module-pwm.toml"}) {
        const Said said = command_line({"show", std::string(PROJECT_DIR) + "/scenarios/starters/" + file});
        INFO(said.out);
        CHECK(said.out.find(" works in lo, ml, mh, hi") != std::string::npos);
    }
}

TEST_CASE("a diode across a load is shown with it; one in its way or across another is not") {
    const auto shown_with = [](const std::string& wires) {
        const std::string text =
            "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\nS1 = \"switch C: "
            "off on=1\"\n"
            "M1 = \"motor 5A @13.5V\"\nD1 = \"diode\"\nC1 = \"connector, 2 way\"\nSP1 = \"splice\"\nSP2 = "
            "\"splice\"\nG1 = \"ground\"\n"
            "[wires]\n1 = \"F1.2 > S1.C 2mm2 1m\"\n" +
            wires;
        return command_line({"show", "-"}, {}, text).out;
    };
    const std::string across = shown_with(
        "2 = \"S1.1 > SP1 2mm2 1m\"\n3 = \"SP1 > C1.A 2mm2 1m\"\n4 = \"C1.A > M1.1 2mm2 1m\"\n5 = \"M1.2 > SP2 2mm2 "
        "1m\"\n"
        "6 = \"SP2 > G1 2mm2 1m\"\n7 = \"SP2 > D1.A 1mm2 1m\"\n8 = \"SP1 > D1.K 1mm2 1m\"\n");
    INFO(across);
    CHECK(across.find("across it D1") != std::string::npos);
    const std::string in_series = shown_with(
        "2 = \"S1.1 > SP1 2mm2 1m\"\n3 = \"SP1 > D1.A 2mm2 1m\"\n4 = \"D1.K > M1.1 2mm2 1m\"\n5 = \"M1.2 > SP2 2mm2 "
        "1m\"\n"
        "6 = \"SP2 > G1 2mm2 1m\"\n");
    INFO(in_series);
    CHECK(in_series.find("M1 works in on") != std::string::npos);
    CHECK(in_series.find("across it") == std::string::npos);
}
