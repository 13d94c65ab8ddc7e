// Reading whole circuits: the example, and every sort of line.
#include <algorithm>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include "netlists/circuit/network.hpp"
#include "tests/netlists/circuit_texts.hpp"

using namespace voltfall;

namespace {

/// Everything of a circuit that must not hang on the order of lines: joints by name, branches by place, role and value.
std::multiset<std::string> fingerprint(const Circuit& circuit) {
    std::multiset<std::string> all;
    for (const Branch& branch : circuit.branches) {
        std::ostringstream line;
        line << branch.place << "|" << branch.role << "|" << circuit.joint(branch.a).name << "|"
             << circuit.joint(branch.b).name << "|"
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
    for (const char* point : {"M1.1", "B1+", "B1-", "C101.4@541", "C101.4@542", "C304.1", "C303.4", "SP1", "SP1@555",
                              "G201", "F7.2@541", "K3.30@557", "F7.1@30", "F12.1@15", "30", "31", "15", "C305.C"}) {
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
    const auto contact = std::find_if(circuit->branches.begin(), circuit->branches.end(),
                                      [](const Branch& b) { return b.place == "C101.4"; });
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
    for (const char* phrase :
         {"542 open", "542 resistance", "542 chafe", "542 short-to-30", "C101.4 open", "C101.4 resistance",
          "C101.4 pushed-out", "SP1@555 resistance", "SP1@557 open", "G201 resistance", "F7.2 resistance",
          "K3.30 resistance", "C303.4 resistance", "801 bridge 802", "C303 bridge 1-2"}) {
        INFO(phrase);
        CHECK(find_mode(*circuit, phrase));
    }
    // Wires 541 and 542 meet in one cavity and run on either side of it.
    CHECK_FALSE(find_mode(*circuit, "541 bridge 542"));
    // A bridge touches both wires at the same share of their length.
    const auto bridge = find_mode(*circuit, "801 bridge 802")->changes(0.05, 0.25);
    REQUIRE(bridge.size() == 3);
    CHECK(std::get<PlaceMiddle>(bridge[0]).share == Approx(0.25));
    CHECK(std::get<PlaceMiddle>(bridge[1]).share == Approx(0.25));
    CHECK_FALSE(find_mode(*circuit, "C303 bridge 1-3")->catalogued);
    CHECK(find_mode(*circuit, "542 chafe")->along_wire);
    CHECK(find_mode(*circuit, "542 chafe")->repair == "542");
}

TEST_CASE("wires beside each other on one half of a connector can bridge, unless they end on one joint") {
    const auto circuit =
        read_good(small("C101 = \"connector\"\nL1 = \"lamp 21W\"\nL2 = \"lamp 21W\"\nL3 = \"lamp 21W\"",
                        "1 = \"F7.2 > C101.1 1mm2 1m\"\n2 = \"F7.2 > C101.2 1mm2 1m\"\n"
                        "3 = \"C101.1 > L1.1 1mm2 1m\"\n4 = \"C101.1 > L2.1 1mm2 1m\"\n"
                        "5 = \"C101.2 > L3.1 1mm2 1m\"\n6 = \"L1.2 > 31 1mm2 1m\"\n"
                        "7 = \"L2.2 > 31 1mm2 1m\"\n8 = \"L3.2 > 31 1mm2 1m\""));
    CHECK(find_mode(*circuit, "3 bridge 5"));
    CHECK(find_mode(*circuit, "4 bridge 5"));
    CHECK_FALSE(find_mode(*circuit, "3 bridge 4"));
    CHECK_FALSE(find_mode(*circuit, "1 bridge 2"));
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
    const auto open =
        std::count_if(network.branches.begin(), network.branches.end(), [](const NetworkBranch& b) { return b.open; });
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

TEST_CASE("wires are read in every form that the page allows") {
    const auto circuit = read_good(
        small("C205 = \"connector\"\nM1 = \"motor 20A\"\nG100 = \"ground\"\nSP1 = \"splice\"\nL1 = \"lamp 21W\"\n",
              "801 = \"F7.2 > C205.A > M1.1  3mm2 OG  1.1m 0.8m\"\nw1 = \"M1-2 > SP1.1 10AWG ~1.4m\"\nw2 = \"SP1.2 -> "
              "G100 14 ga BK 3ft x2\"\n"
              "w3 = \"SP1.3>L1/1 2,5mm2 PINKISH 0.5 m\"\nw4 = \"L1.2 → 31 1.5mm2 0.2m\"\n"));
    REQUIRE(circuit->wires.size() == 6);
    CHECK(circuit->wires[0].name == "801:1");
    CHECK(circuit->wires[1].name == "801:2");
    CHECK(circuit->wires[1].number == "801");
    CHECK(circuit->wires[1].length.value == Approx(0.8));
    CHECK(circuit->find_wire("801b").index == 1);
    CHECK(circuit->joint(circuit->wires[0].to.joint).name == "C205.A@801:1");
    CHECK(circuit->joint(circuit->wires[1].from.joint).name == "C205.A@801:2");
    const Wire& w1 = circuit->wire(circuit->find_wire("w1"));
    CHECK(w1.length.guessed);
    CHECK(circuit->branch(w1.first_half).tolerance == Approx(0.1));
    CHECK(w1.standard == WireStandard::awg);
    CHECK(w1.from.terminal == "2");
    const Wire& w2 = circuit->wire(circuit->find_wire("w2"));
    CHECK(w2.parallel == 2);
    CHECK(w2.length.value == Approx(0.9144));
    // SAE 14 gauge has 3702 circular mils, 1.876 mm2: 9.19 mohm a metre of copper, half of that for two side by side.
    CHECK(w2.ohms == Approx(0.9144 * 9.19e-3 / 2).epsilon(1e-3));
    CHECK(circuit->joint(w2.from.joint).name == "SP1.2");
    CHECK(circuit->joint(w2.to.joint).name == "G100");
    const Wire& w3 = circuit->wire(circuit->find_wire("w3"));
    CHECK(w3.size == 2.5);
    CHECK(w3.colour == "PINKISH");
    CHECK(circuit->wire(circuit->find_wire("w4")).to.joint == circuit->metal);
    CHECK(find_mode(*circuit, "SP1.2 resistance"));
}

TEST_CASE("a wire may say its insulation and its bundle") {
    const auto circuit = read_good(small("G100 = \"ground\"\nL1 = \"lamp 21W\"\n",
                                         "w1 = \"F7.2 > L1.1 1.5mm2 RD/BK 1m FLRY-B bundle 12\"\n"
                                         "w2 = \"L1.2 > G100 1.5mm2 BK 1m 125C\"\n"));
    const Wire& w1 = circuit->wire(circuit->find_wire("w1"));
    CHECK(w1.class_celsius == 105);
    CHECK(w1.bundle == 12);
    CHECK(w1.colour == "RD/BK");
    const Wire& w2 = circuit->wire(circuit->find_wire("w2"));
    CHECK(w2.class_celsius == 125);
    CHECK(w2.bundle == 1);
    for (const char* wrong : {"bundle", "bundle six", "bundle 0", "bundle 2.5", "40C", "900C"}) {
        INFO(wrong);
        const CircuitReading bad = read_circuit_text(
            small("G100 = \"ground\"\nL1 = \"lamp 21W\"\n",
                  std::string("w1 = \"F7.2 > L1.1 1.5mm2 RD 1m ") + wrong + "\"\nw2 = \"L1.2 > G100 1.5mm2 1m\"\n"),
            "bad.toml");
        CHECK(bad.problems.has_errors());
    }
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
        return *std::find_if(circuit->limits.begin(), circuit->limits.end(),
                             [&](const Limit& l) { return l.key == key; });
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
        return std::any_of(circuit.branches.begin(), circuit.branches.end(),
                           [](const Branch& b) { return b.role == "body"; });
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
                                         "1 = \"F7.2 > C101.3 1mm2 1m\"\n2 = \"C101.3 > M1.1 1mm2 1m\"\n3 = \"M1.2 > "
                                         "C101.4 1mm2 1m\"\n4 = \"C101.4 > 31 1mm2 1m\""));
    const FaultMode* bridge = find_mode(*circuit, "C101 bridge 3-4");
    REQUIRE(bridge);
    CHECK(bridge->catalogued);
    const auto changes = bridge->changes(0.01, 0);
    REQUIRE(changes.size() == 1);
    const Connect connect = std::get<Connect>(changes[0]);
    CHECK(circuit->joint(connect.a).name == "C101.3@1");
    CHECK(circuit->joint(connect.b).name == "C101.4@3");
}

TEST_CASE("a chain may have one length, which its pieces share and which is then a guess") {
    const auto wires = [](const std::string& lengths) {
        return read_good(
                   "format = 1\nname = \"x\"\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 20A, feed 30\"\n"
                   "C1 = \"connector\"\nC2 = \"connector\"\nM1 = \"motor 5A @13.5V\"\nG1 = \"ground\"\n[wires]\n1 = "
                   "\"F1.2 "
                   "> C1.1 > C2.4 > M1.1  2mm2 RD " +
                   lengths + "\"\n2 = \"M1.2 > G1 2mm2 BK 1m\"\n")
            ->wires;
    };
    const auto shared = wires("2.4m");
    REQUIRE(shared.size() == 4);
    for (std::size_t i = 0; i < 3; ++i) {
        CHECK(shared[i].length.value == Approx(0.8));
        CHECK(shared[i].length.guessed);
        CHECK(shared[i].ohms == Approx(shared[0].ohms));
    }
    CHECK_FALSE(shared[3].length.guessed);
    const auto each = wires("1m 0.5m 0.9m");
    CHECK(each[1].length.value == Approx(0.5));
    CHECK_FALSE(each[1].length.guessed);
}
