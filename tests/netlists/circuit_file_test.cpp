// Reading whole circuits: the example, every sort of line, and what people type wrong.
#include <algorithm>
#include <fstream>
#include <map>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string example_text() {
    std::ifstream stream(PROJECT_DIR "/scenarios/bookmobile/cab-blower.toml", std::ios::binary);
    std::stringstream text;
    text << stream.rdbuf();
    REQUIRE(text.str().size() > 1000);
    return text.str();
}

void show(const Problems& problems) {
    for (const Problem& p : problems.list()) {
        UNSCOPED_INFO(severity_name(p.severity) << " " << p.place.line << ":" << p.place.column << " " << p.message << " | " << p.suggestion);
    }
}

std::shared_ptr<const Circuit> read_good(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    show(reading.problems);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

/// A small circuit around some lines of [parts] and [wires].
std::string small(const std::string& parts, const std::string& wires, const std::string& rest = "") {
    return "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF7 = \"fuse 40A maxi, feed 30\"\n" + parts + "\n[wires]\n" + wires + "\n" + rest;
}

std::vector<std::string> error_messages(const std::string& text) {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    CHECK_FALSE(reading.circuit);
    std::vector<std::string> messages;
    for (const Problem& problem : reading.problems.list()) {
        CHECK_FALSE(problem.message.empty());
        if (problem.severity == Severity::error) messages.push_back(problem.message);
    }
    return messages;
}

/// The one error of a text, whose caret stands under `under`.
Problem only_error(const std::string& text, const std::string& under = "") {
    const CircuitReading reading = read_circuit_text(text, "x.toml");
    show(reading.problems);
    CHECK_FALSE(reading.circuit);
    std::vector<Problem> errors;
    for (const Problem& problem : reading.problems.list()) {
        if (problem.severity == Severity::error) errors.push_back(problem);
    }
    REQUIRE(errors.size() == 1);
    if (!under.empty()) {
        const SourcePlace& place = errors[0].place;
        CHECK(place.text.substr(static_cast<std::size_t>(place.column - 1), static_cast<std::size_t>(place.length)) == under);
    }
    return errors[0];
}

const FaultMode* find_mode(const Circuit& circuit, const std::string& phrase) {
    const auto found = std::find_if(circuit.modes.begin(), circuit.modes.end(), [&](const ModePtr& m) { return m->phrase() == phrase; });
    return found == circuit.modes.end() ? nullptr : found->get();
}

std::string replaced(std::string text, const std::string& what, const std::string& with) {
    const auto at = text.find(what);
    REQUIRE(at != std::string::npos);
    return text.replace(at, what.size(), with);
}

/// Everything of a circuit that must not hang on the order of lines: joints by name, branches by place, role and value.
std::multiset<std::string> fingerprint(const Circuit& circuit) {
    std::multiset<std::string> all;
    for (const Branch& branch : circuit.branches) {
        std::ostringstream line;
        line << branch.place << "|" << branch.role << "|" << circuit.joint(branch.a).name << "|" << circuit.joint(branch.b).name << "|"
             << Network(circuit).ohms({static_cast<std::uint32_t>(&branch - circuit.branches.data())});
        all.insert(line.str());
    }
    for (const ModePtr& mode : circuit.modes) {
        if (mode->mode.substr(0, 6) != "bridge") all.insert(mode->phrase());
    }
    return all;
}

}  // namespace

TEST_CASE("the example is read without a problem") {
    const CircuitReading reading = read_circuit_text(example_text(), "cab-blower.toml");
    show(reading.problems);
    CHECK(reading.problems.empty());
    REQUIRE(reading.circuit);
    const Circuit& circuit = *reading.circuit;
    CHECK(circuit.parts.size() == 11);
    CHECK(circuit.wires.size() == 12);
    CHECK(circuit.name == "Bookmobile, cab blower");
    CHECK(circuit.supply == 12);
    CHECK(circuit.part(circuit.battery).name == "B1");
    REQUIRE(circuit.controls.size() == 1);
    CHECK(circuit.controls[0].word == "blower");
    CHECK(circuit.limits.size() == 4);
    CHECK(circuit.reach.at("C101") == 25);
    REQUIRE(circuit.strips.size() == 1);
    CHECK(circuit.strips[0].minutes == Approx(5));
    CHECK(circuit.strips[0].places == std::vector<std::string>{"C303", "C304", "K3"});
    REQUIRE(circuit.care_of("542"));
    CHECK(circuit.care_of("542")->words == std::vector<std::string>{"hot", "rubs"});
    CHECK(circuit.care_of("C303")->words == std::vector<std::string>{"hot", "heat-cycled"});
    CHECK(circuit.together.at("R1").size() == 2);
}

