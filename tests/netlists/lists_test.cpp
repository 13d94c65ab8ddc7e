// Words in a row, blanks at the ends, rows of values, digits, sets.
#include <array>
#include <limits>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/digits.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

TEST_CASE("words are listed as a sentence lists them") {
    CHECK(joined(std::vector<std::string>{}).empty());
    CHECK(joined(std::vector<std::string>{"lo"}) == "lo");
    CHECK(joined(std::array<std::string_view, 2>{"lo", "ml"}) == "lo and ml");
    CHECK(joined(std::vector<std::string>{"lo", "ml", "mh"}) == "lo, ml and mh");
    CHECK(joined(std::vector<std::string>{"lo", "ml", "mh"}, " or ") == "lo, ml or mh");
    CHECK(joined(std::vector<std::string>{"lo", "ml", "mh"}, ", ") == "lo, ml, mh");
}

TEST_CASE("blanks at both ends are left out, those inside stay") {
    CHECK(trimmed("  hi  M1.1 \t\r") == "hi  M1.1");
    CHECK(trimmed(" \t ").empty());
    CHECK(trimmed(std::u32string_view(U" key ")) == U"key");
}

TEST_CASE("a row of values is read back as it was written (RFC 4180)") {
    const std::vector<std::string> fields = {"plain", "with, comma", "a \"quoted\" word", "", "25"};
    const std::string line = csv_line(fields);
    CHECK(line == "plain,\"with, comma\",\"a \"\"quoted\"\" word\",,25\n");
    const std::vector<CsvRow> rows = cut_csv(
        "\xEF\xBB\xBF"
        "name\r\n\n" +
        line);
    REQUIRE(rows.size() == 2);
    CHECK(rows[0].fields == std::vector<std::string>{"name"});
    CHECK(rows[1].line == 3);
    CHECK(rows[1].fields == fields);
    // Quotes begin a field or are its own.
    const std::vector<CsvRow> lines = cut_csv("a;\"two\n\nlines; \"\"so\"\"\";c\n\n12\" hose; b ;\n", ';');
    REQUIRE(lines.size() == 2);
    CHECK(lines[0].fields == std::vector<std::string>{"a", "two\n\nlines; \"so\"", "c"});
    CHECK(lines[1].line == 5);
    CHECK(lines[1].fields == std::vector<std::string>{"12\" hose", " b ", ""});
    CHECK_FALSE(unclosed_quote("a,\"b\",12\" hose\n"));
    CHECK(unclosed_quote("a,b\n\n\"c\nd,\"e\nf\n") == 3);
    CHECK(unclosed_quote("a,b\nc,\"d\ne\n") == 2);
    // A line end would make two rows of one.
    CHECK(csv_line(std::vector<std::string>{"two\nlines"}) == "\"two lines\"\n");
}

TEST_CASE("digits are cut, zero has no sign, and what is no number stays") {
    CHECK(significant(0.123456, 2) == 0.12);
    CHECK(significant(-98765, 3) == -98800);
    CHECK_FALSE(std::signbit(significant(-0.0, 3)));
    CHECK(std::isnan(significant(std::numeric_limits<double>::quiet_NaN(), 2)));
    CHECK(plain_number(1.0 / 3) == "0.333333333333");
    CHECK(plain_number(std::numeric_limits<double>::quiet_NaN()).empty());
    CHECK(plain_number(-std::numeric_limits<double>::infinity()) == "-inf");
}

TEST_CASE("sets that are joined are one, and alone again after a reset") {
    DisjointSets sets(5);
    sets.join(0, 1);
    sets.join(3, 4);
    CHECK(sets.together(0, 1));
    CHECK_FALSE(sets.together(1, 3));
    sets.join(4, 1);
    CHECK(sets.together(0, 3));
    CHECK_FALSE(sets.together(2, 0));
    sets.reset(5);
    CHECK_FALSE(sets.together(0, 1));
}

TEST_CASE("a quantity is written with its unit, its prefix and no digit that says nothing") {
    const double infinity = std::numeric_limits<double>::infinity();
    const double no_number = std::numeric_limits<double>::quiet_NaN();
    CHECK(write_measure(0, Unit::ohm) == "0ohm");
    CHECK(write_measure(0.02, Unit::ohm) == "20mohm");
    CHECK(write_measure(4700, Unit::ohm) == "4.7kohm");
    CHECK(write_measure(2.2e6, Unit::ohm) == "2.2Mohm");
    CHECK(write_measure(0.25, Unit::second) == "250ms");
    CHECK(write_measure(90, Unit::second) == "90s");
    CHECK(write_measure(600, Unit::second) == "10min");
    CHECK(write_measure(0.012, Unit::ampere) == "12mA");
    CHECK(write_measure(-3, Unit::awg) == "0000AWG");
    CHECK(write_measure(0, Unit::awg) == "0AWG");
    CHECK(write_measure(16, Unit::awg) == "16AWG");
    CHECK(write_measure(3500, Unit::rpm) == "3500rpm");
    CHECK(write_measure(400, Unit::hertz) == "400Hz");
    CHECK(write_measure(25000, Unit::hertz) == "25kHz");
    CHECK(write_measure(2e5, Unit::pascal) == "2bar");
    CHECK(write_measure(0.5, Unit::percent) == "50%");
    CHECK(write_measure(8, Unit::way) == "8way");
    CHECK(write_measure(2e-4, Unit::inertia) == "2kgcm2");
    CHECK(write_measure(1e18, Unit::volt) == "1.00000e+18V");
    CHECK(write_measure(1e-15, Unit::none) == "1.00000e-15");
    CHECK(write_measure(infinity, Unit::volt) == "infV");
    CHECK(write_measure(-infinity, Unit::none) == "-inf");
    CHECK(write_measure(no_number, Unit::none) == "nan");
    CHECK(write_fixed(infinity, 1) == "inf");
    CHECK(write_fixed(-infinity, 1) == "-inf");
    CHECK(write_fixed(no_number, 1) == "nan");
    CHECK(write_fixed(-0.04, 1) == "0.0");
    CHECK(unit_name(Unit::rpm) == "rpm");
    CHECK(unit_name(Unit::hertz) == "Hz");
    CHECK(unit_name(Unit::awg) == "AWG");
    CHECK(unit_name(Unit::way) == "way");
    CHECK(plain_number(no_number).empty());
    CHECK(plain_number(-infinity) == "-inf");
    CHECK(plain_number(infinity) == "inf");
}

TEST_CASE("a word near to a known one is suggested, also where its letters only look alike") {
    const std::vector<std::string> known{"M1", "F7", "gr\xC3\xBCn", std::string(100, 'x')};
    CHECK(nearest("\xD0\x9C"
                  "1",
                  known) == "M1");
    CHECK(nearest("gr\xC3\xBCn", known) == "gr\xC3\xBCn");
    CHECK(nearest("grun", known) == "gr\xC3\xBCn");
    CHECK(nearest(std::string(99, 'x'), known).empty());
    CHECK(nearest("", known).empty());
    CHECK(did_you_mean("M1", known).empty());
    CHECK(did_you_mean("\xD0\x9C"
                       "1",
                       known)
              .find("M1") != std::string::npos);
    CHECK(did_you_mean_or_known("zzzzzzz", {}).empty());
}
