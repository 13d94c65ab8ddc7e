// Words in a row, blanks at the ends, rows of values, digits, sets.
#include <array>
#include <limits>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/digits.hpp"
#include "netlists/text/lists.hpp"
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
