// One kind of part after the other: its line, its terminals, its fault modes, its mistakes.
#include <algorithm>
#include <set>
#include <sstream>
#include <string>

#include "netlists/files/circuit_file.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/motor.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

/// A circuit with one part under test, fed by a battery and wired by the given lines.
std::string with_part(const std::string& line, const std::string& wires) {
    return "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nG1 = \"ground stud\"\nX = \"" + line + "\"\n[wires]\n" +
           wires;
}

std::shared_ptr<const Circuit> circuit_of(const std::string& line, const std::string& wires) {
    CircuitReading reading = read_circuit_text(with_part(line, wires), "part.toml");
    for (const Problem& problem : reading.problems.list()) INFO(problem.message);
    for (const Problem& problem : reading.problems.list()) CHECK(problem.severity != Severity::error);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

std::string first_error(const std::string& line, const std::string& wires) {
    const CircuitReading reading = read_circuit_text(with_part(line, wires), "part.toml");
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) return problem.message + " | " + problem.suggestion;
    }
    return "";
}

bool has_mode(const Circuit& circuit, const std::string& place, const std::string& words) {
    return std::any_of(circuit.modes.begin(), circuit.modes.end(),
                       [&](const ModePtr& m) { return m->place == place && m->mode == words; });
}

const std::string two_wires = "1 = \"B1+ > X.1 2.5mm2 RD 1m\"\n2 = \"X.2 > G1 2.5mm2 BK 1m\"\n";

}  // namespace

TEST_CASE("every kind of part shows an example line that it reads itself") {
    for (const Kind& kind : kinds()) {
        if (kind.word == "battery") continue;
        const std::string text = with_part(std::string(kind.example), "");
        const CircuitReading reading = read_circuit_text(text, "example.toml");
        for (const Problem& problem : reading.problems.list()) {
            INFO(kind.word << ": " << problem.message);
            CHECK(problem.severity != Severity::error);
        }
    }
}

TEST_CASE("a motor's constants follow from its nameplate") {
    // reference parts 1.5 (DERIVED): 19.8 A at 13.5 V, 3500 rpm, 4 x stall, no friction -> Ra 0.15783, K 0.025578,
    // kq 3.77e-6
    const Motor motor = motor_from_nameplate({13.5, 19.8, 3500, 79.2, 0, 1.0});
    CHECK(motor.armature_ohms == Approx(0.15783).epsilon(1e-4));
    CHECK(motor.constant == Approx(0.025578).epsilon(1e-4));
    CHECK(motor.fan_torque == Approx(3.7700e-6).epsilon(1e-3));
    CHECK(motor.friction_torque == 0);
}

TEST_CASE("a motor has its electrical and mechanical faults") {
    const auto circuit = circuit_of("motor 20A @13.5V, 3500rpm, stall 80A", two_wires);
    for (const char* words : {"open", "seized", "drag", "fouled", "dead-spot", "worn-brushes", "shorted-turns",
                              "short-to-case", "blocked-air"}) {
        CHECK(has_mode(*circuit, "X", words));
    }
    CHECK(circuit->parts[2].value("idle amps") == Approx(2.0));
}

TEST_CASE("a motor whose stall is below its running current is refused") {
    const std::string error = first_error("motor 20A @13.5V, stall 15A", two_wires);
    CHECK(error.find("stall 15A") != std::string::npos);
    CHECK(error.find("20A") != std::string::npos);
}

TEST_CASE("a rating without a unit is refused with a suggestion") {
    const std::string error = first_error("fuse 40 maxi, feed 30", "2 = \"X.2 > G1 2.5mm2 BK 1m\"\n");
    CHECK(error.find("'40'") != std::string::npos);
    CHECK(error.find("fuse 40A maxi") != std::string::npos);
}

TEST_CASE("a mistyped word of a part line is named with the right one") {
    CHECK(first_error("fuse 40A maxy, feed 30", "2 = \"X.2 > G1 2.5mm2 BK 1m\"\n").find("'maxi'") != std::string::npos);
}

TEST_CASE("a pack is a chain of coils with its limiter at the last tap") {
    const auto circuit = circuit_of("pack 1 1.2ohm 2 0.7ohm 10% 3 0.35ohm 4, limiter 121C",
                                    "1 = \"B1+ > X.4 2.5mm2 RD 1m\"\n2 = \"X.1 > G1 2.5mm2 BK 1m\"\n");
    const Part& pack = circuit->parts[2];
    REQUIRE(pack.coils.size() == 3);
    CHECK(pack.coils[1].ohms.value == Approx(0.7));
    CHECK(pack.coils[1].ohms.tolerance == Approx(0.10));
    REQUIRE(pack.limiters.size() == 1);
    CHECK(pack.limiters[0].tap == "4");
    CHECK(has_mode(*circuit, "X", "limiter open"));
    CHECK(has_mode(*circuit, "X", "coil 1-2 open"));
    CHECK(has_mode(*circuit, "X", "coil 2-3 drift"));
    CHECK(has_mode(*circuit, "X.4", "resistance"));  // its socket contact
}