TEST_CASE("every joint and branch of the example has a name of its own and good ends") {
    const auto circuit = read_good(example_text());
    std::set<std::string> names;
    for (const Joint& joint : circuit->joints) {
        INFO(joint.name);
        CHECK(names.insert(joint.name).second);
        CHECK(joint.name.back() != '@');
        CHECK_FALSE(joint.place.empty());
    }
    for (const Branch& branch : circuit->branches) {
        INFO(branch.place << " " << branch.role);
        CHECK(branch.a.index < circuit->joints.size());
        CHECK(branch.b.index < circuit->joints.size());
        CHECK(branch.a != branch.b);
    }
    for (const char* point : {"M1.1", "B1+", "B1-", "C101.4@541", "C101.4@542", "C304.1", "C303.4", "SP1", "SP1@555", "G201", "F7.2@541",
                              "K3.30@557", "F7.1@30", "F12.1@15", "30", "31", "15", "C305.C"}) {
        INFO(point);
        CHECK(circuit->find_joint(point).valid());
    }
}

TEST_CASE("the two halves of a cavity are told apart by their wires") {
    const auto circuit = read_good(example_text());
    const Wire& to = circuit->wire(circuit->find_wire("541"));
    const Wire& from = circuit->wire(circuit->find_wire("542"));
    CHECK(circuit->joint(to.to.joint).name == "C101.4@541");
    CHECK(circuit->joint(from.from.joint).name == "C101.4@542");
    CHECK(circuit->joint(to.to.joint).place == "C101");
    const auto contact = std::find_if(circuit->branches.begin(), circuit->branches.end(), [](const Branch& b) { return b.place == "C101.4"; });
    REQUIRE(contact != circuit->branches.end());
    CHECK(contact->role == "contact");
    CHECK(contact->a == to.to.joint);
    CHECK(contact->b == from.from.joint);
    CHECK(std::get<Resistor>(contact->law).ohms == Approx(0.002));  // defaults: connector_ohm
    CHECK(contact->tolerance == Approx(0.693).margin(0.001));       // ln 2
}

TEST_CASE("a wire is two halves with its ohms by size and length") {
    const auto circuit = read_good(example_text());
    const Wire& wire = circuit->wire(circuit->find_wire("542"));
    CHECK(wire.size == 6);
    CHECK(wire.length.value == Approx(1.4));
    CHECK(wire.length.typed);
    CHECK(wire.colour == "RD");
    CHECK(wire.ohms == Approx(3.14e-3 * 1.4).epsilon(0.02));  // ISO 6722-1: 6 mm2 is 3.14 mohm/m
    const Branch& half = circuit->branch(wire.first_half);
    CHECK(std::get<Resistor>(half.law).ohms == Approx(wire.ohms / 2));
    CHECK(half.role == "first half");
    CHECK(half.tolerance == Approx(0.1 / 3));
    CHECK(circuit->branch(wire.second_half).a == wire.middle);
    CHECK(circuit->joint(wire.middle).access == Access::inside);
}

