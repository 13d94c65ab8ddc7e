// Lines of parts with a figure that does not read or cannot be, half a phrase, or a word that no set has; and good
// lines that look like such.
#include <string>
#include <vector>

#include "tests/netlists/circuit_texts.hpp"

using namespace voltfall;

namespace {

/// A sound circuit with one more part, whose line is under test.
std::string with_line(const std::string& line) {
    return small("M1 = \"motor 20A\"\nX = \"" + line + "\"", "1 = \"F7.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > 31 6mm2 1m\"");
}

/// A sound circuit whose battery's line is under test.
std::string with_battery(const std::string& line) {
    return replaced(with_line("lamp 5W"), "battery 12.6V 8mohm", line);
}

struct Case {
    std::string line;
    std::string under;
    std::string message;
    std::string suggestion;
};

void check_cases(const std::vector<Case>& cases, std::string (*text)(const std::string&) = with_line) {
    for (const Case& wrong : cases) {
        INFO(wrong.line);
        const Problem problem = only_error(text(wrong.line), wrong.under);
        CHECK(problem.message == wrong.message);
        CHECK(problem.suggestion.find(wrong.suggestion) != std::string::npos);
        CHECK_FALSE(problem.suggestion.empty());
    }
}

}  // namespace

TEST_CASE("a mistyped unit is an error at its number, never the default") {
    check_cases({
        {"clutch 36ohn", "36ohn", "'36ohn' is no figure: 'ohn' is no unit", "did you mean 36ohm?"},
        {"lamp 21X", "21X", "'21X' is no figure: 'X' is no unit", "lamp 21W"},
        {"diode 3X", "3X", "'3X' is no figure: 'X' is no unit", "diode"},
        {"fuse 40X maxi", "40X", "'40X' is no figure: 'X' is no unit", "fuse 40A maxi"},
        {"fuse 40V maxi", "40V", "'40V' is in the wrong unit; expected rated amps in A", "fuse 40A maxi"},
        {"motor 20A @13.5X", "@13.5X", "'@13.5X' is no figure: 'X' is no unit", "@13.5V"},
        {"motor 20A, 3500rmp", "3500rmp", "'3500rmp' is no figure: 'rmp' is no unit", "did you mean 3500rpm?"},
        {"relay 40A, coil 90ohn", "90ohn", "'90ohn' is no figure: 'ohn' is no unit", "did you mean 90ohm?"},
        {"pack 1 1.2ohn 2", "1.2ohn", "'1.2ohn' is no figure: 'ohn' is no unit", "did you mean 1.2ohm?"},
        {"pack 1 1.2ohm 2, limiter 121X", "121X", "'121X' is no figure: 'X' is no unit", "limiter 121C"},
        {"contact opens 1.96bra", "1.96bra", "'1.96bra' is no figure: 'bra' is no unit", "did you mean 1.96bar?"},
        {"resistor 1e400ohm", "1e400ohm", "'1e400ohm' is no number that can be read", "resistor 0.6ohm"},
    });
    check_cases({{"battery 13X", "13X", "'13X' is no figure: 'X' is no unit", "battery 12.6V"}}, with_battery);
}

TEST_CASE("a number cut by a comma is blamed as it was typed") {
    check_cases({{"battery 12,3 8mohm", "12,3", "'12,3' has no unit", "battery 12.6V"}}, with_battery);
    check_cases({{"relay 40A, coil 90,5", "90,5", "'90,5' has no unit", "coil 90ohm"}});
}

TEST_CASE("a figure of the wrong sign or size is an error with the range that can be") {
    check_cases(
        {
            {"battery 0V", "0V", "'0V' must be more than zero", "the rest volts of a battery: 3V to 60V"},
            {"battery 1260V", "1260V", "'1260V' cannot be the rest volts of a battery; expected 3V to 60V", "12.6V"},
            {"battery 12.6V -800mohm", "-800mohm", "'-800mohm' must not be below zero", "write 800mohm"},
            {"battery 12.6V 8mohm, charging -14V", "-14V", "'-14V' must be more than zero", "charging volts"},
        },
        with_battery);
    check_cases({
        {"lamp -21W", "-21W", "'-21W' must not be below zero", "write 21W"},
        {"lamp 0W", "0W", "'0W' must be more than zero", "0.01W to 1000W"},
        {"relay 40A, coil -80ohm", "-80ohm", "'-80ohm' must not be below zero", "write 80ohm"},
        {"clutch 3.6ohm 150%", "150%", "'150%' cannot be the tolerance; expected 0% to 100%", "clutch 3.6ohm"},
        {"contact opens -300C", "-300C", "'-300C' cannot be the figure 'opens' of a contact; expected -60C to 500C",
         "contact opens"},
        {"pack 1 1.2ohm 2, limiter -300C", "-300C", "'-300C' must be more than zero", "40C to 500C"},
        {"connector 0 way", "0 way", "'0way' must be more than zero", "connector bulkhead, 8 way"},
        {"connector 2.5 way", "2.5 way", "'2.5way' must be a whole number", "connector bulkhead, 8 way"},
        {"motor 20A, stall 1e154A", "1e154A", "'1e154A' cannot be the stall amps of a motor; expected 20mA to 10000A",
         "stall 80A"},
        {"link 16AWG 1e-20m", "1e-20m", "'1e-20m' cannot be the length of a link; expected 0.005m to 20m", "0.2m"},
    });
}

