// Parts with electronics as they are typed, and the sense of their wiring.
#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdexcept>

#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string with_part(const std::string& line) {
    return "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nG1 = \"ground stud\"\nX = \"" + line +
           "\"\n[wires]\n1 = \"B1+ > X.+ 6mm2 RD 1m\"\n2 = \"X.- > G1 6mm2 BK 1m\"\n";
}

Problem first_error(const std::string& line) {
    const CircuitReading reading = read_circuit_text(with_part(line), "part.toml");
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) return problem;
    }
    throw std::runtime_error("no error in " + line);
}

std::shared_ptr<const Circuit> good(const std::string& line) {
    const CircuitReading reading = read_circuit_text(with_part(line), "part.toml");
    for (const Problem& problem : reading.problems.list()) INFO(problem.message);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

std::string starter(const std::string& name) {
    std::ifstream file(std::string(PROJECT_DIR) + "/scenarios/starters/" + name + ".toml");
    std::stringstream text;
    text << file.rdbuf();
    REQUIRE(text.str().size() > 100);
    return text.str();
}

std::string with(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    INFO("looked for '" << from << "'");
    REQUIRE(at != std::string::npos);
    return text.replace(at, from.size(), to);
}

/// The first problem of the wiring whose message holds these words.
Problem sense_of(const std::string& text, const std::string& words) {
    const CircuitReading reading = read_circuit_text(text, "test.toml");
    for (const Problem& problem : reading.problems.list()) UNSCOPED_INFO(problem.place.line << ": " << problem.message);
    REQUIRE(reading.circuit);
    const Problems problems = check_wiring(*reading.circuit);
    for (const Problem& problem : problems.list()) {
        if (problem.message.find(words) != std::string::npos) return problem;
        UNSCOPED_INFO(problem.message);
    }
    throw std::runtime_error("nobody says '" + words + "'");
}

}  // namespace

TEST_CASE("the figures of a module are read from its line") {
    const auto circuit = good("module pwm 400Hz, command 7%-94% inverse, pulls up, on 20mohm, least 25%");
    const Part& part = circuit->part(circuit->find_part("X"));
    CHECK(part.value("command low") == Approx(0.07));
    CHECK(part.value("command high") == Approx(0.94));
    CHECK(part.value("frequency") == 400);
    CHECK(part.value("on ohms") == Approx(0.02));
    CHECK(part.value("least output") == Approx(0.25));
    CHECK(part.has_flag("inverse"));
    CHECK(good("module linear, side low, command 0.5-7V, open command limp")->find_part("X").valid());
    const auto folding = good("module linear, command 0.5V-7V, 60W, folds 110C");
    CHECK(folding->part(folding->find_part("X")).value("fold-back") == 110);
    CHECK(folding->part(folding->find_part("X")).value("watts") == 60);
    const auto usual = good("module linear, command 0.5V-7V, folds 110C");
    CHECK(usual->part(usual->find_part("X")).value("watts") == 80);
}

TEST_CASE("what people type wrong in the line of a module is located and named") {
    CHECK(first_error("module linear, command 7V-0.5V").message ==
          "'7V-0.5V': the command of 'X' ends below where it begins");
    CHECK(first_error("module linear, command -1V-5V").message.find("'-1V-5V': the command low of a module") == 0);
    CHECK(first_error("module pwm, command 10%-130%").message == "'10%-130%': a duty cannot be above 100 %");
    CHECK(first_error("module, command 1V-5V").message == "'X' must say how it controls: linear or pwm");
    CHECK(first_error("module linear, command soon").message == "'soon' is no range of a command");
    CHECK(first_error("module linear, command 1V-50%").message == "'1V-50%' is no range of a command");
    CHECK(first_error("module linear, command").message == "'command' of 'X' has nothing behind it");
    CHECK(first_error("module linear, side left").message == "'side left' is neither high nor low");
    CHECK(first_error("module linear, open command later").message == "what 'X' does with its command open is missing");
    CHECK(first_error("module linear, pulls away").message == "'pulls away' is neither up nor down");
    CHECK(first_error("module linear, command 7V-0.5V").place.line == 5);
    CHECK(first_error("module pwm 400Hz, command 7%-94%, folds 110C").message ==
          "'X': watts and a fold-back are figures of a linear stage");
    CHECK(first_error("module linear, command 1V-5V, 60W").message ==
          "'X': 60W without the temperature at which it folds back");
    CHECK(first_error("module linear, command 1V-5V, folds 20C").message.find("'20C' cannot be the fold-back") == 0);
    CHECK(first_error("module linear, command 1V-5V, folds").message.find("folds") != std::string::npos);
}