TEST_CASE("the catalogue holds the faults of wires, cavities, legs and sockets") {
    const auto circuit = read_good(example_text());
    for (const char* phrase : {"542 open", "542 resistance", "542 chafe", "542 short-to-30", "C101.4 open", "C101.4 resistance",
                               "C101.4 pushed-out", "SP1@555 resistance", "SP1@557 open", "G201 resistance", "F7.2 resistance", "K3.30 resistance",
                               "C303.4 resistance", "60 bridge 63", "C303 bridge 1-2"}) {
        INFO(phrase);
        CHECK(find_mode(*circuit, phrase));
    }
    // Wires 541 and 542 meet in one cavity and run on either side of it.
    CHECK_FALSE(find_mode(*circuit, "541 bridge 542"));
    CHECK_FALSE(find_mode(*circuit, "C303 bridge 1-3")->catalogued);
    CHECK(find_mode(*circuit, "542 chafe")->along_wire);
    CHECK(find_mode(*circuit, "542 chafe")->repair == "542");
}

TEST_CASE("a chafe at 60 percent leaves 40 percent of the wire behind it") {
    const auto circuit = read_good(example_text());
    const FaultMode* chafe = find_mode(*circuit, "542 chafe");
    REQUIRE(chafe);
    Network network(*circuit);
    network.apply(chafe->changes(0.02, 0.6));
    const Wire& wire = circuit->wire(circuit->find_wire("542"));
    CHECK(network.ohms(wire.first_half) == Approx(0.6 * wire.ohms));
    CHECK(network.ohms(wire.second_half) == Approx(0.4 * wire.ohms));
    REQUIRE(network.branches.size() == circuit->branches.size() + 1);
    CHECK(network.branches.back().a == wire.middle);
    CHECK(network.branches.back().b == circuit->metal);
}

TEST_CASE("a pushed-out pin opens its cavity") {
    const auto circuit = read_good(example_text());
    Network network(*circuit);
    const FaultMode* pushed = find_mode(*circuit, "C101.4 pushed-out");
    REQUIRE(pushed);
    network.apply(pushed->changes(0, 0));
    const auto open = std::count_if(network.branches.begin(), network.branches.end(), [](const NetworkBranch& b) { return b.open; });
    CHECK(open == 1);
}

TEST_CASE("the order of lines does not matter") {
    const std::string text = example_text();
    const auto straight = read_good(text);
    // The lines of each section the other way round, and the sections too.
    std::vector<std::vector<std::string>> sections(1);
    std::istringstream stream(text);
    for (std::string line; std::getline(stream, line);) {
        if (!line.empty() && line[0] == '[') sections.push_back({});
        sections.back().push_back(line);
    }
    std::string turned;
    for (const std::string& line : sections[0]) turned += line + "\n";
    for (auto section = sections.rbegin(); section + 1 != sections.rend(); ++section) {
        std::reverse(section->begin() + 1, section->end());
        for (const std::string& line : *section) turned += line + "\n";
    }
    CHECK(fingerprint(*read_good(turned)) == fingerprint(*straight));
}

TEST_CASE("five mistakes are five located problems in one run") {
    std::string text = example_text();
    text = replaced(text, "fuse 40A maxi, feed 30", "fuse 40 maxi, feed 30");
    text = replaced(text, "\"relay 40A, coil 90ohm\"", "relay 40A, coil 90ohm");
    text = replaced(text, "C101.4     6mm2    RD     0.9m", "C102.4     6mm2    RD     0.9m");
    text = replaced(text, "R1.1 > S1.1", "R1.5 > S1.1");
    text = replaced(text, "[care]\n542 ", "[care]\n543 ");
    const CircuitReading reading = read_circuit_text(text, "bad.toml");
    show(reading.problems);
    CHECK_FALSE(reading.circuit);
    REQUIRE(reading.problems.list().size() == 5);
    std::set<int> lines;
    for (const Problem& problem : reading.problems.list()) {
        CHECK(problem.place.file == "bad.toml");
        CHECK(problem.place.line > 0);
        CHECK(problem.place.column > 0);
        CHECK_FALSE(problem.suggestion.empty());
        lines.insert(problem.place.line);
    }
    CHECK(lines.size() == 5);
}

TEST_CASE("a line that cannot be read makes no further problems where its name is used") {
    CHECK(error_messages(replaced(example_text(), "\"motor 20A", "\"moter 20A")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "F7   = \"fuse", "F7   \"fuse")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "lo=1 m1=2", "=1 m1=2")).size() == 1);
    CHECK(error_messages(replaced(example_text(), "542  = \"C101.4 > M1.1     6mm2", "542  = \"C101.4 > M1.1     6")).size() == 1);
}

