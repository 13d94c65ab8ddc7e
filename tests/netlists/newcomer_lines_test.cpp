// A circuit as a hurried person types it for the first time: each slip is answered with what to write instead.
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/parts/kind_names.hpp"
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
    CHECK(problem_of_part("pwm module").suggestion == "the kind stands first: module pwm");
    CHECK(problem_of_part("maxi fuse 40A").suggestion == "the kind stands first: fuse maxi 40A");
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
    called("temperature switch: 95C 105C", "contact");
    called("panel OUT: off=0 lo=2V", "head");
    called("bulb 21W", "lamp");
    called("thermostat", "contact");
    called("fusible link 1mm2", "link");
    called("blower 22A", "motor");
    // What it is for may stand in front of what it is.
    called("seat heater 4ohm 40W", "resistor");
    called("radiator fan 16A", "motor");
    called("interior light 5W", "lamp");
    for (const std::string line : {"thermo switch 92C", "temperature switch 92C", "thermostat 92C"})
        CHECK(problem_of_part(line).suggestion ==
              "its kind is called contact, for example contact closes 92C, opens 87C");
}

TEST_CASE("a slip of one letter and a word that is nothing keep their own advice") {
    CHECK(problem_of_part("moter 22A").suggestion == "did you mean 'motor'?");
    CHECK(problem_of_part("gizmo 22A").suggestion.starts_with("kinds are battery, key"));
}

TEST_CASE("figures that are printed on a part and change nothing here are told to be left out") {
    CHECK(problem_of_part("battery 12.6V, 70Ah").suggestion == "leave it out");
    CHECK(problem_of_part("battery 12.6V, 640CCA").message == "'640CCA' is no figure that anything here depends on");
}

TEST_CASE("a line that names a second kind is told how a line of that kind begins") {
    CHECK(problem_of_part("resistor pack 1 1.8ohm 2 0.9ohm 3")
              .suggestion.starts_with("where it is a pack its line begins so: pack 1 1.2ohm"));
}

