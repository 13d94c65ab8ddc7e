#include <nlohmann/json.hpp>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;
using Json = nlohmann::ordered_json;

namespace {

const std::string sound_circuit =
    "format = 1\nname = \"small\"\n\n[parts]\n"
    "B1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
    "F1 = \"fuse 15A regular, feed 30\"\n"
    "S1 = \"switch C: off hi=1\"\n"
    "M1 = \"motor 10A @13.5V, 3500rpm, stall 40A\"\n"
    "G1 = \"ground left\"\n\n[wires]\n"
    "1 = \"F1.2 > S1.C 4mm2 RD 1m\"\n"
    "2 = \"S1.1 > M1.1 4mm2 OG 1m\"\n"
    "3 = \"M1.2 > G1 4mm2 BK 1m\"\n\n[controls]\nS1 = \"blower\"\n";

std::string with(const std::string& from, const std::string& to) {
    std::string text = sound_circuit;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

std::vector<std::string> keys_of(const Json& object) {
    std::vector<std::string> keys;
    for (const auto& item : object.items()) keys.push_back(item.key());
    return keys;
}

}  // namespace

TEST_CASE("a sound circuit is OK with status 0 and nothing on stderr") {
    const ScratchFile file("small.toml", sound_circuit);
    const Said said = command_line({"check", file.path()});
    INFO(said.out);
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    CHECK(contains(said.out, "OK"));
    CHECK(contains(said.out, "5 parts, 3 wires"));
}

TEST_CASE("check as JSON has the keys of its contract in their order") {
    const ScratchFile file("small.toml", sound_circuit);
    const Said said = command_line({"check", file.path(), "--format", "json"});
    const Json answer = Json::parse(said.out);
    CHECK(keys_of(answer) ==
          std::vector<std::string>{"schema", "command", "ok", "problems", "parts", "wires", "nodes", "branches"});
    CHECK(answer["schema"] == 1);
    CHECK(answer["ok"] == true);
    CHECK(answer["parts"] == 5);
    CHECK(answer["wires"] == 3);
    CHECK(answer["nodes"] > 5);
}

TEST_CASE("an error of the file is the answer: on stdout, located, status 3") {
    const ScratchFile file("small.toml", with("M1.1 4mm2", "M9.1 4mm2"));
    const Said text = command_line({"check", file.path()});
    INFO(text.out << text.err);
    CHECK(text.status == 3);
    CHECK(text.err.empty());
    CHECK(contains(text.out, "M9"));
    CHECK(contains(text.out, "NOT OK"));
    CHECK(contains(text.out, "^"));
    const Json answer = Json::parse(command_line({"check", file.path(), "--format", "json"}).out);
    CHECK(answer["ok"] == false);
    REQUIRE_FALSE(answer["problems"].empty());
    const Json& problem = answer["problems"][0];
    CHECK(keys_of(problem) ==
          std::vector<std::string>{"file", "line", "column", "severity", "message", "suggestion", "code"});
    CHECK(problem["file"] == file.path());
    CHECK(problem["line"] == 13);
    CHECK(problem["severity"] == "error");
    CHECK(answer["nodes"].is_null());
}

TEST_CASE("the same mistake stops any other command with status 3 on stderr") {
    const ScratchFile file("small.toml", with("M1.1 4mm2", "M9.1 4mm2"));
    const Said said = command_line({"whatif", file.path()});
    CHECK(said.status == 3);
    CHECK(said.out.empty());
    CHECK(contains(said.err, ":13:"));
    CHECK(contains(said.err, "M9"));
}

TEST_CASE("a warning is listed and the file is still OK") {
    // 15 A before 0.35 mm2: row W20 of the wire table (33 CFR 183.425 table E) ends at 18 AWG, 0.8 mm2, with 20 A;
    // extrapolated it allows less than the fuse.
    const ScratchFile file("small.toml", with("S1.C 4mm2", "S1.C 0.35mm2"));
    const Said said = command_line({"check", file.path()});
    INFO(said.out);
    CHECK(said.status == 0);
    CHECK(contains(said.out, "warning"));
}

TEST_CASE("several files have their own entries, and totals count a circuit once") {
    const ScratchFile circuit("small.toml", sound_circuit);
    const ScratchFile broken("broken.toml", with("M1.1 4mm2", "M9.1 4mm2"));
    const Json good = Json::parse(command_line({"check", circuit.path(), circuit.path(), "--format", "json"}).out);
    CHECK(good["files"].size() == 2);
    CHECK(good["parts"] == 5);
    const Said said = command_line({"check", circuit.path(), broken.path(), "--format", "json"});
    const Json mixed = Json::parse(said.out);
    CHECK(said.status == 3);
    CHECK(mixed["ok"] == false);
    CHECK(mixed["files"][0]["ok"] == true);
    CHECK(mixed["files"][1]["ok"] == false);
    CHECK(mixed["files"][0]["parts"] == 5);
}

TEST_CASE("the bookmobile's files are right") {
    const Said said = command_line({"check", scenario("cab-blower.toml"), scenario("weak-air.job.toml")});
    INFO(said.out);
    CHECK(said.status == 0);
}

TEST_CASE("check as plain is one record a line with tabs") {
    const ScratchFile file("small.toml", with("M1.1 4mm2", "M9.1 4mm2"));
    const std::vector<std::string> lines = lines_of(command_line({"check", file.path(), "--format", "plain"}).out);
    REQUIRE(lines.size() >= 2);
    CHECK(lines.front().starts_with("problem\t" + file.path() + "\t13\t"));
    CHECK(lines.back().starts_with("file\t" + file.path() + "\tno\t"));
}

TEST_CASE("a circuit is read from stdin as -") {
    CHECK(command_line({"check", "-"}, {}, sound_circuit).status == 0);
    const Said said = command_line({"check", "-"}, {}, with("M1.1 4mm2", "M9.1 4mm2"));
    CHECK(said.status == 3);
    CHECK(contains(said.out, "-:13:"));
}

TEST_CASE("problems fit 44 columns") {
    const ScratchFile file("x.toml", with("M1.1 4mm2", "M9.1 4mm2"));
    const std::string text = command_line({"check", file.path()}, page_of(44)).out;
    for (const std::string& line : lines_of(text)) {
        // A path is one word and is never broken.
        if (!contains(line, file.path())) CHECK(text_width(line) <= 44);
    }
}

TEST_CASE("mistakes of any file are told before a lesson is tried out") {
    const std::string lesson = std::string(PROJECT_DIR) + "/scenarios/lessons/dark-lamp.toml";
    const ScratchFile wrong("wrong.toml", with("motor 10A", "moter 10A"));
    const Said said = command_line({"check", lesson, wrong.path()});
    INFO(said.out << said.err);
    CHECK(said.status == 3);
    CHECK(contains(said.out, "'moter'"));
    CHECK(contains(said.err, "1 lesson was read and not tried out"));
    const Said alone = command_line({"check", lesson});
    CHECK(alone.status == 0);
    CHECK_FALSE(contains(alone.err, "not tried out"));
}

TEST_CASE("a job whose circuit is not named is a job still, whatever else it has of settings") {
    const ScratchFile job("job.toml",
                          "format = 1\nconcern = \"weak\"\ntools = [\"meter\"]\n[readings]\n1 = \"fuse F7 good\"\n");
    const Said said = command_line({"check", job.path()});
    INFO(said.out);
    CHECK(said.status == 3);
    CHECK(contains(said.out, "circuit"));
    CHECK_FALSE(contains(said.out, "settings"));
}
