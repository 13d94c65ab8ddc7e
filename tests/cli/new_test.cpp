// `new`: starters that work as they are written, and circuits made of wire lists.
#include <nlohmann/json.hpp>
#include <set>

#include "cli/commands/starters.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/wire_list.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::solver;

namespace {

std::string wire_list(const std::string& text) {
    const WireList list = read_wire_list("list.csv", text);
    INFO(testing::all_problems(list.problems));
    REQUIRE_FALSE(list.problems.has_errors());
    return list.text;
}

Problem error_of(const std::string& text) {
    const WireList list = read_wire_list("list.csv", text);
    REQUIRE(list.problems.has_errors());
    CHECK(list.text.empty());
    return list.problems.list().front();
}

}  // namespace

TEST_CASE("new lists at least sixteen starters with one line each") {
    const Said said = command_line({"new", "--format", "json"});
    CHECK(said.status == 0);
    const auto answer = nlohmann::json::parse(said.out);
    CHECK(answer["starters"].size() >= 16);
    for (const auto& starter : answer["starters"]) {
        CHECK_FALSE(starter["line"].get<std::string>().empty());
        CHECK(starter["line"].get<std::string>().find('\n') == std::string::npos);
    }
    for (const int width : {44, 80}) CHECK(widest_line(command_line({"new"}, page_of(width)).out) <= width);
}

TEST_CASE("a starter is written once, and over a file only by force") {
    const ScratchFile file("mine.toml");
    CHECK(command_line({"new", "module-pwm", "-o", file.path()}).status == 0);
    CHECK(file.text() == std::string(find_starter("module-pwm")->text));
    CHECK(command_line({"new", "module-pwm", "-o", file.path()}).status == 2);
    CHECK(command_line({"new", "brushless", "-o", file.path(), "--force"}).status == 0);
    CHECK(command_line({"check", file.path()}).status == 0);
    const Said wrong = command_line({"new", "modul-pwm"});
    CHECK(wrong.status == 2);
    CHECK(contains(wrong.err, "did you mean 'module-pwm'?"));
}

TEST_CASE("a starter's drawing fits 72 columns and its invented values are said to be") {
    for (const Starter& starter : starters()) {
        INFO(starter.name);
        CHECK(contains(std::string(starter.text), "invented"));
        std::size_t drawn = 0;
        for (const std::string& line : lines_of(std::string(starter.text))) {
            if (!line.starts_with("#   ")) continue;
            ++drawn;
            CHECK(text_width(line) <= 72);
        }
        CHECK(drawn >= 2);
    }
}

TEST_CASE("every starter passes check without a warning") {
    for (const Starter& starter : starters()) {
        const ScratchFile file("starter.toml", std::string(starter.text));
        const Said said = command_line({"check", file.path(), "--format", "json"});
        INFO(starter.name << "\n" << said.out);
        CHECK(said.status == 0);
        const auto answer = nlohmann::json::parse(said.out);
        for (const auto& problem : answer["problems"]) CHECK(problem["severity"] == "note");
    }
}

TEST_CASE("a healthy starter is quiet at off, and something runs in every other position") {
    for (const Starter& starter : starters()) {
        const auto circuit = testing::circuit_of(std::string(starter.text));
        for (const State& state : default_states(*circuit)) {
            INFO(starter.name << " at " << state.label);
            const SettleResult settled = settle(solver(), *circuit, state, {});
            REQUIRE(settled);
            CHECK(settled->chattering.empty());
            double most = 0;
            for (std::uint32_t i = 0; i < circuit->parts.size(); ++i) {
                const Part& part = circuit->parts[i];
                if (part.load_branch.valid()) most = std::max(most, std::abs(load_state(*settled, {i}, nullptr).amps));
                if (part.fuse) CHECK(std::abs(settled->point.amps[part.fuse->element.index]) < part.fuse->rating_amps);
            }
            const std::string& label = state.label;
            const bool off = label.find("off") != std::string::npos || label.find("open") != std::string::npos ||
                             label.find("dark") != std::string::npos;
            // The door's panel wakes its sensor without moving anything.
            if (label.find("awake") != std::string::npos) continue;
            if (off && starter.name != "rear-blower") CHECK(most < 0.1);
            if (!off) CHECK(most > 0.2);
        }
    }
}

TEST_CASE("a wire list is found by its headings, whatever separates it") {
    const std::string text = wire_list(
        "Circuit;From;Pin;To;Pin;Size mm2;Colour;Length m\n"
        "10;F1;2;S1;C;2,5;RD;1,2\n"
        "11;S1;1;M1;1;1,5;BU/WH;\n");
    CHECK(contains(text, "10 = \"F1.2 > S1.C  2.5mm2  RD  1.2m\""));
    CHECK(contains(text, "11 = \"S1.1 > M1.1  1.5mm2  BU/WH\""));
    CHECK(contains(text, "F1 = \"?\""));
    CHECK(contains(text, "M1 = \"?\""));
    CHECK(wire_list("wire,from,to,gauge\n7,F1.2,M1.1,16\n").find("7 = \"F1.2 > M1.1  16AWG\"") != std::string::npos);
    CHECK(wire_list("from\tto\nF1.2\tM1.1\n").find("w1 = \"F1.2 > M1.1\"") != std::string::npos);
}

