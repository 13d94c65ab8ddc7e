// Quantities, problems and suggestions: what a person types.
#include <cmath>
#include <memory>
#include <random>

#include "netlists/text/characters.hpp"
#include "netlists/text/problem.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

void check_measure(const std::string& typed, double value, Unit unit) {
    INFO(typed);
    const auto measure = parse_measure(typed);
    REQUIRE(measure);
    CHECK(measure->value == Approx(value).epsilon(1e-12).margin(1e-15));
    CHECK(measure->unit == unit);
}

double digit_of(const std::string& typed) {
    INFO(typed);
    const auto measure = parse_measure(typed);
    REQUIRE(measure);
    return measure->last_digit;
}

}  // namespace

TEST_CASE("a number with its unit is read into SI") {
    check_measure("13.8V", 13.8, Unit::volt);
    check_measure("50mV", 0.05, Unit::volt);
    check_measure("40A", 40, Unit::ampere);
    check_measure("5mA", 0.005, Unit::ampere);
    check_measure("90ohm", 90, Unit::ohm);
    check_measure("8mohm", 0.008, Unit::ohm);
    check_measure("10kohm", 1e4, Unit::ohm);
    check_measure("1Mohm", 1e6, Unit::ohm);
    check_measure("250W", 250, Unit::watt);
    check_measure("1.2kW", 1200, Unit::watt);
    check_measure("180ms", 0.18, Unit::second);
    check_measure("12s", 12, Unit::second);
    check_measure("25min", 1500, Unit::second);
    check_measure("2h", 7200, Unit::second);
    check_measure("121C", 121, Unit::celsius);
    check_measure("250F", (250 - 32) * 5.0 / 9, Unit::celsius);
    check_measure("1.4m", 1.4, Unit::metre);
    check_measure("12in", 0.3048, Unit::metre);
    check_measure("3ft", 0.9144, Unit::metre);
    check_measure("2.5mm2", 2.5, Unit::square_millimetre);
    check_measure("2.0bar", 2e5, Unit::pascal);
    check_measure("30psi", 206842.71879505083, Unit::pascal);
    check_measure("196kPa", 196000, Unit::pascal);
    check_measure("3.14MPa", 3.14e6, Unit::pascal);
    check_measure("3500rpm", 3500, Unit::rpm);
    check_measure("60%", 0.6, Unit::percent);
    check_measure("400Hz", 400, Unit::hertz);
    check_measure("10kgcm2", 1e-3, Unit::inertia);
    check_measure("0.8e-3kgm2", 0.8e-3, Unit::inertia);
    check_measure("150uH", 150e-6, Unit::henry);
    check_measure("8way", 8, Unit::way);
    check_measure("8-way", 8, Unit::way);
    check_measure("1.4", 1.4, Unit::none);
    check_measure(".5V", 0.5, Unit::volt);
    check_measure("1e3ohm", 1000, Unit::ohm);
}

TEST_CASE("signs of other keyboards are read") {
    check_measure("90Ω", 90, Unit::ohm);
    check_measure("90\u2126", 90, Unit::ohm);
    check_measure("8mΩ", 0.008, Unit::ohm);
    check_measure("10kΩ", 1e4, Unit::ohm);
    check_measure("1MΩ", 1e6, Unit::ohm);
    check_measure("20µs", 2e-5, Unit::second);
    check_measure("20μs", 2e-5, Unit::second);
    check_measure("121°C", 121, Unit::celsius);
    check_measure("250°F", (250 - 32) * 5.0 / 9, Unit::celsius);
    check_measure("2.5mm²", 2.5, Unit::square_millimetre);
    check_measure("2,5mm2", 2.5, Unit::square_millimetre);
    check_measure("12,6V", 12.6, Unit::volt);
    CHECK_FALSE(parse_measure("°"));
    CHECK_FALSE(parse_measure("12°V"));
}

