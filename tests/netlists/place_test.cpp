// Places: what is read is written back the same.
#include "netlists/circuit/place.hpp"

#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::two_controls;

TEST_CASE("a place is an owner, a cavity and a half") {
    const Place whole = read_place("C101");
    CHECK(whole.owner == "C101");
    CHECK((whole.cavity.empty() && whole.half.empty()));
    const Place cavity = read_place("C101.4");
    CHECK((cavity.owner == "C101" && cavity.cavity == "4" && cavity.half.empty()));
    const Place half = read_place("C101.4@541");
    CHECK((half.owner == "C101" && half.cavity == "4" && half.half == "541"));
    const Place leg = read_place("SP1@801:2");
    CHECK((leg.owner == "SP1" && leg.cavity.empty() && leg.half == "801:2"));
    CHECK(write_place(half) == "C101.4@541");
    CHECK(write_place(half.without_half()) == "C101.4");
    CHECK(write_place(leg.without_half()) == "SP1");
}

TEST_CASE("a battery's posts are names, other terminals stand behind a point") {
    CHECK(write_terminal("B1", "+") == "B1+");
    CHECK(write_terminal("B1", "-") == "B1-");
    CHECK(write_terminal("M1", "1") == "M1.1");
}

TEST_CASE("what lies within a place") {
    CHECK(is_cavity_of("C101.4", "C101"));
    CHECK(is_cavity_of("c101.4@541", "C101.4"));
    CHECK(is_cavity_of("SP1@541", "SP1"));
    CHECK_FALSE(is_cavity_of("C1010.4", "C101"));
    CHECK_FALSE(is_cavity_of("C101.41", "C101.4"));
    CHECK_FALSE(is_cavity_of("C101", "C101.4"));
    CHECK_FALSE(is_cavity_of("C101", "C101"));
}

TEST_CASE("every place of a circuit is read and written back the same") {
    for (const Circuit* circuit : {&cab_blower(), &two_controls()}) {
        REQUIRE_FALSE(circuit->modes.empty());
        for (const ModePtr& mode : circuit->modes) CHECK(write_place(read_place(mode->place)) == mode->place);
        for (const Branch& branch : circuit->branches) CHECK(write_place(read_place(branch.place)) == branch.place);
        for (const Joint& joint : circuit->joints) {
            CHECK(write_place(read_place(joint.name)) == joint.name);
            for (const std::string& alias : joint.aliases) CHECK(write_place(read_place(alias)) == alias);
        }
    }
}

TEST_CASE("a fault knows the part that it sits in or at") {
    const Circuit& cab = cab_blower();
    std::size_t at_plugs = 0;
    for (const ModePtr& mode : cab.modes) {
        INFO(mode->phrase());
        CHECK(mode->part == cab.part_at(mode->place));
        const bool of_wire = cab.find_wire(mode->place).valid();
        CHECK(mode->part.valid() != of_wire);
        at_plugs += mode->part.valid() && read_place(mode->place).owner == cab.part(mode->part).plug;
    }
    CHECK(at_plugs > 4);
}
