// Readings, states and faults with a value that does not read or cannot be, and whose word is blamed for it.
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

/// "message | what stands under the caret".
std::string blamed(const Problem& problem) {
    const auto from = static_cast<std::size_t>(problem.place.column - 1);
    return problem.message + " | " +
           problem.place.text.str().substr(from, static_cast<std::size_t>(problem.place.length));
}

std::string blamed(const std::string& reading) {
    return blamed(problem_of(reading));
}

Problems fault_problems(const std::string& phrase) {
    Problems problems;
    read_fault_phrase(typed(phrase), cab_blower(), problems);
    return problems;
}

std::string fault_blamed(const std::string& phrase) {
    const Problems problems = fault_problems(phrase);
    INFO(phrase);
    REQUIRE(problems.has_errors());
    return blamed(problems.list().front());
}

}  // namespace

TEST_CASE("a reading that no meter shows is refused with what can be") {
    CHECK(blamed("hi M1.1 to B1- 1e154V") ==
          "'1e154V' cannot be the volts of a reading; expected -100V to 100V | 1e154V");
    CHECK(blamed("hi M1.1 to B1- >1e160V") ==
          "'>1e160V' cannot be the volts of a reading; expected -100V to 100V | >1e160V");
    CHECK(blamed("hi M1.1 to B1- 0.1-142V") ==
          "'0.1-142V' cannot be the volts of a reading; expected -100V to 100V | 0.1-142V");
    CHECK(blamed("hi clamp 542 1e9A") == "'1e9A' cannot be the amps of a reading; expected -3000A to 3000A | 1e9A");
    CHECK(blamed("unplug C303 R1.1 to R1.4 1e20ohm") ==
          "'1e20ohm' cannot be the ohms of a reading; expected 0ohm to 1000Mohm | 1e20ohm");
    CHECK(blamed("hi C101 temp -300C") ==
          "'-300C' cannot be the temperature of a reading; expected -60C to 1200C | -300C");
    CHECK(blamed("hi C303.4 hotter C303.3 1e20C") ==
          "'1e20C' cannot be the rise of a reading; expected -1200C to 1200C | 1e20C");
    CHECK(measured<VoltsReading>("hi M1.1 to B1- -0.02V").value.low == Approx(-0.02));
    CHECK(measured<HeatReading>("hi C101 rise -5C").value.low == Approx(-5));
}

TEST_CASE("a value of a reading that does not read is blamed as it was typed") {
    // In the hand a bare number may be ohms or volts; on the vehicle it is volts.
    CHECK(blamed("unplug C303 R1.1 to R1.4 12,3") == "'12,3' has no unit | 12,3");
    CHECK(problem_of("unplug C303 R1.1 to R1.4 12,3").suggestion == "write 12,3V");
    CHECK(measured<VoltsReading>("hi M1.1 to B1- 12,3").value.low == Approx(12.3));
    CHECK(blamed("hi M1.1 to B1- 12X") == "'12X' is no figure: 'X' is no unit | 12X");
    CHECK(blamed("unplug C303 R1.1 to R1.4 36ohn") == "'36ohn' is no figure: 'ohn' is no unit | 36ohn");
    CHECK(problem_of("unplug C303 R1.1 to R1.4 36ohn").suggestion == "did you mean 36ohm?");
    CHECK(blamed("unplug C303 R1.1 to R1.4 -5ohm") == "'-5ohm' must not be below zero | -5ohm");
    CHECK(blamed("hi M1.1 to B1- 1e400V") == "'1e400V' is no number that can be read | 1e400V");
}

TEST_CASE("a load with a word that is none of a load blames the word") {
    CHECK(
        blamed("hi blower backwards") ==
        "'backwards' is no word of a load: dead, slow, normal, fast, runs, weak, hums, squeals, erratic, glows or ok | "
        "backwards");
    CHECK(problem_of("hi blower slwo").suggestion == "did you mean 'slow'?");
    CHECK(problem_of("hi blower").message == "the word of a load is missing behind 'hi blower'");
    CHECK(problem_of("hi M1 12V").suggestion == "write hi C304.1 12V, or hi C304.2 12V, or hi M1.1 to M1.2 12V");
}

TEST_CASE("watts and times of a state that do not read or cannot be are one error each") {
    const auto only = [](const std::string& phrase) {
        Problems problems;
        const auto state = read_state_phrase(typed(phrase), cab_blower(), problems);
        INFO(phrase << "\n" << all_problems(problems));
        REQUIRE_FALSE(state);
        REQUIRE(problems.list().size() == 1);
        return blamed(problems.list().front());
    };
    CHECK(only("load 55X M1.1 to B1-") == "'55X' is no figure: 'X' is no unit | 55X");
    CHECK(only("load 55V M1.1 to B1-") == "'55V' is not in W | 55V");
    CHECK(only("load 0W M1.1 to B1-") == "'0W' must be more than zero | 0W");
    CHECK(only("load 1e20W M1.1 to B1-") == "'1e20W' cannot be the load of a reading; expected 0.1W to 10000W | 1e20W");
    CHECK(only("after 10mim") == "'10mim' is no figure: 'mim' is no unit | 10mim");
    CHECK(only("after -10min") == "'-10min' must not be below zero | -10min");
    CHECK(only("after 1e20min") == "'1e20min' cannot be the time of a reading; expected 0s to 10080min | 1e20min");
    CHECK(blamed("fuse F7 blown at hi after 2mon") == "'2mon' is no figure: 'mon' is no unit | 2mon");
}

TEST_CASE("a size of a fault that does not read or cannot be is refused") {
    CHECK(fault_blamed("C101.4 resistance 0.3ohn") == "'0.3ohn' is no figure: 'ohn' is no unit | 0.3ohn");
    CHECK(fault_blamed("542 chafe 1e-30ohm") ==
          "'1e-30ohm' cannot be the ohms of a fault; expected 0.001mohm to 1000Mohm | 1e-30ohm");
    CHECK(fault_blamed("C101.4 resistance 1e20ohm") == "'1e20ohm' is as good as open | 1e20ohm");
    CHECK(fault_blamed("M1 drag 0.2") == "'0.2' cannot be the drag factor of a fault; expected 1 to 100 | 0.2");
    CHECK(fault_blamed("M1 drag 1e20") == "'1e20' cannot be the drag factor of a fault; expected 1 to 100 | 1e20");
    CHECK(fault_blamed("F7 rating 1e9A") == "'1e9A' cannot be the amps of a fault; expected 50mA to 1000A | 1e9A");
    CHECK(fault_blamed("B1 weak 1e9V") == "'1e9V' cannot be the volts of a fault; expected 0.1V to 60V | 1e9V");
}

TEST_CASE("a resistance without ohms says what is taken for them") {
    const Problems problems = fault_problems("C101.4 resistance when hot");
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list().front().severity == Severity::warning);
    CHECK(problems.list().front().message == "'C101.4 resistance' says no ohms; 0.3ohm is taken");
    CHECK(problems.list().front().suggestion == "write C101.4 resistance 0.3ohm");
    CHECK(fault_problems("C101.4 resistance 0.3ohm").empty());
}
