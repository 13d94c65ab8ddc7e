// Texts, figures and tables at their edges: marks apart from their letters, commas in numbers, letters for digits,
// lists without an end.
#include <cmath>
#include <limits>

#include "netlists/tables/colours.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/tables/fuse_model.hpp"
#include "netlists/tables/fuses.hpp"
#include "netlists/tables/insulation.hpp"
#include "netlists/text/csv.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/twin_letters.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::vector<std::string> words_of(const std::string& text) {
    std::vector<std::string> words;
    for (const Word& word : cut_words(text)) words.push_back(word.text);
    return words;
}

std::string misread(const std::string& typed) {
    static constexpr std::array units{Unit::volt, Unit::ampere, Unit::ohm};
    const Misread told = explain_misread(typed, units);
    return told.message + " | " + told.suggestion;
}

}  // namespace

TEST_CASE("a comma between digits is decimal where one number with its unit stands there, and parts words elsewhere") {
    using Words = std::vector<std::string>;
    CHECK(words_of("2,5mm2") == Words{"2,5mm2"});
    CHECK(words_of("2x2,5mm2") == Words{"2x2.5mm2"});
    CHECK(words_of("3,2-4,1A") == Words{"3.2-4.1A"});
    CHECK(words_of("3,2-4A") == Words{"3.2-4A"});
    CHECK(words_of("1,2,3") == Words{"1", "2", "3"});
    CHECK(words_of("1,2,3V") == Words{"1", "2", "3V"});
    CHECK(words_of("1,2-3-4V") == Words{"1", "2-3-4V"});
    CHECK(words_of("3,2-4,A") == Words{"3", "2-4", "A"});
    CHECK(words_of("C1,2V") == Words{"C1", "2V"});
    CHECK(words_of("ax2,5V") == Words{"ax2", "5V"});
    CHECK(words_of("M1\tslow") == Words{"M1", "slow"});
}

TEST_CASE("a number that does not read is told by what it lacks, and by what it looks like") {
    CHECK(misread("1e+400V") == "'1e+400V' is no number that can be read | ");
    CHECK(misread("2IV") == "'2IV' is no figure: 'IV' is no unit | did you mean 21V?");
    CHECK(misread("2OV") == "'2OV' is no figure: 'OV' is no unit | did you mean 20V?");
    CHECK(misread("99ga") == "'99ga' is no wire gauge | gauges are whole numbers, 0000AWG to 40AWG");
    CHECK(misread("99gauge") == "'99gauge' is no wire gauge | gauges are whole numbers, 0000AWG to 40AWG");
    CHECK(misread("+5ohm") == "'+5ohm' has a sign | write 5ohm");
    CHECK(misread("-5ohm") == "'-5ohm' must not be below zero | write 5ohm");
    CHECK(misread("70Ah") == "'70Ah' is no figure that anything here depends on | leave it out");
    CHECK(number_as_typed(cut_words("12,3")).text == "12,3");
    CHECK(number_as_typed(cut_words("12,\"3\"")).text == "12");
    CHECK(number_as_typed(cut_words("12, 3")).words == 1);
}

TEST_CASE("the aughts of a gauge are those of wires only, and a letter stands for a point between digits") {
    CHECK(parse_measure("1/0AWG").value().value == 0);
    CHECK(parse_measure("4/0AWG").value().value == -3);
    CHECK_FALSE(parse_measure("1/0V"));
    CHECK_FALSE(parse_measure("1/0foo"));
    CHECK_FALSE(parse_measure("5/0AWG"));
    CHECK(write_measure(-3, Unit::awg) == "0000AWG");
    CHECK(write_measure(14, Unit::awg) == "14AWG");
    CHECK(parse_measure("4k7").value().value == Approx(4700));
    CHECK_FALSE(parse_measure(std::string(400, '9') + "R5"));
}

TEST_CASE("letters are compared as they look, and a letter that only looks so is told") {
    CHECK(as_it_looks("Lu\xCC\x88"
                      "fter") == "Lufter");
    CHECK(as_it_looks("F\xE2\x80\x8B"
                      "7") == "F7");
    CHECK(as_it_looks("5\xE2\x80\x93"
                      "6") == "5-6");
    // A byte of a file that is no UTF-8 is the letter that it is in Latin-1.
    CHECK(as_it_looks("caf\xE9") == "cafe");
    CHECK(twin_letter_in("Lu\xCC\x88").find("stands apart from its letter") != std::string::npos);
    CHECK(twin_letter_in("Lufter").empty());
    const std::vector<std::string> composed{
        "L\xC3\xBC"
        "fter"};
    CHECK(did_you_mean("Lu\xCC\x88"
                       "fter",
                       composed)
              .find("stands apart from its letter") != std::string::npos);
}