TEST_CASE("a switch position that closes two contacts keeps both") {
    const auto circuit =
        circuit_of("switch C: off lo=1 hi=1+2",
                   "1 = \"B1+ > X.C 1mm2 RD 1m\"\n2 = \"X.1 > G1 1mm2 BK 1m\"\n3 = \"X.2 > G1 1mm2 BK 1m\"\n");
    const Part& part = circuit->parts[2];
    REQUIRE(part.positions.size() == 3);
    CHECK(part.positions[2].contacts == std::vector<std::string>{"1", "2"});
    CHECK(part.contacts.size() == 2);
    CHECK(has_mode(*circuit, "X", "contact hi open"));
    CHECK(has_mode(*circuit, "X", "contact 1 resistance"));
    CHECK(has_mode(*circuit, "X", "stuck hi"));
}

TEST_CASE("a switch without its common terminal is refused") {
    CHECK(first_error("switch off lo=1 hi=2", "").find("common") != std::string::npos);
}

TEST_CASE("a relay lays only the contacts that are wired") {
    const std::string coil =
        "1 = \"B1+ > X.86 1mm2 RD 1m\"\n2 = \"X.85 > G1 1mm2 BK 1m\"\n3 = \"B1+ > X.30 1mm2 RD 1m\"\n";
    const auto normal = circuit_of("relay 40A, coil 90ohm", coil + "4 = \"X.87 > G1 1mm2 BK 1m\"\n");
    CHECK(normal->parts[2].relay->normally_open.valid());
    CHECK_FALSE(normal->parts[2].relay->normally_closed.valid());
    CHECK(has_mode(*normal, "X", "welded"));
    CHECK(has_mode(*normal, "X.30", "resistance"));
    const auto rest = circuit_of("relay 40A, coil 90ohm", coil + "4 = \"X.87a > G1 1mm2 BK 1m\"\n");
    CHECK_FALSE(rest->parts[2].relay->normally_open.valid());
    CHECK(rest->parts[2].relay->normally_closed.valid());
    CHECK(has_mode(*rest, "X", "contact open"));
    CHECK(has_mode(*rest, "X", "stuck pulled"));
    CHECK(has_mode(*rest, "X", "welded"));
    CHECK_FALSE(has_mode(*normal, "X", "contact 87a welded"));
}

TEST_CASE("a relay with two terminals 87 feeds both by one contact, and its pins may be numbered 1 to 5") {
    const auto circuit =
        circuit_of("relay 40A",
                   "1 = \"B1+ > X.1 1mm2 RD 1m\"\n2 = \"X.2 > G1 1mm2 BK 1m\"\n3 = \"B1+ > X.3 1mm2 RD "
                   "1m\"\n4 = \"X.5 > G1 1mm2 BK 1m\"\n5 = \"X.87b > G1 1mm2 BK 1m\"\n");
    const Part& relay = circuit->parts[2];
    for (const char* pin : {"86", "85", "30", "87", "87b"}) CHECK(relay.pins.count(pin) == 1);
    CHECK(relay.pins.count("87a") == 0);
    const Branch& contact = circuit->branch(relay.relay->normally_open);
    CHECK(contact.b == relay.pins.at("87"));
    const bool joined = std::any_of(circuit->branches.begin(), circuit->branches.end(), [&](const Branch& branch) {
        return branch.a == relay.pins.at("87") && branch.b == relay.pins.at("87b") && plain_ohms(branch.law) == 0;
    });
    CHECK(joined);
}

TEST_CASE("a coil's thermal link is a fault of its own, where the line has one") {
    CHECK(has_mode(*circuit_of("clutch 3.6ohm, thermal-link", two_wires), "X", "thermal-link open"));
    CHECK_FALSE(has_mode(*circuit_of("clutch 3.6ohm", two_wires), "X", "thermal-link open"));
}

TEST_CASE("relay values follow the supply and the file") {
    const auto circuit = circuit_of("relay 20A, coil 75ohm, pulls 8V, drops 1V, resistor 680ohm",
                                    "1 = \"B1+ > X.86 1mm2 RD 1m\"\n2 = \"X.85 > G1 1mm2 BK 1m\"\n");
    const Part& relay = circuit->parts[2];
    CHECK(relay.value("coil ohms") == 75);
    CHECK(relay.value("pull volts") == 8);
    CHECK(relay.value("suppression ohms") == 680);
    CHECK(relay.value("rated amps") == 20);
}

TEST_CASE("a pressure contact with figures is at work, a plain one stands as it says") {
    CHECK(circuit_of("contact opens 1.96bar, closes 2.25bar", two_wires)->parts[2].rest_position == 1);
    CHECK(circuit_of("contact normally open", two_wires)->parts[2].rest_position == 0);
    CHECK(circuit_of("contact normally closed", two_wires)->parts[2].rest_position == 1);
    CHECK(circuit_of("contact closes 92C", two_wires)->parts[2].rest_position == 1);
    CHECK(circuit_of("contact normally open, closes 92C", two_wires)->parts[2].rest_position == 0);
}