TEST_CASE("wires are read in every form that the page allows") {
    const auto circuit = read_good(small(
        "C205 = \"connector\"\nM1 = \"motor 20A\"\nG100 = \"ground\"\nSP1 = \"splice\"\nL1 = \"lamp 21W\"\n",
        "60 = \"F7.2 > C205.A > M1.1  3mm2 OG  1.1m 0.8m\"\nw1 = \"M1-2 > SP1.1 10AWG ~1.4m\"\nw2 = \"SP1.2 -> G100 14 ga BK 3ft x2\"\n"
        "w3 = \"SP1.3>L1/1 2,5mm2 PINKISH 0.5 m\"\nw4 = \"L1.2 → 31 1.5mm2 0.2m\"\n"));
    REQUIRE(circuit->wires.size() == 6);
    CHECK(circuit->wires[0].name == "60:1");
    CHECK(circuit->wires[1].name == "60:2");
    CHECK(circuit->wires[1].number == "60");
    CHECK(circuit->wires[1].length.value == Approx(0.8));
    CHECK(circuit->find_wire("60b").index == 1);
    CHECK(circuit->joint(circuit->wires[0].to.joint).name == "C205.A@60:1");
    CHECK(circuit->joint(circuit->wires[1].from.joint).name == "C205.A@60:2");
    const Wire& w1 = circuit->wire(circuit->find_wire("w1"));
    CHECK(w1.length.guessed);
    CHECK(circuit->branch(w1.first_half).tolerance == Approx(0.1));
    CHECK(w1.standard == WireStandard::awg);
    CHECK(w1.from.terminal == "2");
    const Wire& w2 = circuit->wire(circuit->find_wire("w2"));
    CHECK(w2.parallel == 2);
    CHECK(w2.length.value == Approx(0.9144));
    CHECK(circuit->joint(w2.from.joint).name == "SP1.2");
    CHECK(circuit->joint(w2.to.joint).name == "G100");
    const Wire& w3 = circuit->wire(circuit->find_wire("w3"));
    CHECK(w3.size == 2.5);
    CHECK(w3.colour == "PINKISH");
    CHECK(circuit->wire(circuit->find_wire("w4")).to.joint == circuit->metal);
    CHECK(find_mode(*circuit, "SP1.2 resistance"));
}

TEST_CASE("a wire without a length is a metre and a warning, a colour unknown is a note") {
    const CircuitReading reading = read_circuit_text(small("M1 = \"motor 20A\"", "1 = \"F7.2 > M1.1 6mm2 QQ\"\n2 = \"M1.2 > 31 6mm2 1m\""), "x.toml");
    show(reading.problems);
    REQUIRE(reading.circuit);
    REQUIRE(reading.problems.list().size() == 2);
    CHECK(reading.problems.list()[0].severity == Severity::warning);
    CHECK(reading.problems.list()[0].message == "wire '1' has no length; ~1m is taken");
    CHECK(reading.problems.list()[1].severity == Severity::note);
    CHECK(reading.circuit->wires[0].length.value == 1);
    CHECK(reading.circuit->wires[0].length.guessed);
}