TEST_CASE("a switch that pressure moves is told to be a contact, and a word that a kind has not gets a whole line") {
    CHECK(problem_of_part("switch opens 28bar closes 20bar").suggestion.find("contact") != std::string::npos);
    CHECK(problem_of_part("switch 92C low").message == "'X1' is moved by 92C, not by a hand");
    CHECK(problem_of_part("switch 92C low").suggestion.ends_with("contact closes 92C, opens 87C"));
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

TEST_CASE("a wire that branches, one whose size lacks its square and a part without its line are told what to write") {
    const auto first = [](const std::string& wire) {
        const CircuitReading reading = read_circuit_text(
            "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\n"
            "K1 = \"relay\"\nK2 = \"relay\"\nG1 = \"ground\"\n[wires]\n1 = \"" +
                wire + "\"\n",
            "x.toml");
        REQUIRE(reading.problems.has_errors());
        return reading.problems;
    };
    CHECK(first("F1.2 > K1.86, K2.86 0.5mm2 1m").list().front().suggestion.find("draw a splice") != std::string::npos);
    const Problems square = first("F1.2 > K1.86 0.5mm BU 2m");
    CHECK(square.list().size() == 1);
    CHECK(square.list().front().suggestion == "did you mean 0.5mm2?");
    CHECK(first("F1.2 > C11.1 > K1.86 0.5mm2 1m 1m").list().front().suggestion ==
          "every part has its line: add to [parts], for example, C11 = \"connector\"");
}

TEST_CASE("the lines that show how a kind is drawn with others are a circuit without mistakes") {
    const auto reads = [](const std::string& kind, const std::string& parts, const std::string& wires) {
        const DrawnTogether drawn = drawn_together(*find_kind(kind));
        INFO(kind);
        REQUIRE(drawn.lines.size() >= 3);
        CHECK_FALSE(drawn.says.empty());
        std::string text =
            "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF3 = \"fuse 10A, feed 15\"\nG1 = \"ground\"\n" +
            parts;
        std::string behind = "[wires]\n" + wires;
        for (const std::string_view line : drawn.lines)
            (line.find(" > ") == std::string_view::npos ? text : behind) += std::string(line) + "\n";
        const CircuitReading reading = read_circuit_text(text + behind, "x.toml");
        Problems problems = reading.problems;
        REQUIRE(reading.circuit);
        problems.add_all(check_wiring(*reading.circuit));
        INFO(all_problems(problems));
        CHECK_FALSE(problems.has_errors());
    };
    for (const std::string kind : {"sensor", "source"})
        reads(kind, "", "1 = \"F3.2 > V5.+ 0.5mm2 1m\"\n2 = \"V5.- > G1 0.5mm2 1m\"\n");
    for (const std::string kind : {"head", "module"})
        reads(kind, "M1 = \"motor 20A @13.5V\"\nF1 = \"fuse 40A maxi, feed 30\"\n",
              "1 = \"F1.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > Z1.M- 6mm2 1m\"\n3 = \"F1.2 > Z1.+ 1mm2 1m\"\n4 = \"Z1.- > G1 "
              "6mm2 1m\"\n"
              "5 = \"F3.2 > A1.+ 0.5mm2 1m\"\n6 = \"A1.- > G1 0.5mm2 1m\"\n");
    CHECK(drawn_together(*find_kind("lamp")).lines.empty());
}

TEST_CASE("a part's line in the trade's words is its kind's") {
    const auto part_of = [](const std::string& line) {
        const CircuitReading reading = read_circuit_text(
            "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\nX1 = \"" + line +
                "\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > G1 2mm2 1m\"\n",
            "x.toml");
        INFO(line << "\n" << all_problems(reading.problems));
        REQUIRE(reading.circuit);
        return reading.circuit->part(reading.circuit->find_part("X1"));
    };
    CHECK(part_of("fuse 15A standard blade").has_flag("regular"));
    CHECK(part_of("fuse 15A mini blade").has_flag("mini"));
    CHECK(part_of("motor 20A at 24V").value("rated volts") == 24);
    CHECK(part_of("relay 40A, 85ohm coil").value("coil ohms") == 85);
    CHECK(part_of("relay 40A with diode").has_flag("diode"));
    CHECK(part_of("clutch 3.6ohm coil").value("coil ohms") == 3.6);
    CHECK(part_of("contact N.O.").rest_position == 0);
    CHECK(part_of("contact NC").rest_position == 1);
    // IEC 60062: the letter stands where the point would.
    CHECK(part_of("resistor 0R6 250W").value("ohms") == 0.6);
    CHECK(part_of("resistor 600 milliohms").value("ohms") == 0.6);
    CHECK(problem_of_part("float switch normally open").suggestion ==
          "its kind is called contact, for example contact normally open");
    CHECK(problem_of_part("foot button").suggestion == "its kind is called contact, for example contact normally open");
}

TEST_CASE("a wire's size, colour and length as they are written beside the vehicle") {
    const auto wire_of = [](const std::string& line) {
        const CircuitReading reading = read_circuit_text(
            "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\n"
            "G1 = \"ground\"\n[wires]\n1 = \"F1.2 > G1 " +
                line + "\"\n",
            "x.toml");
        INFO(line << "\n" << all_problems(reading.problems));
        REQUIRE(reading.circuit);
        return reading.circuit->wires.front();
    };
    CHECK(wire_of("2x2.5mm2 1m").parallel == 2);
    CHECK(wire_of("2x2,5mm2 1m").size == 2.5);
    CHECK(wire_of("2.5mm2 red with white stripe 1m").colour == "red/white");
    CHECK(wire_of("2.5mm2 pink w/ black tracer 1m").colour == "pink/black");
    CHECK(wire_of("2,5 qmm 1m").size == 2.5);
    CHECK(wire_of("AWG 14 5 feet").size == 14);
    CHECK(wire_of("14AWG 40 inches").length.value == Approx(1.016));
    CHECK(wire_of("2.5mm2 1m approx").length.guessed);
}

TEST_CASE("no message of a wire shows a name of the code") {
    const std::string text =
        "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\n"
        "G1 = \"ground\"\n[wires]\n1 = \"F1.2 > G1 RD 1m\"\n2 = \"F1.2 > G1 2mm2\"\n"
        "3 = \"F1.2 > G1 2mm2 1m 5V\"\n4 = \"F1.2 > G1 2mm2 1m bundle\"\n";
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    std::string told;
    for (const Problem& problem : reading.problems.list()) told += problem.message + " " + problem.suggestion + "\n";
    INFO(told);
    CHECK(told.find("whole_wire") == std::string::npos);
    CHECK(told.find("add it, for example 2.5mm2 or 14AWG") != std::string::npos);
    CHECK(told.find("for example bundle 6") != std::string::npos);
}