TEST_CASE("a filled-in wire list is a circuit") {
    std::string text = wire_list(
        "wire,from,pin,to,pin,size,colour,length\n"
        "10,F1,2,M1,1,2.5,RD,1.2\n11,M1,2,G1,,2.5,BK,0.5\n");
    const auto put = [&](const std::string& from, const std::string& to) {
        REQUIRE(text.find(from) != std::string::npos);
        text.replace(text.find(from), from.size(), to);
    };
    put("F1 = \"?\"", "B1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 20A regular, feed 30\"");
    put("M1 = \"?\"", "M1 = \"motor 8A @13.5V\"");
    put("G1 = \"?\"", "G1 = \"ground stud\"");
    const auto circuit = testing::circuit_of(text);
    CHECK(circuit->wires.size() == 2);
}

TEST_CASE("every row that is no wire is named with line and column, and then there is no circuit") {
    const WireList list = read_wire_list(
        "list.csv",
        "wire,from,pin,to,pin,size\n10,F1,2,S1,C,2.5\n11,,,M1,1,2.5\n12,F1,2,M1,1,thick\n13,F 1,2,M1?,1,1\n");
    REQUIRE(list.problems.list().size() == 3);
    CHECK(list.problems.list()[0].place.line == 3);
    CHECK(list.problems.list()[0].place.column == 4);
    CHECK(contains(list.problems.list()[0].message, "column 2"));
    CHECK(list.problems.list()[1].place.line == 4);
    CHECK(list.problems.list()[1].place.column == 14);
    CHECK(list.problems.list()[2].place.line == 5);
    CHECK(list.text.empty());
}

TEST_CASE("one row that is no wire keeps the whole list from being written, until a # leaves it out") {
    const auto list = [](const std::string& before) {
        return "wire,from,pin,to,pin\n10,F1,2,S1,C\n" + before + "total,,,,2 wires\n";
    };
    const ScratchFile in("list.csv", list(""));
    const ScratchFile out("out.toml");
    const Said refused = command_line({"new", "--from", in.path(), "-o", out.path()});
    CHECK(refused.status == 3);
    CHECK(contains(refused.err, "list.csv:3:"));
    CHECK(contains(refused.err, "a # in front of a row leaves it out"));
    CHECK_FALSE(std::filesystem::exists(out.path()));
    const Said printed = command_line({"new", "--from", in.path()});
    CHECK(printed.status == 3);
    CHECK(printed.out.empty());
    const ScratchFile noted("noted.csv", list("# "));
    CHECK(command_line({"new", "--from", noted.path(), "-o", out.path()}).status == 0);
    CHECK(contains(out.text(), "10 = \"F1.2 > S1.C\""));
}

TEST_CASE(
    "a list as a spreadsheet writes it is read: its separator line, headings of two words, letters of any script") {
    const WireList list = read_wire_list(
        "list.csv",
        "sep=;\nWire;Wire size;Wire colour;From;Pin;To;Pin;Length\n10;2,5;RD;Küche;2;S1;C;0,9\n;;;;;;;\n# a note\n"
        "11;1;BU;S1;1;M1;1;1\n");
    CHECK_FALSE(list.problems.has_errors());
    CHECK(contains(list.text, "10 = \"Küche.2 > S1.C  2.5mm2  RD  0.9m\""));
    CHECK(contains(list.text, "11 = \"S1.1 > M1.1  1mm2  BU  1m\""));
    const WireList twins = read_wire_list("list.csv", "wire,from,to\n10,C20.1,M1.1\n11,\u042120.2,M1.2\n");
    REQUIRE(twins.problems.list().size() == 1);
    CHECK(twins.problems.list()[0].place.line == 3);
    CHECK(contains(twins.problems.list()[0].message, "U+0421"));
}

TEST_CASE("a list that cannot be read is told with its place, and nothing is written") {
    CHECK(error_of("wire,from,pin\n1,F1,2\n").message ==
          "no column is headed 'to'; the first row says wire, from, pin");
    CHECK(error_of("").message == "the list is empty");
    const Problem quotes = error_of("wire,from,to\n1,\"F1,M1\n2,F1,M1\n");
    CHECK(quotes.place.line == 2);
    CHECK(contains(quotes.message, "never closed"));
    std::string many = "wire,from,to\n";
    for (int i = 0; i < 40000; ++i) many += std::to_string(i) + ",F1.2,M1.1\n";
    CHECK(contains(error_of(many).message, "rows are more than one circuit has"));
    const ScratchFile out("out.toml");
    const ScratchFile in("list.csv", "wire,from\n1,F1\n");
    const Said said = command_line({"new", "--from", in.path(), "-o", out.path()});
    CHECK(said.status == 3);
    CHECK_FALSE(std::filesystem::exists(out.path()));
}

TEST_CASE("faults of every starter make fifteen symptoms or more", "[slow]") {
    for (const Starter& starter : starters()) {
        const ScratchFile file("starter.toml", std::string(starter.text));
        const Said said = command_line({"faults", file.path(), "--format", "json"});
        REQUIRE(said.status == 0);
        const auto answer = nlohmann::json::parse(said.out);
        INFO(starter.name);
        // Where a circuit has one load and two positions there are few ways to go wrong that a driver could tell apart.
        std::set<std::string> faults;
        std::size_t named = 0;
        for (const auto& group : answer["groups"]) named += group["faults"].size();
        CHECK(named >= 15);
    }
}
