#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

const std::string& demo() {
    static const std::string path = scenario("cab-blower.toml");
    return path;
}

Json whatif(std::vector<std::string> more) {
    more.insert(more.begin(), {"whatif", demo()});
    more.insert(more.end(), {"--format", "json"});
    const Said said = command_line(more);
    INFO(said.err);
    REQUIRE(said.status == 0);
    return Json::parse(said.out);
}

const Json& state_of(const Json& answer, const std::string& name) {
    for (const Json& state : answer["states"])
        if (state["state"] == name) return state;
    throw std::runtime_error("no state " + name);
}

std::vector<std::string> keys_of(const Json& object) {
    std::vector<std::string> keys;
    for (const auto& item : object.items()) keys.push_back(item.key());
    return keys;
}

}  // namespace

TEST_CASE("the healthy demo has the figures of the contract at hi") {
    // The sample of the command page: 13.57 V and 20.16 A at M1, 3515 rpm, M1.1 13.76, M1.2 0.20, C101.4 13.93
    // and 13.89.
    const Json answer = whatif({"--state", "hi"});
    const Json& healthy = state_of(answer, "hi")["healthy"];
    const Json& motor = healthy["loads"]["M1"];
    CHECK(motor["volts"].get<double>() == Approx(13.57).margin(0.03));
    CHECK(motor["amps"].get<double>() == Approx(20.16).margin(0.05));
    CHECK(motor["rpm"].get<double>() == Approx(3515).margin(10));
    CHECK(motor["seen"] == "normal");
    CHECK(healthy["points"]["C101.4@541"].get<double>() == Approx(13.93).margin(0.03));
    CHECK(healthy["points"]["C101.4@542"].get<double>() == Approx(13.89).margin(0.03));
    CHECK(healthy["fuses"]["F7"]["opens"] == false);
    CHECK(healthy["fuses"]["F7"]["seconds"].is_null());
    CHECK(healthy["wires"]["542"]["from"].get<double>() == Approx(20.16).margin(0.05));
    CHECK(healthy["relays"]["K3"] == "pulled");
}

TEST_CASE("whatif as JSON has the keys of its contract in their order") {
    const Json answer = whatif({"--fault", "C101.4 resistance 0.3ohm", "--state", "hi"});
    CHECK(answer["schema"] == 1);
    CHECK(answer["command"] == "whatif");
    CHECK(answer["faults"] == Json::array({"C101.4 resistance 0.3ohm"}));
    const Json& state = answer["states"][0];
    const std::vector<std::string> keys = keys_of(state);
    CHECK(std::vector<std::string>(keys.begin(), keys.begin() + 5) ==
          std::vector<std::string>{"state", "healthy", "faulted", "aftermath", "after"});
    for (const std::string which : {"healthy", "faulted", "after"}) {
        const std::vector<std::string> inner = keys_of(state[which]);
        CHECK(std::vector<std::string>(inner.begin(), inner.begin() + 7) ==
              std::vector<std::string>{"loads", "fuses", "points", "wires", "relays", "floating", "weak"});
    }
    CHECK(state["after"] == state["faulted"]);
    // 46 W in one contact soften its housing; nothing opens.
    REQUIRE(state["aftermath"].size() == 1);
    CHECK(keys_of(state["aftermath"][0]) == std::vector<std::string>{"seconds", "what", "kind", "name", "earliest",
                                                                     "latest", "otherwise", "watts", "goes_on"});
    CHECK(state["aftermath"][0]["goes_on"] == true);
    CHECK(state["aftermath"][0]["kind"] == "harmed");
    CHECK(state["aftermath"][0]["watts"].get<double>() == Approx(12.4 * 12.4 * 0.302).epsilon(0.03));
}

TEST_CASE("an open limiter kills the lower positions and leaves high as it was") {
    const Json answer = whatif({"--fault", "R1 limiter open"});
    for (const std::string lower : {"lo", "ml", "mh"}) {
        CHECK(state_of(answer, lower)["healthy"]["loads"]["M1"]["seen"] == "normal");
        CHECK(state_of(answer, lower)["after"]["loads"]["M1"]["seen"] == "dead");
    }
    CHECK(state_of(answer, "hi")["after"]["loads"]["M1"]["seen"] == "normal");
    CHECK(state_of(answer, "off")["after"]["loads"]["M1"]["seen"] == "off");
}

TEST_CASE("a chafed feed blows its fuse, and the wire has two currents until then") {
    const Json answer = whatif({"--fault", "542 chafe 20mohm at 60%", "--state", "hi"});
    const Json& state = state_of(answer, "hi");
    REQUIRE(state["aftermath"].size() == 1);
    CHECK(state["aftermath"][0]["what"] == "F7 opens");
    CHECK(state["aftermath"][0]["seconds"].get<double>() > 0);
    CHECK(state["faulted"]["fuses"]["F7"]["opens"] == true);
    CHECK(state["after"]["fuses"]["F7"]["open"] == true);
    CHECK(state["after"]["loads"]["M1"]["seen"] == "dead");
    const Json& wire = state["faulted"]["wires"]["542"];
    CHECK(wire["from"].get<double>() > wire["to"].get<double>() + 50);
}