TEST_CASE("what people type wrong in the line of a head or a fan unit is located and named") {
    CHECK(first_error("head OUT: off=0V lo=2.1V lo=3V").message == "position 'lo' of 'X' stands twice");
    CHECK(first_error("head OUT: off=0V lo=30%").message ==
          "'lo=30%': 'X' gives volts in one position and a duty in another");
    CHECK(first_error("head OUT: off=0% lo=130%").message.find("'lo=130%'") == 0);
    CHECK(first_error("head OUT: off=0V lo=fast").message == "'lo=fast': the output of a head is in volts or per cent");
    CHECK(first_error("head OUT: lo=2V").message == "'X' needs at least two positions");
    CHECK(first_error("fan-unit 25A, least 30A").message ==
          "'X': the amps at the least command are not below the rated ones");
}

TEST_CASE("a module without a command wire is an error") {
    const std::string text = with(starter("module-linear"), "21 = \"H1.OUT > Z1.CMD  0.75mm2 GN     ~1.1m\"\n", "");
    const Problem problem = sense_of(text, "no command wire");
    CHECK(problem.severity == Severity::error);
    CHECK(problem.message == "Z1 has no command wire: Z1.CMD is bare");
}

TEST_CASE("a position that its module cannot read is named") {
    const std::string beyond = with(starter("module-linear"), "mh=5.2V hi=6.9V", "mh=5.2V hi=11V");
    CHECK(sense_of(beyond, "position hi of H1").severity == Severity::warning);
    const std::string below = with(starter("module-linear"), "lo=2.1V", "lo=0.3V");
    CHECK(sense_of(below, "position lo of H1 gives 0.3V, but Z1 reads 0.8V to 6.9V").severity == Severity::warning);
    const std::string duty = with(starter("module-linear"), "off=0V lo=2.1V ml=3.6V mh=5.2V hi=6.9V", "off=0% lo=30%");
    // What every position would say again is said of the first.
    CHECK(sense_of(duty, "position off of H1 gives 0%, but Z1 reads 0.8V to 6.9V").severity == Severity::error);
    const std::string silent = with(starter("brushless-bus"), ", bus\"", "\"");
    CHECK(sense_of(silent, "M1 talks on a bus wire, H1 does not").severity == Severity::error);
}

TEST_CASE("a lamp on a command wire is an error") {
    std::string text = with(starter("brushless-bus"), "[plugs]", "L1 = \"lamp 5W\"\n\n[plugs]");
    text = with(text, "23 = \"H1.-",
                "31 = \"C9.1 > L1.1  0.5mm2 WH 0.3m\"\n32 = \"L1.2 > G2 0.5mm2 BK 0.3m\"\n23 = \"H1.-");
    const Problem problem = sense_of(text, "L1 hangs on the command wire of M1");
    CHECK(problem.severity == Severity::error);
}

TEST_CASE("electronics are closed to lamps and loads without being told, yet not to a meter") {
    const CircuitReading reading = read_circuit_text(starter("module-linear"), "test.toml");
    REQUIRE(reading.circuit);
    CHECK(reading.circuit->closed.at("Z1") == "electronic");
    CHECK(reading.circuit->closed.at("H1") == "electronic");
    const JointId command = reading.circuit->find_joint("C2.CMD");
    REQUIRE(command.valid());
    CHECK(reading.circuit->joint(command).access == Access::open);
}
