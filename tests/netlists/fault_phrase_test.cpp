#include "netlists/phrases/fault_phrase.hpp"

#include "netlists/files/circuit_file.hpp"
#include "netlists/phrases/place_pattern.hpp"
#include "netlists/phrases/places.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

Fault fault_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(typed(phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(fault);
    return *fault;
}

Problem problem_of(const Circuit& circuit, const std::string& phrase) {
    Problems problems;
    const auto fault = read_fault_phrase(typed(phrase), circuit, problems);
    INFO(phrase);
    REQUIRE_FALSE(fault);
    REQUIRE_FALSE(problems.list().empty());
    return problems.list().front();
}

std::string canonical(const Circuit& circuit, const std::string& phrase) {
    return write_fault(circuit, fault_of(circuit, phrase));
}

const FaultMode& row(const Circuit& circuit, const std::string& phrase) {
    const auto found = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                    [&](const ModePtr& mode) { return mode->phrase() == phrase; });
    INFO(phrase);
    REQUIRE(found != circuit.modes.end());
    return **found;
}

}  // namespace

TEST_CASE("every row of the catalogue reads back from the phrase that is written for it") {
    for (const Circuit* circuit : {&cab_blower(), &two_controls()}) {
        REQUIRE(circuit->modes.size() > 50);
        for (const ModePtr& mode : circuit->modes) {
            Fault fault;
            fault.mode = mode;
            if (mode->size) fault.size = mode->size->unit == Unit::none ? 1.37 : mode->size->low * 1.25;
            if (mode->along_wire) fault.where = 0.3;
            fault.condition = "hot";
            if (mode->size) fault.size_in_condition = fault.size * 2;
            const std::string phrase = write_fault(*circuit, fault);
            INFO(phrase);
            const Fault back = fault_of(*circuit, phrase);
            CHECK(back.mode == mode);
            CHECK(write_fault(*circuit, back) == phrase);
            if (mode->size) CHECK(back.size == Approx(fault.size).epsilon(1e-5));
            if (mode->size) CHECK(back.size_in_condition.value_or(0) == Approx(fault.size * 2).epsilon(1e-5));
            if (mode->along_wire) CHECK(back.where == Approx(0.3));
            CHECK(back.condition == "hot");
        }
    }
}

TEST_CASE("fault phrases of the file format are read with their size and place") {
    const Circuit& circuit = cab_blower();
    for (const std::string phrase : {"542 open",
                                     "542 chafe 20mohm at 60%",
                                     "542 bridge 555 50mohm",
                                     "C101.4 resistance 0.3ohm",
                                     "C101.4 open",
                                     "C101.4 pushed-out",
                                     "C101.4 resistance 40mohm, hot 0.4ohm",
                                     "F7 blown",
                                     "F7 open",
                                     "F7 missing",
                                     "F7 rating 60A",
                                     "F7 resistance 40mohm",
                                     "R1 coil 2-3 open",
                                     "R1 coil 1-2 drift 1.6",
                                     "R1 limiter open",
                                     "M1 open",
                                     "M1 seized",
                                     "M1 drag 1.4",
                                     "M1 fouled 1.4",
                                     "M1 dead-spot",
                                     "M1 worn-brushes 0.4ohm",
                                     "M1 shorted-turns 0.8",
                                     "M1 short-to-case 0.1ohm",
                                     "M1 short-to-case 0.1ohm at 2",
                                     "M1 blocked-air 0.5",
                                     "S1 contact hi open",
                                     "S1 contact hi resistance 0.4ohm",
                                     "S1 stuck hi",
                                     "K3 coil open",
                                     "K3 contact open",
                                     "K3 welded",
                                     "K3 contact resistance 0.2ohm",
                                     "G201 open",
                                     "G201 resistance 0.15ohm",
                                     "B1 weak 11.6V",
                                     "B1 resistance 60mohm",
                                     "K3.30 resistance 0.2ohm",
                                     "F7.2 resistance 50mohm",
                                     "nothing",
                                     "542 chafe 10mohm when bump",
                                     "swapped 541 555",
                                     "G201 open when \"left turn\""}) {
        INFO(phrase);
        CHECK(canonical(circuit, phrase) == phrase);
    }
    CHECK(fault_of(circuit, "542 short-to-30").size == Approx(0.01));
}

TEST_CASE("case, blanks for hyphens and other ways to write a place give the same fault") {
    const Circuit& circuit = cab_blower();
    CHECK(canonical(circuit, "m1 WORN brushes 0.4 ohm") == "M1 worn-brushes 0.4ohm");
    CHECK(canonical(circuit, "c101-4 resistance 0.3ohm") == "C101.4 resistance 0.3ohm");
    CHECK(canonical(circuit, "C101/4 open") == "C101.4 open");
    CHECK(canonical(circuit, "C101.4@542 open") == "C101.4 open");
    CHECK(canonical(circuit, "R1.1 resistance 0.3ohm") == "C303.1 resistance 0.3ohm");
    CHECK(canonical(circuit, "C303.1 resistance 0.3ohm") == "C303.1 resistance 0.3ohm");
    CHECK(canonical(circuit, "SP1@555 open") == "SP1@555 open");
    CHECK(canonical(circuit, "555 bridge 542 50mohm") == canonical(circuit, "542 bridge 555 50mohm"));
    CHECK(canonical(circuit, "swapped 555 541") == "swapped 541 555");
    CHECK(canonical(two_controls(), "801b open") == "801:2 open");
    CHECK(canonical(circuit, "M1 blocked-air 50%") == "M1 blocked-air 0.5");
}