TEST_CASE("a contact is moved by pressure or by heat, not by both and by nothing else") {
    CHECK_FALSE(first_error("contact closes 92V", two_wires).empty());
    CHECK_FALSE(first_error("contact opens 1.96bar, closes 92C", two_wires).empty());
}

TEST_CASE("terminals fold case and the usual other names") {
    const auto circuit = circuit_of("diode", "1 = \"B1+ > X.A 1mm2 RD 1m\"\n2 = \"X.k > G1 1mm2 BK 1m\"\n");
    CHECK(circuit->parts[2].pins.count("1") == 1);
    CHECK(circuit->parts[2].pins.count("2") == 1);
}

TEST_CASE("the terminal numbers of DIN 72552 name the terminals of parts that have such") {
    struct Number {
        std::string line;
        std::string typed;
        std::string terminal;
    };
    const std::vector<Number> numbers{
        {"relay 40A", "88", "30"},
        {"relay 40A", "88a", "87"},
        {"solid-relay 30A", "88a", "87"},
        {"motor 8A @13.5V", "33", "1"},
        {"motor 8A @13.5V", "32", "2"},
        {"motor 8A @13.5V", "53", "1"},
        {"motor 8A @13.5V", "31", "2"},
        {"lamp 21W", "58", "1"},
        {"lamp 55W", "56A", "1"},
        {"lamp 21W", "31", "2"},
        {"clutch 3.6ohm", "31", "2"},
        {"resistor 1ohm 100W", "31", "2"},
        {"contact normally closed", "81a", "2"},
        {"contact normally open", "82", "1"},
        {"module linear, command 0.5V-7V", "30", "+"},
        {"module linear, command 0.5V-7V", "31", "-"},
        {"fan-unit 25A @13.5V, command 10%-90%", "31", "-"},
        {"head OUT: off=0V hi=6.9V", "15", "+"},
        {"source 5V, limit 50mA", "15", "+"},
    };
    for (const Number& number : numbers) {
        INFO(number.line << " " << number.typed);
        const auto circuit = circuit_of(number.line, "1 = \"X." + number.typed + " > G1 1mm2 BK 1m\"\n");
        CHECK(circuit->wires[0].from.terminal == number.terminal);
    }
    const auto fed = read_circuit_text(
        "format = 1\n[parts]\nB1 = \"battery\"\nM1 = \"motor 8A\"\n[wires]\n"
        "1 = \"B1.30 > M1.33 1mm2 RD 1m\"\n2 = \"M1.31 > B1.31 1mm2 BK 1m\"\n",
        "fed.toml");
    REQUIRE(fed.circuit);
    CHECK(fed.circuit->joint(fed.circuit->wires[0].from.joint).name == "B1+");
    CHECK(fed.circuit->joint(fed.circuit->wires[1].to.joint).name == "B1-");
}

TEST_CASE("every other name of a terminal is that of a terminal that the kind has, and none stands twice") {
    for (const Kind& kind : kinds()) {
        const auto circuit = kind.word == "battery" ? nullptr : circuit_of(std::string(kind.example), "");
        Part part;
        part.kind = &kind;
        if (circuit) part = circuit->part(circuit->find_part("X"));
        const std::vector<std::string> terminals = kind.terminals(part);
        std::set<std::string> names(terminals.begin(), terminals.end());
        std::istringstream pairs{std::string(kind.terminal_aliases)};
        for (std::string pair; pairs >> pair;) {
            INFO(kind.word << " " << pair);
            const std::size_t equals = pair.find('=');
            REQUIRE(equals != std::string::npos);
            CHECK(names.insert(pair.substr(0, equals)).second);
            CHECK(std::count(terminals.begin(), terminals.end(), pair.substr(equals + 1)) == 1);
        }
    }
}

TEST_CASE("a contact with figures stands as its healthy figure puts it, whatever `normally` says") {
    const auto rests = [](const std::string& line) {
        const auto circuit = circuit_of(line, two_wires);
        const Part& part = circuit->part(circuit->find_part("X"));
        return part.positions[part.rest_position].name;
    };
    // A published trinary switch (S62): low opens at 1.96 bar and closes at 2.25, high opens at 31.4 and closes
    // at 22.5.
    CHECK(rests("contact normally open, opens 1.96bar, closes 2.25bar, healthy 2.5bar") == "closed");
    CHECK(rests("contact normally closed, opens 1.96bar, closes 2.25bar, healthy 0.3bar") == "open");
    CHECK(rests("contact normally open, opens 31.4bar, closes 22.5bar, healthy 12bar") == "closed");
    CHECK(rests("contact normally closed, opens 31.4bar, closes 22.5bar, healthy 33bar") == "open");
    // A thermostat that closes above 95 C stands open at 60 C.
    CHECK(rests("contact normally open, opens 88C, closes 95C, healthy 60C") == "open");
    // Between the two, and without a healthy figure, the line's own word counts.
    CHECK(rests("contact normally open, opens 1.96bar, closes 2.25bar") == "open");
    CHECK(rests("contact opens 1.96bar, closes 2.25bar") == "closed");
}