TEST_CASE(
    "a long word of a message is cut between two characters, and problems added to themselves stay what they are") {
    Problems problems;
    std::string word = "x";
    for (int i = 0; i < 100; ++i) word += "\xC3\xA9";
    problems.error(ProblemCode::unknown_word, {}, word, "");
    std::string kept = "x";
    for (int i = 0; i < 19; ++i) kept += "\xC3\xA9";
    CHECK(problems.list().front().message == kept + "…");
    problems.add_all(problems);
    CHECK(problems.list().size() == 1);
    // Errors that were only counted are errors of the list they are added to.
    Problems many, all;
    for (std::size_t i = 0; i < Problems::most_kept + 3; ++i) many.error(ProblemCode::unknown_word, {}, "e", "");
    all.add_all(many);
    CHECK(all.told().back().message == "and 3 more");
    CHECK(all.told().back().severity == Severity::error);
}

TEST_CASE("a list's cell keeps no line end when it is written, and a row of one empty cell is none") {
    CHECK(csv_line(std::vector<std::string>{"a\rb", "c"}) == "\"a b\",c\n");
    CHECK(csv_line(std::vector<std::string>{"12\" hose"}) == "\"12\"\" hose\"\n");
    const auto rows = cut_csv("\"\"\na,b\n\n");
    REQUIRE(rows.size() == 1);
    CHECK(rows.front().line == 2);
    CHECK(rows.front().fields == std::vector<std::string>{"a", "b"});
}

TEST_CASE("a colour may be written out, and letters that no table joins are none") {
    CHECK(colour_meaning("gray", nullptr).words == "grey");
    CHECK(colour_meaning("light gray", nullptr).words == "light grey");
    CHECK(colour_meaning("RD/BK", nullptr).words == "red with black");
    CHECK(colour_meaning("", nullptr).words.empty());
    CHECK(colour_meaning("RD/", nullptr).words.empty());
    CHECK(colour_meaning("RD/BK/WH/GN", nullptr).words.empty());
}

TEST_CASE("what is asked for under no name of the tables is a bug") {
    CHECK(find_figure("wire", "colour", Unit::metre) == nullptr);
    CHECK_THROWS_AS(figure_bounds("wire", "colour", Unit::metre), std::logic_error);
    const Circuit& circuit = cab_blower();
    CHECK_THROWS_AS(circuit.part(circuit.find_part("M1")).value("colour"), std::logic_error);
}

TEST_CASE("a fuse that is through opens at once, and one that is cold has nothing to lose") {
    const FuseModel model = fuse_model(FuseType::mini, 10);
    CHECK(seconds_to_open(model, {0.9, 0.2}, 5) == std::optional(0.0));
    CHECK_FALSE(seconds_to_open(model, {}, std::numeric_limits<double>::infinity()));
    CHECK_FALSE(seconds_to_open(model, {}, 5));
    CHECK(seconds_to_cool(model, {0.1, 0.1}, 0.3) == 0);
    CHECK(seconds_to_cool(model, {0.5, 0.4}, 0.3) > 0);
    CHECK_FALSE(fuse_band(FuseType::mini, 10, std::numeric_limits<double>::infinity()).earliest);
    CHECK_FALSE(fuse_band(FuseType::mini, 10, 5).earliest);
    CHECK(fuse_ohms(FuseType::breaker, 30) == Approx(default_value("breaker_drop_volts") / 30));
    // Pulses of 48 % of the melting integral are survived a hundred times, of a tenth of it a hundred thousand times.
    CHECK(pulses_survived(1.2) == 0);
    CHECK(pulses_survived(0.48) == Approx(100));
    CHECK(pulses_survived(0.1) == Approx(1e5));
    CHECK(melt_through_seconds(120, 25, 140, 0.5) == std::numeric_limits<double>::infinity());
    CHECK(melt_through_seconds(200, 150, 140, 0.5) == 0);
    CHECK(melt_through_seconds(200, 25, 140, 1) == Approx(4 * melt_through_seconds(200, 25, 140, 0.5)));
}

TEST_CASE("off is found under what a switch prints for it, and a place behind a panel is as near as the panel") {
    for (const std::string off : {"0", "O", "aus", "stop"}) {
        INFO(off);
        const auto circuit = cab_blower_with("C: off lo=1", "C: " + off + " lo=1");
        CHECK(circuit->part(circuit->find_part("S1")).position_named("off") == std::optional<std::size_t>(0));
    }
    const auto behind = cab_blower_with("C303 = 8\n", "");
    CHECK(behind->reach_of("C303").minutes == 5);
    CHECK(behind->reach_of("C303").strip == "glovebox");
    CHECK(cab_blower().reach_of("C303").minutes == 5);
    CHECK(cab_blower().reach_of("F7").minutes == 2);
    CHECK(cab_blower().reach_of("31").minutes == 0);
    CHECK_FALSE(cab_blower().reach_of("purple").known);
}
