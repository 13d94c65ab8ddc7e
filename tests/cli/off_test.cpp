// A load that nobody has switched on is off. Two tail lamps share their feed; the left one and the blower share a
// ground. With that ground open the blower's current looks for another way: back through the left lamp, and through the
// right one to its own ground, so that both glow (a sneak path, common practice, no source; the volts by hand below).
#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

const std::string shared_ground = R"(format = 1
name = "Trailer, tail lamps and heater blower"
[parts]
B1 = "battery 12.6V 8mohm, charging 14.2V"
F1 = "fuse 10A mini, feed 30"
F2 = "fuse 30A maxi, feed 30"
S1 = "switch C: off on=1"
S2 = "switch C: off on=1"
M1 = "motor 10A @13.5V"
L1 = "lamp 5W"
L2 = "lamp 5W"
SP1 = "splice, lamp feed"
SP2 = "splice, shared ground"
G1 = "ground left rear"
G2 = "ground right rear"
[wires]
1 = "F1.2 > S2.C 1.5mm2 RD 2m"
2 = "S2.1 > SP1 1.5mm2 GY 3m"
3 = "SP1 > L1.1 1mm2 GY 0.5m"
4 = "SP1 > L2.1 1mm2 GY 1.5m"
5 = "L1.2 > SP2 1mm2 BN 0.3m"
6 = "L2.2 > G2 1mm2 BN 0.3m"
7 = "F2.2 > S1.C 4mm2 RD 2m"
8 = "S1.1 > M1.1 4mm2 BU 1m"
9 = "M1.2 > SP2 4mm2 BN 0.5m"
10 = "SP2 > G1 4mm2 BN 0.3m"
[controls]
S1 = "blower"
S2 = "lights"
)";

Json whatif(const ScratchFile& file, std::vector<std::string> more) {
    std::vector<std::string> words{"whatif", file.path(), "--format", "json"};
    words.insert(words.end(), more.begin(), more.end());
    const Said said = command_line(words);
    INFO(said.err);
    REQUIRE(said.status == 0);
    return Json::parse(said.out);
}

std::string seen(const Json& answer, std::size_t state, const char* which, const char* load) {
    return answer["states"][state][which]["loads"][load]["seen"];
}

}  // namespace

TEST_CASE("a load that nobody has switched on is off, and is not spoken of where no fault changes it") {
    const ScratchFile file("trailer.toml", shared_ground);
    const Json answer = whatif(file, {"--state", "S1=on"});
    CHECK(seen(answer, 0, "healthy", "L1") == "off");
    CHECK(seen(answer, 0, "healthy", "M1") == "normal");
    const Said text = command_line({"whatif", file.path(), "--state", "S1=on"});
    CHECK(contains(text.out, "M1"));
    CHECK_FALSE(contains(text.out, "L1  "));
    const Said off = command_line({"whatif", file.path(), "--state", "off"});
    INFO(off.out);
    CHECK(contains(off.out, "off"));
    CHECK_FALSE(contains(off.out, "dead"));
    CHECK_FALSE(contains(off.out, "normal"));
    // A lamp is lit or out, never normal or dead.
    const Said lit = command_line({"whatif", file.path(), "--state", "S2=on", "--fault", "L1 open"});
    INFO(lit.out);
    CHECK(contains(lit.out, "lit"));
    CHECK(contains(lit.out, "out"));
    CHECK_FALSE(contains(lit.out, "normal"));
    CHECK_FALSE(contains(lit.out, "dead"));
}

TEST_CASE("with the shared ground open and the blower on both tail lamps glow") {
    const ScratchFile file("trailer.toml", shared_ground);
    const Json answer = whatif(file, {"--fault", "G1 open", "--state", "S1=on"});
    CHECK(seen(answer, 0, "after", "M1") == "dead");
    CHECK(seen(answer, 0, "after", "L1") == "glows");
    CHECK(seen(answer, 0, "after", "L2") == "glows");
    // Two filaments of 12^2 / 5 = 28.8 ohm in series with a standing motor of some 0.15 ohm: half of 14 V less the
    // brush drop each.
    CHECK(std::abs(answer["states"][0]["after"]["loads"]["L1"]["volts"].get<double>()) == Approx(6.8).margin(0.6));
    const Said text = command_line({"whatif", file.path(), "--fault", "G1 open", "--state", "S1=on"});
    INFO(text.out);
    CHECK(contains(text.out, "glows"));
    CHECK(contains(text.out, "L1"));
    CHECK(contains(text.out, "L2"));
}

TEST_CASE("lamps that glow with the blower on put the shared ground first, whether or not their switch is told") {
    const ScratchFile file("trailer.toml", shared_ground);
    for (const std::string lights : {"key run, S1=on, S2=off", "S1=on"}) {
        INFO(lights);
        const Said said = command_line({"match", file.path(), "--read", "key run, S1=on  blower dead", "--read",
                                        lights + "  L1 glows", "--read", lights + "  L2 glows", "--format", "json"});
        INFO(said.err);
        const Json answer = Json::parse(said.out);
        const std::string place = answer["places"][0]["place"];
        CHECK((place == "G1" || place == "10"));
        CHECK(answer["places"][0]["probability"].get<double>() > 0.4);
        CHECK(contains(answer["candidates"][0]["fault"].get<std::string>(), "open"));
    }
}
