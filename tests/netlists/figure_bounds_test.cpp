// The table of what each figure can be, and what is said of a number that does not read.
#include "netlists/tables/figure_bounds.hpp"

#include <cmath>
#include <set>
#include <stdexcept>
#include <tuple>

#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/heat_rows.hpp"
#include "netlists/text/misread.hpp"
#include "tests/netlists/circuit_texts.hpp"

using namespace voltfall;

TEST_CASE("every row of the bounds stands once, with two finite ends in order") {
    std::set<std::tuple<std::string_view, std::string_view, Unit>> seen;
    std::vector<FigureBounds> rows(figure_rows().begin(), figure_rows().end());
    for (const Kind& kind : kinds()) {
        for (const FigureBounds& row : kind.figures) CHECK(row.of == kind.word);
        rows.insert(rows.end(), kind.figures.begin(), kind.figures.end());
    }
    for (const FigureBounds& row : rows) {
        INFO(row.name());
        CHECK(seen.emplace(row.of, row.figure, row.unit).second);
        CHECK(std::isfinite(row.least));
        CHECK(std::isfinite(row.most));
        CHECK(row.least < row.most);
        CHECK(row.holds(row.least));
        CHECK(row.holds(row.most));
        CHECK_FALSE(row.holds(std::nan("")));
        CHECK_FALSE(row.holds(INFINITY));
    }
    CHECK_THROWS_AS(figure_bounds(*find_kind("battery"), "colour", Unit::volt), std::logic_error);
}

TEST_CASE("every figure that a kind of part takes by default is inside its own bounds") {
    for (const std::string supply : {"12V", "24V"}) {
        for (const Kind& kind : kinds()) {
            std::string parts = "X = \"" + std::string(kind.example) + "\"\nM1 = \"motor 20A\"";
            std::string text = small(parts, "1 = \"F7.2 > M1.1 6mm2 1m\"\n2 = \"M1.2 > 31 6mm2 1m\"");
            text = replaced(text, "format = 1", "format = 1\nsupply = \"" + supply + "\"");
            const auto circuit = read_good(text);
            for (const Parameter& figure : circuit->part(circuit->find_part("X")).parameters) {
                if (figure.source == "not stated") continue;
                INFO(kind.word << " " << figure.name << " " << figure.value);
                CHECK(figure_bounds(kind, figure.name, figure.unit).holds(figure.value));
            }
        }
    }
}

TEST_CASE("every figure of heat has its bounds in the table and its default inside them") {
    for (const HeatRow& row : heat_rows()) {
        INFO(row.key);
        CHECK(figure_bounds("heat", row.key, row.unit).most == row.high);
        CHECK(figure_bounds("heat", row.key, row.unit).holds(default_value(row.row)));
    }
}

TEST_CASE("a value out of bounds is told with its sign, its count or its range") {
    const auto said = [](const FigureBounds& row, double value, const std::string& typed) {
        const auto wrong = outside_bounds(row, value, typed, "x");
        return wrong ? wrong->message + " | " + wrong->suggestion : "";
    };
    const FigureBounds& rest = figure_bounds(*find_kind("battery"), "rest volts", Unit::volt);
    CHECK(said(rest, 12.6, "12.6V").empty());
    CHECK(said(rest, 0, "0V") == "'0V' must be more than zero | the rest volts of a battery: 3V to 60V; for example x");
    CHECK(said(rest, 126, "126V") ==
          "'126V' cannot be the rest volts of a battery; expected 3V to 60V | for example x");
    const FigureBounds& ohms = figure_bounds("reading", "ohms", Unit::ohm);
    CHECK(said(ohms, -1, "-1ohm").substr(0, 33) == "'-1ohm' must not be below zero | ");
    const FigureBounds& ways = figure_bounds(*find_kind("connector"), "ways", Unit::way);
    CHECK(said(ways, 2.5, "2.5way").substr(0, 32) == "'2.5way' must be a whole number ");
}

TEST_CASE("a word is meant as a number by its first digit") {
    for (const char* number : {"36ohn", "@13.5X", "-80ohm", "+5", ".5V", "~1.4", "<0.1V", "1e400V", "8"}) {
        INFO(number);
        CHECK(looks_like_number(number));
    }
    for (const char* word : {"", "M1", "nan", "-", "@", "inf", "x2", "V", "~", "C101.4"}) {
        INFO(word);
        CHECK_FALSE(looks_like_number(word));
    }
}

TEST_CASE("a number that does not read is explained by its unit, its sign or its digits") {
    const auto said = [](const std::string& typed) {
        const Misread misread = explain_misread(typed);
        return misread.message + " | " + misread.suggestion;
    };
    CHECK(said("36ohn") == "'36ohn' is no figure: 'ohn' is no unit | did you mean 36ohm?");
    CHECK(said("~1.4n") == "'~1.4n' is no figure: 'n' is no unit | did you mean ~1.4in?");
    CHECK(said("13X") == "'13X' is no figure: 'X' is no unit | ");
    CHECK(said("-800mohm") == "'-800mohm' must not be below zero | write 800mohm");
    CHECK(said("+5ohm") == "'+5ohm' has a sign | write 5ohm");
    CHECK(said("1e400V") == "'1e400V' is no number that can be read | ");
    CHECK(said("5.V") == "'5.V' is no number that can be read | ");
    CHECK(said("60AWG") == "'60AWG' is no wire gauge | gauges are whole numbers, 0000AWG to 40AWG");
    CHECK(said("12,3") == "'12,3' has no unit | ");
}
