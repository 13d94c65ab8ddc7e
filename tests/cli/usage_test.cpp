// Command lines that are wrong, help, and what is the same for every command.
#include <filesystem>
#include <set>
#include <sstream>

#include "cli/commands/command.hpp"
#include "cli/commands/console.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/mutated_numbers.hpp"

using namespace voltfall;

TEST_CASE("voltfall alone prints short help with examples first and succeeds") {
    const Said said = command_line({});
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    CHECK(said.out.find("Examples") < said.out.find("Commands"));
    CHECK(contains(said.out, "voltfall match"));
}

TEST_CASE("help of every command fits 44 and 80 columns and shows examples first") {
    for (const std::string command : {"check", "show", "whatif", "faults", "match", "next", "protect", "deck"}) {
        for (const int width : {44, 80}) {
            const Said said = command_line({command, "--help"}, page_of(width));
            INFO(command << " at " << width << "\n" << said.out);
            CHECK(said.status == 0);
            CHECK(said.out.starts_with("Examples\n"));
            CHECK(widest_line(said.out) <= width);
            CHECK(contains(said.out, "--format"));
        }
    }
}

TEST_CASE("help wins over whatever else stands on the line") {
    CHECK(command_line({"whatif", "--no-such-thing", "-h"}).status == 0);
    CHECK(command_line({"--help"}).status == 0);
    CHECK(contains(command_line({"deck", "x.toml", "--help"}).out, "Usage: voltfall deck"));
}

TEST_CASE("the version names the program and the ngspice library") {
    const Said said = command_line({"--version"});
    CHECK(said.status == 0);
    CHECK(said.out.starts_with("voltfall "));
    CHECK(contains(said.out, "ngspice"));
}

TEST_CASE("a wrong command suggests the nearest right one") {
    const Said said = command_line({"chekc", "x.toml"});
    CHECK(said.status == 2);
    CHECK(said.out.empty());
    CHECK(said.err == "voltfall: unknown command 'chekc'\n  did you mean 'check'?\n");
}

TEST_CASE("a wrong option suggests the nearest right one, before and after the command") {
    const Said after = command_line({"whatif", "--fualt", "R1 limiter open", "x.toml"});
    CHECK(after.status == 2);
    CHECK(after.err == "voltfall: unknown option '--fualt'\n  did you mean '--fault'?\n");
    const Said before = command_line({"--frmat", "json", "check", "x.toml"});
    CHECK(before.status == 2);
    CHECK(contains(before.err, "did you mean '--format'?"));
}

TEST_CASE("a wrong value of an option says what was expected and suggests") {
    const Said format = command_line({"check", "x.toml", "--format", "jsn"});
    CHECK(format.status == 2);
    CHECK(contains(format.err, "'jsn' is none of text, json, plain; did you mean 'json'?"));
    const Said top = command_line({"check", "x.toml", "--top", "many"});
    CHECK(top.status == 2);
    CHECK(contains(top.err, "expected a whole number from 1 to 100000, found 'many'"));
    CHECK(command_line({"check", "x.toml", "--top", "0"}).status == 2);
    CHECK(command_line({"check", "x.toml", "--top", "99999999999999999999"}).status == 2);
}

TEST_CASE("ngspice may solve everything, to the same answer") {
    const std::string job = scenario("only-high.job.toml");
    const Said core = command_line({"match", job});
    const Said record = command_line({"match", "--solver", "ngspice", job});
    CHECK(core.status == 0);
    CHECK(core.out == record.out);
    const Said unknown = command_line({"match", "--solver", "spice", job});
    CHECK(unknown.status == 2);
    CHECK(contains(unknown.err, "'spice' is none of core, ngspice"));
}

TEST_CASE("what will take long is said before it begins") {
    std::string text =
        "format = 1\nname = \"many\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 100A maxi, "
        "feed 30\"\n"
        "SP1 = \"splice\"\nG1 = \"ground stud\"\n";
    std::string wires = "[wires]\nw0 = \"F1.2 > SP1 10mm2 RD 1m\"\n";
    for (int i = 1; i <= 400; ++i) {
        text += "L" + std::to_string(i) + " = \"lamp 5W\"\n";
        wires += "pa" + std::to_string(i) + " = \"SP1 > L" + std::to_string(i) + ".1 1mm2 RD 1m\"\npb" +
                 std::to_string(i) + " = \"L" + std::to_string(i) + ".2 > G1 1mm2 BK 1m\"\n";
    }
    const ScratchFile file("many.toml", text + wires);
    std::ostringstream err;
    // Enough to see what is said; the work itself is not waited for.
    const CircuitReading reading = read_circuit_file(file.path());
    REQUIRE(reading.circuit);
    std::istringstream in;
    std::ostringstream out;
    const Console console{in, out, err, {}, testing::start_ngspice, nullptr, {}};
    say_cost(console, *reading.circuit, 3);
    CHECK(contains(err.str(), "parts with"));
    CHECK(contains(err.str(), "expect about"));
    err.str({});
    say_cost(console, *read_circuit_file(scenario("cab-blower.toml")).circuit, 3);
    CHECK(err.str().empty());
}

