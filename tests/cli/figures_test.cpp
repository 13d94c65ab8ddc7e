#include "cli/views/figures.hpp"

#include <cmath>
#include <limits>

#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("probabilities have two figures at most") {
    CHECK(probability_words(0.0) == "less than 1 in 100");
    CHECK(probability_words(0.0099) == "less than 1 in 100");
    CHECK(probability_words(0.032) == "about 3 in 100");
    CHECK(probability_words(0.094) == "about 9 in 100");
    CHECK(probability_words(0.1) == "about 1 in 10");
    CHECK(probability_words(0.72) == "about 7 in 10");
    CHECK(probability_words(0.93) == "about 9 in 10");
    CHECK(probability_words(0.97) == "about 97 in 100");
    CHECK(probability_words(0.999) == "more than 99 in 100");
    CHECK(probability_words(std::numeric_limits<double>::quiet_NaN()) == "less than 1 in 100");
}

TEST_CASE("numbers for programs keep twelve digits and no negative zero") {
    CHECK(plain_number(0.1 + 0.2) == "0.3");
    CHECK(plain_number(13.570000000000432) == "13.57");
    CHECK(plain_number(-0.0) == "0");
    CHECK(plain_number(std::numeric_limits<double>::quiet_NaN()).empty());
    CHECK(twelve_digits(1.0 / 3.0) == 0.333333333333);
}

TEST_CASE("text shows what a meter shows") {
    CHECK(shown_volts(13.5678) == "13.57");
    CHECK(shown_volts(-0.0001) == "0.00");
    CHECK(shown_amps(20.16) == "20.2");
    CHECK(shown_rpm(3514.7) == "3515");
}

TEST_CASE("times are written with the unit that suits them") {
    CHECK(shown_seconds(0.0042) == "0.004 s");
    CHECK(shown_seconds(0.18) == "0.18 s");
    CHECK(shown_seconds(2.34) == "2.3 s");
    CHECK(shown_seconds(45.2) == "45 s");
    CHECK(shown_seconds(210) == "3.5 min");
    CHECK(shown_seconds(3 * 3600) == "3.0 h");
    CHECK(shown_minutes(25) == "25 min");
    CHECK(shown_minutes(2.5) == "2.5 min");
}

TEST_CASE("sizes have two figures and one unit where they share it") {
    CHECK(shown_size(0.3, Unit::ohm) == "0.3 ohm");
    CHECK(shown_size(0.0213, Unit::ohm) == "21 mohm");
    CHECK(shown_size(1.4, Unit::none) == "1.4");
    CHECK(shown_range(0.27, 0.34, Unit::ohm) == "0.27 to 0.34 ohm");
    CHECK(shown_range(0.3, 0.3, Unit::ohm) == "0.3 ohm");
    CHECK(shown_range(0.02, 0.3, Unit::ohm) == "20 mohm to 0.3 ohm");
}

TEST_CASE("long lists are cut and say how to see the rest") {
    CHECK(name_list({"a", "b", "c"}, 5) == "a, b, c");
    CHECK(name_list({"a", "b", "c"}, 2) == "a, b and 1 more: --top 3");
    CHECK(more_line(12, 17) == "12 more: --top 17");
    CHECK(counted(1, "wire") == "1 wire");
    CHECK(counted(2, "branch") == "2 branches");
}
