// `whatif --start`.
#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

Said whatif(std::vector<std::string> more, const Terminal& terminal = {}) {
    more.insert(more.begin(), {"whatif", scenario("cab-blower.toml"), "--state", "hi"});
    return command_line(more, terminal);
}

Json whatif_json(std::vector<std::string> more) {
    more.insert(more.end(), {"--format", "json"});
    const Said said = whatif(more);
    INFO(said.err);
    REQUIRE(said.status == 0);
    return Json::parse(said.out)["states"][0];
}

}  // namespace

TEST_CASE("a start in JSON has the motor's inrush and the fuse's margin") {
    const Json state = whatif_json({"--start"});
    const Json& start = state["startup"];
    CHECK(start["seconds"] == 3);
    const Json& motor = start["motors"]["M1"];
    const double running = state["faulted"]["loads"]["M1"]["amps"];
    CHECK(motor["peak_amps"].get<double>() > 3 * running);
    CHECK(motor["peak_seconds"].get<double>() < 0.01);
    CHECK(motor["to_63_seconds"].get<double>() < motor["to_95_seconds"].get<double>());
    CHECK(motor["end_amps"].get<double>() == Approx(running).epsilon(1e-3));
    CHECK(motor["started"] == true);
    const Json& fuse = start["fuses"]["F7"];
    CHECK(fuse["rating"] == 40);
    CHECK(fuse["peak_amps"].get<double>() == Approx(motor["peak_amps"].get<double>()).epsilon(1e-3));
    CHECK(fuse["heat"].get<double>() + fuse["margin"].get<double>() == Approx(1));
    CHECK(fuse["pulse_i2t"].get<double>() > 100);
    CHECK(fuse["opens_seconds"].is_null());
}

TEST_CASE("without --start nothing is said of one") {
    CHECK(whatif_json({})["startup"].is_null());
    CHECK_FALSE(contains(whatif({}).out, "start M1"));
    CHECK_FALSE(contains(whatif({"--format", "plain"}).out, "start\t"));
}

TEST_CASE("a start in text, wide and narrow") {
    for (const int columns : {80, 44}) {
        const Said said = whatif({"--start"}, page_of(columns));
        INFO(said.out << said.err);
        REQUIRE(said.status == 0);
        CHECK(contains(said.out, "start M1 69.4 A at 5 ms,"));
        CHECK(contains(said.out, "fuse F7 reaches 5 % of its melting"));
        CHECK(widest_line(said.out) <= columns);
    }
    CHECK(contains(whatif({"--start"}, page_of(80)).out, "full speed after 0.54 s"));
    // Too short for full speed, and a motor that does not start.
    CHECK(contains(whatif({"--start", "0.1"}, page_of(80)).out, "rpm after 0.10 s"));
    CHECK(contains(whatif({"--start", "--fault", "M1 seized"}, page_of(80)).out, "start M1 stands, 70.3 A"));
    const Said off = command_line({"whatif", scenario("cab-blower.toml"), "--state", "off", "--start"});
    CHECK(contains(off.out, "start no motor has current"));
}

TEST_CASE("a fuse that the start opens says when") {
    const Said said = whatif({"--start", "60s", "--fault", "M1 seized"}, page_of(80));
    INFO(said.out << said.err);
    // The start is followed at cold ohms; in the long run the winding warms and the usual fuse holds.
    CHECK(contains(said.out, "fuse F7 opens after 25 s"));
}

TEST_CASE("a start as plain records") {
    const Said said = whatif({"--start", "500ms", "--format", "plain"});
    CHECK(contains(said.out, "\nstart\thi\tM1\t69."));
    CHECK(contains(said.out, "\npulse\thi\tF7\t40\t69."));
}

TEST_CASE("--start wants seconds of its range, behind the file or with a number") {
    for (const std::string wrong : {"0.01", "61", "3V", "long"}) {
        const Said said = whatif({"--start", wrong});
        CHECK(said.status == 2);
        CHECK(contains(said.err, "expected seconds from 0.05 to 60, found '" + wrong + "'"));
    }
    const Said before = command_line({"whatif", "--start", "5", scenario("cab-blower.toml"), "--state", "hi"});
    CHECK(before.status == 0);
    CHECK(command_line({"whatif", "--start", scenario("cab-blower.toml")}).status == 0);
}
