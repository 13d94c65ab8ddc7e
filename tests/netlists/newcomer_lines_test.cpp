// A circuit as a hurried person types it for the first time: each slip is answered with what to write instead.
#include "netlists/files/circuit_file.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// The problem of one line of parts in a circuit that has nothing else wrong.
Problem problem_of_part(const std::string& line) {
    const CircuitReading reading = read_circuit_text(
        "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\nX1 = \"" + line +
            "\"\nG1 = \"ground\"\n"
            "[wires]\n1 = \"F1.2 > G1 2mm2 1m\"\n",
        "x.toml");
    INFO(line << "\n" << all_problems(reading.problems));
    REQUIRE(reading.problems.has_errors());
    return reading.problems.list().front();
}

}  // namespace

TEST_CASE("a kind that stands further back in its line is told to stand first") {
    CHECK(problem_of_part("blower motor 22A").suggestion == "the kind stands first: motor 22A, blower");
    CHECK(problem_of_part("linear module, side low").suggestion == "the kind stands first: module linear, side low");
    CHECK(problem_of_part("changeover relay 20A, coil 300ohm").suggestion ==
          "the kind stands first: relay 20A, coil 300ohm, changeover");
    CHECK(problem_of_part("ambient sensor 2.2kohm at 25C").suggestion ==
          "the kind stands first: sensor 2.2kohm at 25C, ambient");
}

TEST_CASE("the trade's name of a kind is answered with the kind and a line of it") {
    const auto called = [](const std::string& line, const std::string& kind) {
        INFO(line);
        CHECK(problem_of_part(line).suggestion.starts_with("its kind is called " + kind + ", for example " + kind));
    };
    called("pressure switch opens 28 bar", "contact");
    called("panel OUT: off=0 lo=2V", "head");
    called("bulb 21W", "lamp");
    called("thermostat", "contact");
    called("fusible link 1mm2", "link");
    called("blower 22A", "motor");
}

TEST_CASE("a slip of one letter and a word that is nothing keep their own advice") {
    CHECK(problem_of_part("moter 22A").suggestion == "did you mean 'motor'?");
    CHECK(problem_of_part("gizmo 22A").suggestion.starts_with("kinds are battery, key"));
}

TEST_CASE("a line that names a second kind is told how a line of that kind begins") {
    CHECK(problem_of_part("resistor pack 1 1.8ohm 2 0.9ohm 3")
              .suggestion.starts_with("where it is a pack its line begins so: pack 1 1.2ohm"));
}

TEST_CASE("a switch that pressure moves is told to be a contact, and a word that a kind has not gets a whole line") {
    CHECK(problem_of_part("switch opens 28bar closes 20bar").suggestion.find("contact") != std::string::npos);
    CHECK(problem_of_part("module linear, ground side low").suggestion.find("for example module linear") !=
          std::string::npos);
}

TEST_CASE("a name that is wired more than once gets its own line proposed, one that is wired once the nearest name") {
    const std::string text =
        "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\n"
        "M1 = \"motor 5A @13.5V\"\nM2 = \"motor 5A @13.5V\"\nSP1 = \"splice\"\nG1 = \"ground\"\n[wires]\n"
        "1 = \"F1.2 > SP2 2mm2 1m\"\n2 = \"SP2 > M1.1 2mm2 1m\"\n3 = \"SP2 > M2.1 2mm2 1m\"\n4 = \"M1.2 > SP1 2mm2 "
        "1m\"\n"
        "5 = \"M2.2 > SP1 2mm2 1m\"\n6 = \"SP1 > G1 2mm2 1m\"\n";
    const Problems often = read_circuit_text(text, "x.toml").problems;
    REQUIRE(often.has_errors());
    CHECK(often.list().front().suggestion == "add its line to [parts]: SP2 = \"splice\"; or did you mean 'SP1'?");
    std::string once = text;
    for (const std::string line : {"F1.2 > SP2", "SP2 > M2.1"})
        once.replace(once.find(line) + (line.starts_with("SP2") ? 2 : 9), 1, "1");
    const Problems slip = read_circuit_text(once, "x.toml").problems;
    REQUIRE(slip.has_errors());
    CHECK(slip.list().front().suggestion == "did you mean 'SP1'?");
}

TEST_CASE("the supply may have a blank before its unit; another is refused") {
    const auto with_supply = [](const std::string& supply) {
        return read_circuit_text(
            "format = 1\nname = \"x\"\nsupply = \"" + supply +
                "\"\n[parts]\nB1 = \"battery 25V\"\nF1 = \"fuse 20A, feed 30\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n"
                "[wires]\n1 = \"F1.2 > L1.1 2mm2 1m\"\n2 = \"L1.2 > G1 2mm2 1m\"\n",
            "x.toml");
    };
    const CircuitReading spaced = with_supply("24 V");
    INFO(all_problems(spaced.problems));
    REQUIRE(spaced.circuit);
    CHECK(spaced.circuit->supply == 24);
    CHECK(with_supply("48 V").problems.has_errors());
    CHECK(with_supply("24 V 12 V").problems.has_errors());
}