TEST_CASE("half a phrase of a part is an error at the half that stands") {
    check_cases({
        {"motor 20A @", "@", "'@' has no volts behind it", "@13.5V"},
        {"motor 20A, stall", "stall", "'stall' has no figure behind it; expected stall amps in A", "stall 80A"},
        {"relay 40A, coil", "coil", "'coil' has no figure behind it; expected coil ohms in ohm", "coil 90ohm"},
        {"splice, contact", "contact", "'contact' has no figure behind it; expected contact ohms in ohm", "splice"},
        {"switch C: off hi=4+", "hi=4+", "a '+' of position 'hi=4+' joins nothing", "hi=4+5"},
        {"pack 1 1.2ohm 2, limiter 121C at", "at", "no tap stands behind 'at' in 'X'", "limiter 121C at 2"},
        {"contact normally", "", "'X': normally what?", "normally open"},
        {"fuse 40A maxi, feed", "feed", "'feed' of 'X' must be 30 (always live) or 15 (live with the key on)",
         "feed 30"},
        {"fuse 40A maxi, feed 31", "31",
         "'feed' of 'X' must be 30 (always live) or 15 (live with the key on), not '31'", "feed 30"},
    });
}

TEST_CASE("a word that a closed set does not have is an error with the set or the nearest of it") {
    check_cases({
        {"fuse 40A slow", "slow", "'slow' is not known in the line of a fuse", "mini, regular, maxi, cartridge, glass"},
        {"fuse 40A midi", "midi", "'midi' is not known in the line of a fuse", "did you mean 'mini'?"},
        {"fuse 40A maxi left box", "left", "'left' is not known in the line of a fuse", "behind a comma"},
        {"fuse 40A maxi mini", "mini", "'mini' is one word too many in the line of 'X'", "say it once"},
        {"breaker 30A auto", "auto", "'auto' is not known in the line of a breaker", "resets, manual"},
        {"breaker 30A, reset", "reset", "'reset' is not known in the line of a breaker", "did you mean 'resets'?"},
        {"relay 40A, koil 90ohm", "koil", "'koil' is not known in the line of a relay", "did you mean 'coil'?"},
        {"fuse 40A maxi, fed 30", "fed", "'fed' is not known in the line of a fuse", "did you mean 'feed'?"},
        {"contact normally opne", "opne", "'opne' is not known in the line of a contact", "did you mean 'open'?"},
        {"motor 20A, stall 80A stall 90A", "stall", "'stall' is one word too many in the line of 'X'", "say it once"},
        {"key: off onn=15", "onn=15", "key position 'onn' is not one of off, acc, on, run, start",
         "did you mean 'on'?"},
    });
}

TEST_CASE("a tap, a limiter or a contact named twice, and a contact onto the common, are errors") {
    check_cases({
        {"pack 1 1.2ohm 2 0.7ohm 1", "1", "tap '1' of 'X' stands twice", "a name of its own"},
        {"pack 1 1.2ohm 2, limiter 121C at 2, limiter 140C at 2", "limiter", "two limiters of 'X' stand at tap '2'",
         "a tap of its own"},
        {"switch C: off m1=1 M1=2", "M1=2", "position 'M1' of 'X' stands twice", "each position once"},
        {"switch C: off hi=4+4", "hi=4+4", "'hi=4+4' names contact '4' twice", "once"},
        {"switch C: off lo=C", "lo=C", "'lo=C' closes the common terminal onto itself", "closes to C"},
        {"key: off on=30", "on=30", "'on=30' closes the common terminal onto itself", "closes to 30"},
    });
}

TEST_CASE("text of the user's own may hold digits and words of the trade where it may stand") {
    const auto print_of = [](const std::string& line) {
        const auto circuit = read_good(with_line(line));
        return circuit->part(circuit->find_part("X")).print;
    };
    CHECK(print_of("splice, below fuse 8") == "below fuse 8");
    CHECK(print_of("splice below fuse 8") == "below fuse 8");
    CHECK(print_of("splice, 30cm from C205") == "30cm from C205");
    CHECK(print_of("ground stud 8mm") == "stud 8mm");
    CHECK(print_of("ground contact plate") == "contact plate");
    CHECK(print_of("ground contact plate, contact 3mohm") == "contact plate");
    CHECK(print_of("connector fuse box feed, 2 way") == "fuse box feed");
    CHECK(print_of("connector fuse box feed 2 way") == "fuse box feed");
    CHECK(print_of("lamp 5W, left of the 2nd step") == "left of the 2nd step");
    CHECK(print_of("motor 8A @ 13.5V, 2400rpm, stall 32A, right") == "right");
    CHECK(print_of("relay 40A, coil 90ohm, dash 2") == "dash 2");
}
