#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

TEST_CASE("protect says yes for a well-made circuit and no for a fuse too large") {
    const Said sound = command_line({"protect", scenario("cab-blower.toml"), "--format", "json"});
    CHECK(sound.status == 0);
    const Json answer = Json::parse(sound.out);
    CHECK(answer.at("ok") == true);
    const Json& fuse = answer.at("fuses").at(0);
    CHECK(fuse.at("fuse") == "F7");
    CHECK(fuse.at("colour") == "orange");
    CHECK(fuse.at("guards") == Json({"541", "542"}));
    // 110 % holds; DIN 72581-3 form E: 135 % in 60 to 1800 s.
    CHECK(fuse.at("bands").at(0).at("typical").is_null());
    CHECK(fuse.at("bands").at(1).at("earliest") >= 60);
    CHECK(fuse.at("bands").at(1).at("latest") <= 1800);
    bool seized = false;
    for (const Json& gap : answer.at("gaps")) seized |= gap.at("fault") == "M1 seized" && gap.at("what") == "R1";
    CHECK(seized);

    const ScratchFile file("large.toml", [] {
        std::ifstream stream(scenario("cab-blower.toml"));
        std::string text((std::istreambuf_iterator<char>(stream)), std::istreambuf_iterator<char>());
        text.replace(text.find("fuse 40A"), 8, "fuse 60A");
        return text;
    }());
    const Said large = command_line({"protect", file.path()}, page_of(80));
    CHECK(large.status == 1);
    CHECK(contains(large.out, "GAP: harmed "));
    CHECK(contains(command_line({"protect", "--all", file.path()}, page_of(80)).out, "GAP harmed from"));
}

TEST_CASE("protect fits narrow and wide pages, and lists what it assumes") {
    for (const int columns : {44, 80}) {
        const Said said = command_line({"protect", "--all", scenario("cab-blower.toml")}, page_of(columns));
        CHECK(said.status == 0);
        CHECK(widest_line(said.out) <= columns);
        CHECK(contains(said.out, "M1 seized"));
        CHECK(contains(said.out, "ASSUMED"));
    }
    const Said plain = command_line({"protect", scenario("cab-blower.toml"), "--format", "plain"});
    CHECK(plain.out.starts_with("fuse\tF7\t40\tmaxi\torange\t"));
    CHECK(contains(plain.out, "\ngap\tM1 seized\tmh\t"));
}

TEST_CASE("whatif --time follows a fault to its end") {
    const std::string file = scenario("cab-blower.toml");
    const Said medium_high = command_line(
        {"whatif", file, "--fault", "M1 seized", "--state", "mh,hi", "--time", "10min", "--format", "json"});
    REQUIRE(medium_high.status == 0);
    const Json states = Json::parse(medium_high.out).at("states");
    const Json& limiter = states.at(0).at("aftermath").at(0);
    CHECK(limiter.at("kind") == "limiter opens");
    CHECK(limiter.at("name") == "R1");
    CHECK(states.at(0).at("after").at("fuses").at("F7").at("open") == false);
    double pack = 0;
    double healthy = 0;
    for (const Json& heat : states.at(0).at("heat")) {
        if (heat.at("name") != "R1") continue;
        pack = heat.at("watts");
        healthy = heat.at("healthy_watts");
    }
    CHECK(pack > 3 * healthy);
    const Json& fuse = states.at(1).at("aftermath").at(0);
    // The held winding warms and its current falls: a usual 40 A maxi holds, one that is quick opens.
    CHECK(fuse.at("kind") == "harmed");
    CHECK(fuse.at("name") == "M1 winding");
    CHECK(contains(fuse.at("otherwise").get<std::string>(), "unless F7 opens before"));

    const Said text = command_line({"whatif", file, "--fault", "M1 seized", "--time", "10min"}, page_of(44));
    CHECK(widest_line(text.out) <= 44);
    CHECK(contains(text.out, "R1 limiter opens"));
    // Shorter than the limiter takes: nothing has happened yet.
    const Said soon =
        command_line({"whatif", file, "--fault", "M1 seized", "--state", "mh", "--time", "5s", "--format", "json"});
    CHECK(Json::parse(soon.out).at("states").at(0).at("aftermath").empty());
    for (const std::string wrong : {"10", "ten minutes", "-3s", "1000h", "5V"}) {
        const Said refused = command_line({"whatif", file, "--time", wrong});
        INFO(wrong);
        CHECK(refused.status == 2);
        CHECK(contains(refused.err, "time"));
    }
}

TEST_CASE("what nothing protects is said loudly") {
    const Said said = command_line(
        {"whatif", scenario("cab-blower.toml"), "--fault", "820b short-to-30 10mohm", "--state", "mh"}, page_of(80));
    CHECK(contains(said.out, "nothing protects it"));
    // What a fuse ends is not unprotected.
    const Said ended =
        command_line({"whatif", scenario("cab-blower.toml"), "--fault", "542 chafe 20mohm", "--state", "hi"});
    CHECK_FALSE(contains(ended.out, "nothing protects"));
}

TEST_CASE("a lamp in the fuse's seat shows millivolts by section") {
    const std::string file = scenario("cab-blower.toml");
    for (const int columns : {44, 80}) {
        const Said said = command_line({"whatif", file, "--state", "off, lamp in F7"}, page_of(columns));
        CHECK(widest_line(said.out) <= columns);
        CHECK(contains(said.out, "across C101.4"));
    }
    const Json answer =
        Json::parse(command_line({"whatif", file, "--state", "off, lamp in F7", "--format", "json"}).out);
    const Json& lamp = answer.at("states").at(0).at("lamp");
    CHECK(lamp.at("fuse") == "F7");
    CHECK(lamp.at("shorts").size() >= 3);
    CHECK(lamp.at("shorts").at(0).at("millivolts").size() == lamp.at("sections").size());
}

TEST_CASE("an open limiter is offered with the motor that may have opened it") {
    const Said said = command_line({"match", scenario("only-high.job.toml"), "--format", "json"});
    const Json leader = Json::parse(said.out).at("candidates").at(0);
    CHECK(leader.at("fault") == "R1 limiter open");
    REQUIRE_FALSE(leader.at("caused_by").empty());
    const Json& causes = leader.at("caused_by");
    CHECK(std::any_of(causes.begin(), causes.end(), [](const Json& cause) { return cause.at("fault") == "M1 drag"; }));
}

TEST_CASE("when a fuse blew tells what blew it") {
    const std::string file = scenario("cab-blower.toml");
    const auto leader = [&](const std::string& reading) {
        const Said said = command_line({"match", file, "--read", reading, "--format", "json"});
        return Json::parse(said.out).at("candidates").at(0).at("fault").get<std::string>();
    };
    const std::string at_once = leader("fuse F7 blown at hi at once");
    const std::string later = leader("fuse F7 blown at hi after 5min");
    CHECK(at_once != later);
    CHECK(later.starts_with("M1 "));
}