TEST_CASE("what people type wrong in a wire is located and named") {
    const std::string parts = "M1 = \"motor 20A\"\nR1 = \"pack 1 1.2ohm 2 0.7ohm 3\"\nSP1 = \"splice\"\nC101 = \"connector 8 way\"";
    const std::string good = "\n99 = \"F7.2 > M1.1 6mm2 1m\"\n";
    struct Case {
        std::string line;
        std::string under;
        std::string message;
    };
    const std::vector<Case> cases{
        {"1 = \"F7.2 > R1.5 6mm2 1m\"", "R1.5", "R1 has taps 1 2 3, not 5"},
        {"1 = \"F7.2 > X1.5 6mm2 1m\"", "X1.5", "no part is called 'X1'"},
        {"1 = \"F7.2 > F7.2 6mm2 1m\"", "F7.2", "wire '1' ends where it begins"},
        {"1 = \"SP1 > SP1.2 6mm2 1m\"", "SP1.2", "wire '1' ends where it begins"},
        {"1 = \"F7.2 > M1 6mm2 1m\"", "M1", "'M1' needs a terminal"},
        {"1 = \"F7.2 > C101 6mm2 1m\"", "C101", "'C101' needs a cavity"},
        {"1 = \"F7.2 > C101.9 6mm2 1m\"", "C101.9", "C101 has 8 cavities, not 9"},
        {"1 = \"F7.2 M1.1 6mm2 1m\"", "M1.1", "expected > between the ends of wire '1', found 'M1.1'"},
        {"1 = \"F7.2 to M1.1 6mm2 1m\"", "to", "expected > between the ends of wire '1', found 'to'"},
        {"1 = \"F7.2 > M1.1 RD 1m\"", "1", "wire '1' has no size"},
        {"1 = \"F7.2 > M1.1 6mm 1m\"", "6mm", "'6mm' is a length; wire '1' has no size"},
        {"1 = \"F7.2 > M1.1 6 1m\"", "6", "'6' has no unit"},
        {"1 = \"F7.2 > M1.1 6mm2 1m 2m\"", "1", "wire '1' has 2 lengths for 1 piece"},
        {"1 = \"F7.2 >\"", "", "no wire end behind '>'"},
        {"1 = 12", "12", "'1' is the number 12; expected a text in double quotes"},
        {"F7 = \"F7.2 > M1.1 6mm2 1m\"", "F7", "'F7' is the name of a wire and of a part"},
        {"a+b = \"F7.2 > M1.1 6mm2 1m\"", "a+b", "'a+b' is no name of a wire: letters, digits, _ - / only"},
    };
    for (const Case& wrong : cases) {
        INFO(wrong.line);
        const std::string text = small(parts, wrong.line + good);
        if (wrong.message == "no wire end behind '>'") {
            CHECK(error_messages(text).front() == wrong.message);
            continue;
        }
        CHECK(only_error(text, wrong.under).message == wrong.message);
    }
}

TEST_CASE("what people type wrong in parts and plugs is located and named") {
    const std::string wire = "99 = \"F7.2 > M1.1 6mm2 1m\"";
    const std::string motor = "M1 = \"motor 20A\"\n";
    CHECK(only_error(small(motor + "X1 = \"moter 20A\"", wire), "moter").suggestion == "did you mean 'motor'?");
    CHECK(only_error(small(motor + "X1 = \"module pwm 400Hz\"", wire), "module").message ==
          "'X1' is a module: electronic parts are not simulated by this version");
    CHECK(only_error(small(motor + "m1 = \"motor 10A\"", wire), "m1").message == "part 'm1' stands twice; the first is in line 5");
    CHECK(only_error(small(motor + "X*1 = \"motor 10A\"", wire), "X*1").message == "'X*1' is no name of a part: letters, digits, _ - / only");
    CHECK(only_error(small(motor + "30 = \"motor 10A\"", wire), "30").message == "a part cannot be called '30', a word of the supply");
    CHECK(only_error(small(motor, wire, "[plugs]\nM2 = \"C1\""), "M2").message == "no part is called 'M2'");
    CHECK(only_error(small(motor + "C1 = \"connector\"", wire, "[plugs]\nM1 = \"C1\""), "C1").message ==
          "'C1' is a part already; the plug at 'M1' needs no line in [parts]");
    CHECK(only_error(small(motor, wire, "[plugs]\nM1 = \"C1\"\nF7 = \"C1\""), "C1").message == "plug 'C1' is at 'M1' already");
}