TEST_CASE("wire gauges are read with their aughts") {
    check_measure("16AWG", 16, Unit::awg);
    check_measure("16ga", 16, Unit::awg);
    check_measure("16gauge", 16, Unit::awg);
    check_measure("0AWG", 0, Unit::awg);
    check_measure("00AWG", -1, Unit::awg);
    check_measure("000AWG", -2, Unit::awg);
    check_measure("0000AWG", -3, Unit::awg);
    check_measure("1/0AWG", 0, Unit::awg);
    check_measure("4/0ga", -3, Unit::awg);
    CHECK_FALSE(parse_measure("16.5AWG"));
    CHECK_FALSE(parse_measure("5/0AWG"));
    CHECK_FALSE(parse_measure("00000AWG"));
    CHECK_FALSE(parse_measure("500AWG"));
}

TEST_CASE("case matters where milli and mega would change places, nowhere else") {
    check_measure("12v", 12, Unit::volt);
    check_measure("40a", 40, Unit::ampere);
    check_measure("90OHM", 90, Unit::ohm);
    check_measure("90Ohm", 90, Unit::ohm);
    check_measure("16awg", 16, Unit::awg);
    check_measure("3500RPM", 3500, Unit::rpm);
    check_measure("1MOhm", 1e6, Unit::ohm);
    // No wire is megametres long.
    check_measure("2.5MM2", 2.5, Unit::square_millimetre);
    check_measure("5M", 5, Unit::metre);
    for (const char* unclear : {"5MV", "5MA", "5MOHM", "5mPa", "5Ms"}) {
        INFO(unclear);
        CHECK_FALSE(parse_measure(unclear));
    }
}

TEST_CASE("what is not one finite number with one unit is refused") {
    for (const char* wrong :
         {"",     "V",    "1.5V.", "1.5.2V", "5.V",   "0x10", "0x10V", "1e400", "1e400V", "1e308kohm", "nan", "inf",
          "infV", "-inf", "1.4x",  "12VA",   "12 V",  " 12V", "12V ",  "5e",    "1,5",    "1,V",       ",5V", "1,2,3V",
          "--5V", "+-5V", "-5ohm", "-5",     "K3.87", "1-2",  "3-19A", ">10V",  "~12V",   "5\xFFV"}) {
        INFO(wrong);
        CHECK_FALSE(parse_measure(wrong));
    }
    CHECK_FALSE(parse_measure("3,500rpm"));  // 3.5 or 3500
    check_measure("0,125V", 0.125, Unit::volt);
    check_measure("-0.5V", -0.5, Unit::volt);
    check_measure("+14V", 14, Unit::volt);
    check_measure("-40C", -40, Unit::celsius);
}

TEST_CASE("the last typed digit is known in SI") {
    CHECK(digit_of("12.60V") == Approx(0.01));
    CHECK(digit_of("12,6V") == Approx(0.1));
    CHECK(digit_of("8mohm") == Approx(0.001));
    CHECK(digit_of("40A") == Approx(1));
    CHECK(digit_of("2min") == Approx(60));
    CHECK(digit_of("60%") == Approx(0.01));
    CHECK(digit_of("1.25e3ohm") == Approx(10));
    CHECK(digit_of("68F") == Approx(5.0 / 9));
}

TEST_CASE("quantities are written as people type them") {
    CHECK(write_measure(0.3, Unit::ohm) == "0.3ohm");
    CHECK(write_measure(0.02, Unit::ohm) == "20mohm");
    CHECK(write_measure(0.1, Unit::ohm) == "0.1ohm");
    CHECK(write_measure(1e4, Unit::ohm) == "10kohm");
    CHECK(write_measure(1e6, Unit::ohm) == "1Mohm");
    CHECK(write_measure(0, Unit::ohm) == "0ohm");
    CHECK(write_measure(0.05, Unit::volt) == "0.05V");
    CHECK(write_measure(-12.6, Unit::volt) == "-12.6V");
    CHECK(write_measure(20, Unit::ampere) == "20A");
    CHECK(write_measure(0.05, Unit::ampere) == "50mA");
    CHECK(write_measure(0.18, Unit::second) == "180ms");
    CHECK(write_measure(12, Unit::second) == "12s");
    CHECK(write_measure(120, Unit::second) == "2min");
    CHECK(write_measure(0.6, Unit::percent) == "60%");
    CHECK(write_measure(0.07, Unit::percent) == "7%");
    CHECK(write_measure(1.4, Unit::none) == "1.4");
    CHECK(write_measure(100, Unit::none) == "100");
    CHECK(write_measure(196000, Unit::pascal) == "1.96bar");
    CHECK(write_measure(-3, Unit::awg) == "0000AWG");
    CHECK(write_measure(0, Unit::awg) == "0AWG");
    CHECK(write_measure(1.0 / 3, Unit::metre) == "0.333333m");
    CHECK(write_fixed(-0.001, 2) == "0.00");
    CHECK(write_fixed(-1.005, 1) == "-1.0");
    CHECK(write_fixed(12.6, 2) == "12.60");
    CHECK(write_fixed(1e300, 0).size() == 301);
}