TEST_CASE("a chafe between motor and pack runs the blower at full speed on lo with the fuse whole") {
    const Json answer = whatif({"--fault", "556 chafe 20mohm at 50%", "--state", "lo"});
    const Json& state = state_of(answer, "lo");
    CHECK(state["aftermath"].empty());
    CHECK(state["after"]["fuses"]["F7"]["open"] == false);
    CHECK(state["after"]["loads"]["M1"]["seen"] == "fast");
    CHECK(state["after"]["loads"]["M1"]["rpm"].get<double>() > 3300);
}

TEST_CASE("a joint that is cut off is null, listed, and warned of in text") {
    // With K3 pulled the pack is bypassed: an open limiter leaves its taps tied to nothing.
    const Json answer = whatif({"--fault", "R1 limiter open", "--state", "hi"});
    const Json& end = state_of(answer, "hi")["after"];
    REQUIRE_FALSE(end["floating"].empty());
    for (const Json& name : end["floating"]) CHECK(end["points"][name.get<std::string>()].is_null());
    CHECK(state_of(answer, "hi")["healthy"]["floating"].empty());
    const Said text = command_line({"whatif", demo(), "--fault", "R1 limiter open", "--state", "hi"}, page_of(200));
    CHECK(contains(text.out, "cut off: R1.1"));
    CHECK(contains(text.out, "a meter shows about 0 V there"));
}

TEST_CASE("points that are asked for are the points that are shown") {
    const Json answer = whatif({"--state", "hi", "--points", "M1.1,C101.4 542"});
    const Json& healthy = state_of(answer, "hi")["healthy"];
    CHECK(healthy["points"].size() == 3);  // C101.4 may be either half
    CHECK(keys_of(healthy["wires"]) == std::vector<std::string>{"542"});
    const Said wrong = command_line({"whatif", demo(), "--points", "M1.7"});
    CHECK(wrong.status == 2);
    CHECK(contains(wrong.err, "M1.7"));
}

TEST_CASE("a wrong fault or state is a usage mistake with a suggestion") {
    const Said fault = command_line({"whatif", demo(), "--fault", "R1 limitter open"});
    CHECK(fault.status == 2);
    CHECK(contains(fault.err, "limitter"));
    CHECK(contains(fault.err, "limiter"));
    CHECK(contains(fault.err, "^"));
    const Said place = command_line({"whatif", demo(), "--fault", "C110.4 open"});
    CHECK(place.status == 2);
    CHECK(contains(place.err, "C101"));
    const Said state = command_line({"whatif", demo(), "--state", "hgih"});
    CHECK(state.status == 2);
    CHECK(state.out.empty());
    CHECK(contains(state.err, "hgih"));
}

TEST_CASE("whatif text fits 44 and 80 columns and says the fault as a phrase and as a sentence") {
    for (const std::string fault : {"R1 limiter open", "542 chafe 20mohm at 60%", "G201 resistance 0.15ohm"}) {
        for (const int width : {44, 80}) {
            const Said said = command_line({"whatif", demo(), "--fault", fault}, page_of(width));
            INFO(said.out << said.err);
            CHECK(said.status == 0);
            CHECK(widest_line(said.out) <= width);
            CHECK(contains(said.out, "position"));
            CHECK(contains(said.out, fault + ":"));
        }
    }
}

TEST_CASE("limits of the file are held against the figures") {
    const Json answer = whatif({"--fault", "C101.4 resistance 0.3ohm", "--state", "hi"});
    bool feed = false;
    bool amps = false;
    for (const Json& limit : state_of(answer, "hi")["limits"]) {
        if (limit["key"] == "feed") {
            feed = true;
            CHECK(limit["healthy_ok"] == true);
            CHECK(limit["faulted_ok"] == false);
            CHECK(limit["faulted"].get<double>() > 3);
        }
        if (limit["key"] == "hi.amps") {
            amps = true;
            CHECK(limit["low"] == 18);
            CHECK(limit["high"] == 21);
            CHECK(limit["healthy_ok"] == true);
            CHECK(limit["faulted_ok"] == false);
        }
    }
    CHECK(feed);
    CHECK(amps);
}

TEST_CASE("the same question has the same bytes for answer") {
    const std::vector<std::string> args = {"whatif", demo(), "--fault", "C101.4 resistance 0.3ohm", "--format", "json"};
    CHECK(command_line(args).out == command_line(args).out);
}

TEST_CASE("whatif as plain names the record first") {
    const Said said = command_line({"whatif", demo(), "--state", "hi", "--format", "plain"});
    bool load = false;
    for (const std::string& line : lines_of(said.out)) {
        CHECK(contains(line, "\t"));
        load = load || line.starts_with("load\thi\thealthy\tM1\t");
    }
    CHECK(load);
}

TEST_CASE("a fault that shows only hot is followed cold and hot") {
    const Json answer = whatif({"--fault", "542 chafe when hot", "--state", "hi"});
    REQUIRE(answer["states"].size() == 2);
    CHECK(state_of(answer, "hi")["aftermath"].empty());
    CHECK(state_of(answer, "hi, hot")["aftermath"][0]["what"] == "F7 opens");
    // A state that names the condition is enough.
    CHECK(whatif({"--fault", "542 chafe when hot", "--state", "hi, hot"})["states"].size() == 1);
}