TEST_CASE("a wire may be called by the one terminal that it ends at") {
    const CircuitReading module = read_circuit_file(PROJECT_DIR "/scenarios/starters/module-linear.toml");
    REQUIRE(module.circuit);
    CHECK(canonical(*module.circuit, "CMD wire open") == "21 open");
    CHECK(canonical(*module.circuit, "21 wire open") == "21 open");
    // 85 of the relay has wire 804 alone; several wires end at a terminal called 1.
    CHECK(canonical(cab_blower(), "85 wire resistance 2ohm") == "804 resistance 2ohm");
    Problems problems;
    CHECK_FALSE(read_fault_phrase(TypedText::argument("fault", "M1 wire open"), cab_blower(), problems));
    CHECK_FALSE(read_fault_phrase(TypedText::argument("fault", "1 wire open"), cab_blower(), problems));
}

TEST_CASE("a place along a wire counts from its first-written end, in metres too") {
    const Circuit& circuit = cab_blower();
    CHECK(fault_of(circuit, "542 chafe at 0.35m").where == Approx(0.25));  // 542 is 1.4 m long
    CHECK(fault_of(circuit, "542 chafe").where == Approx(0.5));
    const Problem beyond = problem_of(circuit, "542 chafe at 1.6m");
    CHECK(beyond.message == "'1.6m' is beyond the wire: '542' is 1.4m long");
    CHECK(beyond.place.column == 14);
    CHECK(problem_of(circuit, "542 chafe at 130%").message.find("beyond the wire") != std::string::npos);
    CHECK(problem_of(circuit, "C101.4 open at 60%").message.find("has no place") != std::string::npos);
}

TEST_CASE("a missing size is the usual one, and a size must have the mode's unit and a physical sense") {
    const Circuit& circuit = cab_blower();
    CHECK(fault_of(circuit, "C101.4 resistance").size == Approx(row(circuit, "C101.4 resistance").size->usual));
    CHECK(problem_of(circuit, "C101.4 resistance 0.3").suggestion == "write 0.3ohm or 0.3mohm");
    CHECK(problem_of(circuit, "C101.4 resistance 0.3V").message == "'C101.4 resistance' takes ohm, not '0.3V'");
    CHECK(problem_of(circuit, "C101.4 resistance 0ohm").message == "'0ohm' must be more than zero");
    CHECK(problem_of(circuit, "542 chafe -3ohm").message == "'-3ohm' must be more than zero");
    CHECK(problem_of(circuit, "M1 drag 1.4ohm").message == "'M1 drag' takes a bare factor, not '1.4ohm'");
    CHECK(problem_of(circuit, "M1 drag -1").message == "'-1' must be more than zero");
    CHECK(problem_of(circuit, "M1 seized 2ohm").message == "'M1 seized' takes no size, but '2ohm' was found");
    CHECK(problem_of(circuit, "C101.4 resistance 1ohm 2ohm").message == "'2ohm' is a second size");
}

TEST_CASE("unknown places and modes suggest the nearest that exists") {
    const Circuit& circuit = cab_blower();
    CHECK(problem_of(circuit, "C101.5 open").suggestion.find("C101.4") != std::string::npos);
    CHECK(problem_of(circuit, "M1 siezed").suggestion.find("seized") != std::string::npos);
    CHECK(problem_of(circuit, "M1 siezed").place.column == 4);
    CHECK(problem_of(circuit, "C101.4").suggestion.find("resistance") != std::string::npos);
    CHECK(problem_of(circuit, "C101.4").message == "'C101.4' says where, but not what is wrong there");
    CHECK(problem_of(circuit, "C303 open").suggestion.find("C303.1") != std::string::npos);
    CHECK(problem_of(two_controls(), "801 open").suggestion == "write 801:1, 801:2 or 801:3");
    CHECK(problem_of(circuit, "542 bridge 999").message == "no wire is called '999'");
    CHECK(problem_of(circuit, "542 bridge 542").message == "'542' cannot touch itself");
    CHECK(problem_of(circuit, "542 chafe 20mohm sideways").place.column == 18);
    CHECK(problem_of(circuit, "").message == "the fault is empty");
}

TEST_CASE("a bridge between any two wires connects both at the same share") {
    const Circuit& circuit = cab_blower();
    const Fault fault = fault_of(circuit, "541 bridge 811 2ohm at 25%");
    const auto changes = fault.mode->changes(fault.size, fault.where);
    REQUIRE(changes.size() == 3);
    CHECK(std::get<PlaceMiddle>(changes[0]).share == Approx(0.25));
    CHECK(std::get<PlaceMiddle>(changes[1]).share == Approx(0.25));
    const Connect& path = std::get<Connect>(changes[2]);
    CHECK(path.a == circuit.wire(circuit.find_wire("541")).middle);
    CHECK(path.b == circuit.wire(circuit.find_wire("811")).middle);
    CHECK(path.ohms == Approx(2));
    CHECK_FALSE(fault.mode->catalogued);
}