TEST_CASE("what people type wrong around the sections is located and named") {
    const std::string good = small("M1 = \"motor 20A\"", "99 = \"F7.2 > M1.1 6mm2 1m\"");
    CHECK(only_error(replaced(good, "format = 1", "name = \"x\"")).message == "the file does not say its format");
    CHECK(only_error(replaced(good, "format = 1", "format = 2"), "2").message == "format is the number 2; this version reads format 1");
    CHECK(only_error(replaced(good, "format = 1", "name = \"x\"\nformat = 1"), "format").message == "format is not the first key");
    CHECK(only_error(replaced(good, "format = 1", "format = 1\nnaem = \"x\""), "naem").suggestion == "did you mean 'name'?");
    CHECK(only_error(replaced(good, "format = 1", "format = 1\nsupply = \"48V\""), "48V").message == "supply is '48V'; expected 12V or 24V");
    CHECK(only_error(good + "[limts]\n").suggestion == "did you mean 'limits'?");
    CHECK(only_error(good + "[reach]\nM3 = 5\n", "M3").message == "no part, plug or wire is called 'M3'");
    CHECK(only_error(good + "[reach]\nM1 = \"soon\"\n").message == "'M1' is the text 'soon'; expected minutes");
    CHECK(only_error(good + "[strip]\nbox = \"M1 F7\"\n").message == "strip-down 'box' must say its minutes and a colon before the places");
    CHECK(only_error(good + "[strip]\nbox = \"8min: M1 F8\"\n", "F8").message == "no part, plug or wire is called 'F8'");
    CHECK(only_error(good + "[limits]\nfeed = \"0.5A\"\n", "0.5A").message == "'0.5A' is no limit of 'feed', expected V");
    CHECK(only_error(good + "[controls]\nM1 = \"fan\"\n", "M1").message == "'M1' is a motor, which nobody sets");
    CHECK(only_error(replaced(good, "B1 = \"battery 12.6V 8mohm\"\n", ""), "[parts]").message == "the circuit has no battery");
    CHECK(error_messages("").size() == 3);
}

TEST_CASE("a circuit that is too large is one problem") {
    std::string parts;
    for (int i = 0; i < 20000; ++i) parts += "P" + std::to_string(i) + " = \"lamp 5W\"\n";
    CHECK(only_error(small(parts, "1 = \"F7.2 > P0.1 6mm2 1m\"")).message == "20002 parts; at most 2000 are read");
}

TEST_CASE("a circuit of the largest size is read") {
    std::string parts;
    std::string wires;
    for (int i = 0; i < 1990; ++i) {
        parts += "P" + std::to_string(i) + " = \"lamp 5W\"\n";
        wires += "wa" + std::to_string(i) + " = \"F7.2 > P" + std::to_string(i) + ".1 1mm2 1m\"\n";
        wires += "wb" + std::to_string(i) + " = \"P" + std::to_string(i) + ".2 > 31 1mm2 1m\"\n";
    }
    CHECK(read_good(small(parts, wires))->wires.size() == 3980);
}

TEST_CASE("limits are read with their range and supply") {
    const auto circuit = read_good(example_text());
    const auto limit = [&](const std::string& key) {
        return *std::find_if(circuit->limits.begin(), circuit->limits.end(), [&](const Limit& l) { return l.key == key; });
    };
    CHECK(limit("hi.amps").low == 18);
    CHECK(limit("hi.amps").high == 21);
    CHECK(limit("hi.amps").unit == Unit::ampere);
    CHECK(limit("hi.amps").at_volts == 13.5);
    CHECK(limit("feed").high == 0.5);
    CHECK(limit("C303").unit == Unit::celsius);
}

TEST_CASE("closed places keep a probe out of their joints") {
    const auto circuit = read_good(example_text() + "\n[closed]\nC303 = \"sealed\"\nM1 = \"electronic\"\n");
    CHECK(circuit->joint(circuit->find_joint("C303.1")).access == Access::closed);
    CHECK(circuit->joint(circuit->find_joint("C303.1")).closed_reason == "sealed");
    CHECK(circuit->joint(circuit->find_joint("C304.1")).closed_reason == "electronic");
    CHECK(circuit->joint(circuit->find_joint("C101.4@541")).access == Access::open);
}

TEST_CASE("without [controls] every switch is a control by its own name") {
    const auto circuit = read_good(replaced(example_text(), "[controls]\nS1 = \"blower\"\n", ""));
    REQUIRE(circuit->controls.size() == 1);
    CHECK(circuit->controls[0].word == "S1");
}