TEST_CASE("a missing file, a file too many and a missing value are usage mistakes") {
    const Said none = command_line({"whatif"});
    CHECK(none.status == 2);
    CHECK(contains(none.err, "whatif needs a file"));
    const Said many = command_line({"show", "a.toml", "b.toml"});
    CHECK(many.status == 2);
    CHECK(contains(many.err, "'b.toml' is one too many"));
    const Said value = command_line({"whatif", "a.toml", "--fault"});
    CHECK(value.status == 2);
    CHECK(contains(value.err, "--fault"));
    const Said swallowed = command_line({"whatif", "a.toml", "--fault", "--state", "hi"});
    CHECK(swallowed.status == 2);
    CHECK(contains(swallowed.err, "needs a value, found '--state'"));
    CHECK(command_line({"whatif", "a.toml", "--fault", ""}).status == 2);
}

TEST_CASE("a file that is not there is a file problem, on stderr, with status 3") {
    for (const std::string command : {"show", "whatif", "faults", "match", "next", "protect", "deck"}) {
        const Said said = command_line({command, "no-such-file.toml"});
        INFO(command << ": " << said.err);
        CHECK(said.status == 3);
        CHECK(said.out.empty());
        CHECK(contains(said.err, "no-such-file.toml"));
    }
}

TEST_CASE("an empty name of a file is told as one, by every command that reads one") {
    for (const std::string command : {"check", "show", "whatif", "match", "next"}) {
        const Said said = command_line({command, ""});
        INFO(command << ": " << said.out << said.err);
        CHECK(said.status == 3);
        CHECK(contains(said.out + said.err, "'': error: no file is named"));
    }
}

TEST_CASE("global options work before and after the command") {
    const std::string file = scenario("cab-blower.toml");
    const Said before = command_line({"--format", "json", "check", file});
    const Said after = command_line({"check", file, "--format=json"});
    CHECK(before.status == 0);
    CHECK(before.out.starts_with("{\"schema\":1,\"command\":\"check\""));
    CHECK(before.out == after.out);
}

TEST_CASE("an answer that cannot be written is said and gives status 4") {
    std::istringstream in;
    std::ostringstream err;
    std::ostringstream out;
    out.setstate(std::ios::badbit);
    CHECK(run({"check", scenario("cab-blower.toml")}, in, out, err, {}, testing::start_ngspice) == 4);
    CHECK(contains(err.str(), "cannot write the answer"));
}

TEST_CASE("colour is for a terminal unless it is asked for or refused") {
    const std::vector<std::string> args = {"check", scenario("cab-blower.toml")};
    const Terminal terminal{true, true, 80, true};
    const Terminal refused{true, true, 80, false};
    const auto with = [&](const std::string& choice) {
        std::vector<std::string> all = args;
        all.insert(all.end(), {"--color", choice});
        return all;
    };
    CHECK_FALSE(contains(command_line(args).out, "\x1b["));
    CHECK(contains(command_line(args, terminal).out, "\x1b["));
    CHECK_FALSE(contains(command_line(args, refused).out, "\x1b["));
    CHECK(contains(command_line(with("always")).out, "\x1b["));
    CHECK_FALSE(contains(command_line(with("never"), terminal).out, "\x1b["));
}

TEST_CASE(
    "every command has a file of its own, its row in the table, its help and its place in the README or the "
    "reference") {
    std::set<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(PROJECT_DIR "/cli/commands")) {
        if (entry.path().extension() != ".cpp") continue;
        const std::string text = testing::file_text(entry.path());
        const std::string name = entry.path().stem().string();
        if (contains(text, "const Command " + name + "_command = {")) files.insert(name);
    }
    std::set<std::string> rows;
    const std::string readme =
        testing::file_text(PROJECT_DIR "/README.md") + testing::file_text(PROJECT_DIR "/cli/reference.md");
    for (const Command* command : commands()) {
        const std::string word(command->word);
        INFO(word);
        CHECK(rows.insert(word).second);
        CHECK_FALSE(command->summary.empty());
        CHECK(command->usage.find_first_of("ABCDEFGHIJKLMNOPQRSTUVWXYZ") != std::string::npos);
        CHECK(contains(std::string(command->examples), "voltfall " + word));
        CHECK(contains(readme, "voltfall " + word));
    }
    CHECK(files == rows);
    CHECK(files.size() >= 10);
}