TEST_CASE("what is written reads back the same to six digits") {
    std::mt19937 random(20);
    std::uniform_real_distribution<double> exponent(-6, 8);
    for (const Unit unit :
         {Unit::none, Unit::volt, Unit::ampere, Unit::ohm, Unit::watt, Unit::second, Unit::celsius, Unit::metre,
          Unit::square_millimetre, Unit::pascal, Unit::rpm, Unit::percent, Unit::hertz, Unit::inertia, Unit::henry}) {
        for (int i = 0; i < 500; ++i) {
            const double value = std::pow(10.0, exponent(random));
            const std::string text = write_measure(value, unit);
            INFO(text);
            const auto back = parse_measure(text);
            REQUIRE(back);
            CHECK(back->unit == unit);
            CHECK(std::abs(back->value - value) <= 5.0001e-6 * value);
            CHECK(write_measure(back->value, unit) == text);
        }
    }
    for (int gauge = -3; gauge <= 40; ++gauge) {
        const auto back = parse_measure(write_measure(gauge, Unit::awg));
        REQUIRE(back);
        CHECK(back->value == gauge);
    }
}

TEST_CASE("problems are ordered by place and keep the order of equal places") {
    Problems problems;
    problems.error(ProblemCode::unknown_part, {"b.toml", 1, 1, 1, ""}, "third");
    problems.warning(ProblemCode::unknown_part, {"a.toml", 9, 2, 1, ""}, "second, first said");
    problems.note(ProblemCode::unknown_part, {"a.toml", 9, 2, 1, ""}, "second, then said");
    problems.warning(ProblemCode::unknown_part, {"a.toml", 2, 30, 1, ""}, "first");
    problems.sort();
    CHECK(problems.list()[0].message == "first");
    CHECK(problems.list()[1].message == "second, first said");
    CHECK(problems.list()[2].message == "second, then said");
    CHECK(problems.list()[3].message == "third");
    CHECK(problems.has_errors());
    Problems mild;
    mild.warning(ProblemCode::unknown_part, {}, "only a warning");
    CHECK_FALSE(mild.has_errors());
    mild.add_all(problems);
    CHECK(mild.list().size() == 5);
    CHECK(mild.has_errors());
    CHECK(severity_name(Severity::note) == "note");
}

TEST_CASE("a message is one line whatever text over several lines it quotes") {
    Problems problems;
    problems.error(ProblemCode::unknown_word, {}, "'a\r\nb' is not known");
    CHECK(problems.list().front().message == "'a  b' is not known");
}

TEST_CASE("the nearest known word is suggested") {
    const std::vector<std::string> kinds{"battery", "fuse", "motor", "switch", "relay", "connector", "hi", "lo", "m1"};
    CHECK(nearest("fuze", kinds) == "fuse");
    CHECK(nearest("BATERY", kinds) == "battery");
    CHECK(nearest("swicth", kinds) == "switch");
    CHECK(nearest("conector", kinds) == "connector");
    CHECK(nearest("m2", kinds) == "m1");
    CHECK(nearest("xy", kinds).empty());
    CHECK(nearest("transmission", kinds).empty());
    CHECK(nearest("", kinds).empty());
    CHECK(nearest(std::string(100000, 'x'), kinds).empty());
    CHECK(did_you_mean("rellay", kinds) == "did you mean 'relay'?");
    CHECK(did_you_mean("xyzzy", kinds).empty());
    CHECK(nearest("ab", std::vector<std::string>{"ac", "ad"}) == "ac");  // ties go to the first
}