TEST_CASE("the metal is tied to battery minus unless the file straps it") {
    const auto tied = [](const Circuit& circuit) {
        return std::any_of(circuit.branches.begin(), circuit.branches.end(), [](const Branch& b) { return b.role == "body"; });
    };
    const std::string parts = "M1 = \"motor 20A\"\nG100 = \"ground\"\nSP1 = \"splice\"";
    const std::string wires = "1 = \"F7.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > G100 6mm2 1m\"\n";
    CHECK(tied(*read_good(small(parts, wires))));
    CHECK_FALSE(tied(*read_good(small(parts, wires + "3 = \"B1- > G100 25mm2 0.4m\""))));
    CHECK_FALSE(tied(*read_good(small(parts, wires + "3 = \"B1- > SP1 25mm2 0.4m\"\n4 = \"SP1 > G100 25mm2 0.4m\""))));
}

TEST_CASE("the key is implied unless one is drawn whose 15 drives the bus") {
    const std::string fed = "F12 = \"fuse 10A mini, feed 15\"\nM1 = \"motor 5A\"";
    const std::string wires = "1 = \"F12.2 > M1.1 1mm2 1m\"\n2 = \"M1.2 > 31 1mm2 1m\"";
    const auto implied = read_good(small(fed, wires));
    REQUIRE(implied->implied_key.valid());
    CHECK_FALSE(std::get<Contact>(implied->branch(implied->implied_key).law).closed);
    const auto drawn = read_good(small(fed + "\nKY = \"key: off acc=75 on=75+15 start=15+50\"", wires));
    CHECK_FALSE(drawn->implied_key.valid());
    CHECK(drawn->part(drawn->key).name == "KY");
    CHECK(drawn->part(drawn->key).contacts.count("15") == 1);
    const auto none = read_good(small("M1 = \"motor 5A\"", "1 = \"F7.2 > M1.1 1mm2 1m\"\n2 = \"M1.2 > 31 1mm2 1m\""));
    CHECK_FALSE(none->bus_15.valid());
}

TEST_CASE("neighbouring cavities can bridge, on the half that wires are written to") {
    const auto circuit = read_good(small("M1 = \"motor 5A\"\nC101 = \"connector\"",
                                         "1 = \"F7.2 > C101.3 1mm2 1m\"\n2 = \"C101.3 > M1.1 1mm2 1m\"\n3 = \"M1.2 > C101.4 1mm2 1m\"\n4 = \"C101.4 > 31 1mm2 1m\""));
    const FaultMode* bridge = find_mode(*circuit, "C101 bridge 3-4");
    REQUIRE(bridge);
    CHECK(bridge->catalogued);
    const auto changes = bridge->changes(0.01, 0);
    REQUIRE(changes.size() == 1);
    const Connect connect = std::get<Connect>(changes[0]);
    CHECK(circuit->joint(connect.a).name == "C101.3@1");
    CHECK(circuit->joint(connect.b).name == "C101.4@3");
}

TEST_CASE("no single deleted character crashes the reader") {
    const std::string text = example_text();
    for (std::size_t i = 0; i < text.size(); ++i) {
        std::string shorter = text;
        shorter.erase(i, 1);
        const CircuitReading reading = read_circuit_text(shorter, "x.toml");
        INFO(i);
        if (!reading.circuit) REQUIRE(reading.problems.has_errors());
        if (reading.circuit) REQUIRE_FALSE(reading.problems.has_errors());
        show(reading.problems);
        REQUIRE(reading.problems.list().size() < 20);
    }
}

TEST_CASE("no cut file and no changed character crashes the reader") {
    const std::string text = example_text();
    const std::string signs = "\"'[]{}=#.,\\\n\t@~>\xC2\xFF:+-";
    for (std::size_t i = 0; i < text.size(); i += 7) {
        read_circuit_text(text.substr(0, i), "x.toml");
        std::string changed = text;
        changed[i] = signs[i % signs.size()];
        const CircuitReading reading = read_circuit_text(changed, "x.toml");
        REQUIRE((reading.circuit != nullptr) != reading.problems.has_errors());
    }
}
