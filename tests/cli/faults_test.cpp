#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "engine/figures/catalogue_symptoms.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

const Json& demo_faults() {
    static const Json answer = [] {
        const Said said = command_line({"faults", scenario("cab-blower.toml"), "--format", "json"});
        REQUIRE(said.status == 0);
        return Json::parse(said.out);
    }();
    return answer;
}

/// The groups that hold a fault of that phrase.
std::vector<Json> groups_with(const std::string& phrase) {
    std::vector<Json> found;
    for (const Json& group : demo_faults()["groups"])
        for (const Json& fault : group["faults"])
            if (fault["fault"] == phrase) {
                found.push_back(group);
                break;
            }
    return found;
}

}  // namespace

TEST_CASE("sizes are five, spread from the least to the largest") {
    SizeRange ohms{0.02, 100, 0.3, Unit::ohm, true, ""};
    const std::vector<double> sizes = sizes_tried(ohms);
    REQUIRE(sizes.size() == 5);
    CHECK(sizes.front() == 0.02);
    CHECK(sizes.back() == 100);
    CHECK(sizes[2] == Approx(1.4).margin(0.05));  // the geometric middle
    SizeRange volts{10.5, 12.2, 11.6, Unit::volt, false, ""};
    CHECK(sizes_tried(volts)[2] == Approx(11.35).margin(0.06));
    CHECK(std::is_sorted(sizes.begin(), sizes.end()));
}

TEST_CASE("groups have different symptoms and hold every fault and size once") {
    std::set<std::string> symptoms;
    std::set<std::string> faults;
    std::size_t count = 0;
    for (const Json& group : demo_faults()["groups"]) {
        CHECK(symptoms.insert(group["symptom"].dump() + group["fuses"].dump()).second);
        for (const Json& fault : group["faults"]) {
            ++count;
            CHECK(faults.insert(fault.dump()).second);
        }
    }
    CHECK(count > 100);
}

TEST_CASE("an open limiter shows as dead lower positions with high normal and no fuse") {
    const std::vector<Json> groups = groups_with("R1 limiter open");
    REQUIRE(groups.size() == 1);
    CHECK(groups[0]["symptom"]["lo"] == "dead");
    CHECK(groups[0]["symptom"]["mh"] == "dead");
    CHECK(groups[0]["symptom"]["hi"] == "normal");
    CHECK(groups[0]["fuses"].empty());
}

TEST_CASE("a feed wire against metal takes its fuse with it") {
    // Common practice, no source: a feed wire melted through on a hot tube touches the metal, which is ground, and
    // blows its fuse.
    bool blows = false;
    for (const Json& group : groups_with("542 chafe")) blows = blows || group["fuses"] == Json::array({"F7"});
    CHECK(blows);
}

TEST_CASE("what nobody notices stands last") {
    const Json& last = demo_faults()["groups"].back();
    CHECK(last["symptom"] == demo_faults()["healthy"]);
    CHECK(last["fuses"].empty());
}

TEST_CASE("the answer is the same for one worker and for two") {
    const std::string file = scenario("cab-blower.toml");
    const auto with = [&](const char* workers) {
        return command_line({"faults", file, "--state", "hi", "--format", "json", "--workers", workers}).out;
    };
    CHECK(with("1") == with("2"));
}

TEST_CASE("faults text fits 44 and 80 columns and cuts long lists") {
    for (const int width : {44, 80}) {
        const Said said = command_line({"faults", scenario("cab-blower.toml"), "--state", "hi"}, page_of(width));
        INFO(said.out);
        CHECK(said.status == 0);
        CHECK(widest_line(said.out) <= width);
        CHECK(contains(said.out, "more: --top "));
    }
}

TEST_CASE("faults as plain has one fault a line") {
    const Said said = command_line({"faults", scenario("cab-blower.toml"), "--state", "hi", "--format", "plain"});
    const std::vector<std::string> lines = lines_of(said.out);
    CHECK(lines.size() > 100);
    for (const std::string& line : lines) {
        CHECK(line.starts_with("fault\t"));
        CHECK(std::count(line.begin(), line.end(), '\t') == 6);
    }
}