TEST_CASE("edit distance is a distance, and a swap counts once") {
    CHECK(edit_distance("switch", "swicth") == 1);
    CHECK(edit_distance("", "fuse") == 4);
    CHECK(edit_distance("Fuse", "fuse") == 0);
    CHECK(edit_distance("ca", "abc") == 3);  // optimal string alignment edits no part twice
    std::mt19937 random(3);
    const auto word = [&random] {
        std::string text;
        const std::size_t length = random() % 7;
        for (std::size_t i = 0; i < length; ++i) text += static_cast<char>('a' + random() % 3);
        return text;
    };
    for (int i = 0; i < 2000; ++i) {
        const std::string a = word();
        const std::string b = word();
        const std::size_t distance = edit_distance(a, b);
        CHECK(distance == edit_distance(b, a));
        CHECK((distance == 0) == (a == b));
        CHECK(distance <= std::max(a.size(), b.size()));
        CHECK(distance + std::min(a.size(), b.size()) >= std::max(a.size(), b.size()));
        CHECK(edit_distance(a + "x", b + "x") == distance);
        // A limit changes nothing below it, and is passed where the words differ by more.
        for (std::size_t most = 0; most < 8; ++most)
            CHECK(std::min(edit_distance_within(a, b, most), most + 1) == std::min(distance, most + 1));
    }
}

TEST_CASE("what a terminal would obey is shown by its number") {
    CHECK(visible("M1 \x1b[31mred") == "M1 \\x1B[31mred");
    CHECK(visible("a\u009b31m") == "a\\u009B31m");  // CSI as one character, ECMA-48 5.3
    CHECK(visible("a\u202eb\u2028c") == "a\\u202Eb\\u2028c");
    CHECK(visible("a\xff\xc3") == "a\\xFF\\xC3");
    CHECK(visible("a\tb\nc \u03a9 \U0001F600") == "a b\nc \u03a9 \U0001F600");
}

TEST_CASE("names hold letters and digits of any script and three signs, no emoji, marks or blanks") {
    for (const char* name : {"M1", "SP0", "C101-4", "A/C_2", "T\u00fcr1", "\u041a3", "\u96fb1"}) CHECK(is_name(name));
    for (const char* text :
         {"", "M 1", "M1.2", "M1\u200b", "M1\u200f", "\U0001F600", "M1\u2192", "M1\x07", "M1\xff", "\u00d7"}) {
        INFO(text);
        CHECK_FALSE(is_name(text));
    }
}

TEST_CASE("wide forms, marks and blanks are look-alikes of what they are read as") {
    CHECK(look_alike(0xFF14)->plain == '4');
    CHECK(look_alike(0x200F)->plain == 0);
    CHECK(look_alike(0x2003)->plain == ' ');
    CHECK(look_alike(0x2033)->plain == '"');
    CHECK(look_alike(U'4') == nullptr);
    CHECK(look_alike(0x03A9) == nullptr);
}

TEST_CASE("a place in a text of several runs stands where its character was typed") {
    SourcePlace place{"a.toml", 3, 9, 5, "first"};
    place.runs =
        std::make_shared<const std::vector<TypedRun>>(std::vector<TypedRun>{{0, 3, 9, "first"}, {5, 4, 3, "second"}});
    CHECK(place.shifted(4, 1).line == 3);
    CHECK(place.shifted(4, 1).column == 13);
    CHECK(place.shifted(5, 1).line == 4);
    CHECK(place.shifted(5, 1).column == 3);
    CHECK(place.shifted(5, 1).shifted(2, 1).column == 5);
    CHECK(place.shifted(7, 1).text == "second");
}

TEST_CASE("beyond the first ones problems are counted, and an error among them still counts") {
    Problems problems;
    for (std::size_t i = 0; i < Problems::most_kept + 12; ++i) problems.warning(ProblemCode::missing_length, {}, "w");
    CHECK_FALSE(problems.has_errors());
    problems.error(ProblemCode::unknown_part, {}, "e");
    CHECK(problems.has_errors());
    CHECK(problems.list().size() == Problems::most_kept + 1);
    CHECK(problems.told().back().message == "and 12 more");
    CHECK(problems.told().back().severity == Severity::note);
    Problems all;
    all.add_all(problems);
    all.add_all(problems);
    CHECK(all.told().back().message == "and 224 more");
}