TEST_CASE("a bridge between cavities that are no neighbours is built on demand") {
    const Circuit& circuit = two_controls();
    const Fault fault = fault_of(circuit, "C310 bridge 1-3 5ohm");
    const auto changes = fault.mode->changes(fault.size, fault.where);
    REQUIRE(changes.size() == 1);
    const Connect& path = std::get<Connect>(changes[0]);
    CHECK(circuit.joint(path.a).name.substr(0, 6) == "C310.1");
    CHECK(circuit.joint(path.b).name.substr(0, 6) == "C310.3");
    CHECK(problem_of(circuit, "C310 bridge 1-9").message == "'C310.9' is not used here");
}

TEST_CASE("swapped wires exchange the ends at the connector that both touch, else their last-written ends") {
    const Circuit& circuit = cab_blower();
    const auto moves = [](const Circuit& of, const std::string& phrase) {
        const auto changes = fault_of(of, phrase).mode->changes(0, 0.5);
        REQUIRE(changes.size() == 2);
        return std::pair(std::get<MoveEnd>(changes[0]), std::get<MoveEnd>(changes[1]));
    };
    // 541 F7.2 > C101.4 and 555 M1.2 > SP1 share nothing: the last-written ends.
    const auto [first, second] = moves(circuit, "swapped 541 555");
    CHECK(first.branch == circuit.wire(circuit.find_wire("541")).second_half);
    CHECK_FALSE(first.first_end);
    CHECK(first.joint == circuit.wire(circuit.find_wire("555")).to.joint);
    CHECK(second.joint == circuit.wire(circuit.find_wire("541")).to.joint);
    // 557 SP1 > K3.30 and 820a K3.87 > G201 share the relay only.
    const auto [to_relay, from_relay] = moves(circuit, "swapped 557 820a");
    CHECK(to_relay.joint == circuit.wire(circuit.find_wire("820a")).from.joint);
    CHECK(from_relay.first_end);
    CHECK(from_relay.joint == circuit.wire(circuit.find_wire("557")).to.joint);
    CHECK(problem_of(circuit, "swapped 541 541").message == "'541' cannot be swapped with itself");
}

TEST_CASE("cavities and legs belong to what stands before their dot or sign, names that only begin alike do not") {
    CHECK(is_cavity_of("C101.4", "c101"));
    CHECK(is_cavity_of("SP1@555", "SP1"));
    CHECK_FALSE(is_cavity_of("SP12", "SP1"));
    CHECK_FALSE(is_cavity_of("SP1", "SP1"));
}

TEST_CASE("nothing is a fault that changes nothing") {
    const Fault fault = fault_of(cab_blower(), "nothing");
    CHECK(fault.mode->changes(0, 0.5).empty());
    CHECK(fault.mode->place == "nothing");
}

TEST_CASE("a place pattern means any mode there, and a connector any of its cavities") {
    const Circuit& circuit = cab_blower();
    CHECK(matches_place_pattern(circuit, "C101.4", row(circuit, "C101.4 resistance")));
    CHECK(matches_place_pattern(circuit, "C101.4 resistance", row(circuit, "C101.4 resistance")));
    CHECK_FALSE(matches_place_pattern(circuit, "C101.4 open", row(circuit, "C101.4 resistance")));
    CHECK(matches_place_pattern(circuit, "c101", row(circuit, "C101.4 resistance")));
    CHECK(matches_place_pattern(circuit, "C303", row(circuit, "C303.1 open")));
    CHECK(matches_place_pattern(circuit, "R1.1", row(circuit, "C303.1 open")));
    CHECK_FALSE(matches_place_pattern(circuit, "C30", row(circuit, "C303.1 open")));
    CHECK(matches_place_pattern(circuit, "SP1", row(circuit, "SP1@555 open")));
    CHECK(matches_place_pattern(circuit, "R1", row(circuit, "R1 coil 1-2 open")));
    CHECK(matches_place_pattern(circuit, "R1 coil 1-2", row(circuit, "R1 coil 1-2 open")));
    CHECK_FALSE(matches_place_pattern(circuit, "R1", row(circuit, "C303.1 open")));
    CHECK_FALSE(matches_place_pattern(circuit, "K3", row(circuit, "K3.30 open")));
    CHECK(matches_place_pattern(circuit, "K3.30", row(circuit, "K3.30 open")));
    CHECK(matches_any_place_pattern(circuit, "M1 open | C101", row(circuit, "C101.4 open")));
    CHECK_FALSE(matches_any_place_pattern(circuit, "M1 open | C303", row(circuit, "C101.4 open")));
    CHECK(matches_place_pattern(two_controls(), "801", row(two_controls(), "801:2 open")));
}
