#include "cli/views/text_table.hpp"

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

TextTable load_table() {
    TextTable table({{"load"},
                     {"case"},
                     {"V", Align::right},
                     {"A", Align::right},
                     {"rpm", Align::right, Fold::whole, 1},
                     {"what the driver sees", Align::left, Fold::words}});
    table.row({"M1", "healthy", "13.57", "20.2", "3515", "normal"});
    table.row({"M1", "faulted", "-0.06", "0.0", "0", "dead while the switch is in every lower position"});
    return table;
}

int widest(const std::vector<std::string>& lines) {
    int width = 0;
    for (const std::string& line : lines) width = std::max(width, text_width(line));
    return width;
}

std::string joined(const std::vector<std::string>& lines) {
    std::string text;
    for (const std::string& line : lines) text += line + "\n";
    return text;
}

}  // namespace

TEST_CASE("a table that fits is written in its natural widths") {
    TextTable table({{"fuse"}, {"A", Align::right}});
    table.row({"F7", "20.2"});
    table.row({"F12", "0.2"});
    CHECK(joined(table.lines(80, Colour::off)) ==
          "fuse     A\n"
          "F7    20.2\n"
          "F12    0.2\n");
}

TEST_CASE("text columns are folded between words to fit 80 and 44 columns") {
    for (const int width : {80, 44}) {
        const std::vector<std::string> lines = load_table().lines(width, Colour::off);
        CHECK(widest(lines) <= width);
        CHECK(contains(joined(lines), "13.57"));
        CHECK(contains(joined(lines), "-0.06"));
    }
}

TEST_CASE("columns that may be left out go before rows are stacked") {
    TextTable table({{"name"}, {"longnumber", Align::right, Fold::whole, 2}, {"V", Align::right}});
    table.row({"C101.4@541", "123456789012345", "13.89"});
    CHECK(joined(table.lines(20, Colour::off)) ==
          "name            V\n"
          "C101.4@541  13.89\n");
}

TEST_CASE("a column without any text takes no room") {
    TextTable table({{"fuse"}, {""}, {"A", Align::right}});
    table.row({"F7", "", "20.2"});
    CHECK(joined(table.lines(80, Colour::off)) == "fuse     A\nF7    20.2\n");
}

TEST_CASE("rows are stacked when no column may be left out") {
    TextTable table({{"point"}, {"healthy V", Align::right}, {"faulted V", Align::right}});
    table.row({"C101.4@541", "13.89", "10.02"});
    CHECK(joined(table.lines(24, Colour::off)) ==
          "C101.4@541\n"
          "  healthy V 13.89\n"
          "  faulted V 10.02\n");
}

TEST_CASE("a number keeps its unit beside it wherever a line is broken") {
    const std::string text = "the drop is 0.32 V and it should be below 0.5 V after 25 min at 12.5 mohm or more";
    for (int width = 8; width < 60; ++width) {
        for (const std::string& line : wrap_words(text, width)) {
            CHECK_FALSE(line.ends_with("0.32"));
            CHECK_FALSE(line.ends_with("0.5"));
            CHECK_FALSE(line.ends_with("25"));
            CHECK_FALSE(line.ends_with("12.5"));
        }
    }
}

TEST_CASE("a word longer than the width stands alone and whole") {
    CHECK(wrap_words("see scenarios/bookmobile/cab-blower.toml now", 10) ==
          std::vector<std::string>{"see", "scenarios/bookmobile/cab-blower.toml", "now"});
}

TEST_CASE("letters of several bytes count as one character") {
    CHECK(text_width("90 \xCE\xA9") == 4);
    TextTable table({{"a"}, {"b"}});
    table.row({"\xC3\xA4\xC3\xB6", "1"});
    table.row({"xyz", "2"});
    CHECK(joined(table.lines(80, Colour::off)) == "a    b\n\xC3\xA4\xC3\xB6   1\nxyz  2\n");
}

TEST_CASE("colour is written only when it is on, and words stay the same") {
    TextTable table({{"fuse"}, {"verdict"}});
    table.row({"F7", TableCell("OPEN", Tone::bad)});
    const std::string coloured = joined(table.lines(80, Colour::on));
    CHECK(contains(coloured, "\x1b[31mOPEN\x1b[0m"));
    CHECK_FALSE(contains(joined(table.lines(80, Colour::off)), "\x1b"));
}

TEST_CASE("a paragraph hangs its second line and a label keeps its column") {
    TextPage page({22});
    page.labelled("because", "reading 2 is far too low");
    CHECK(page.text() ==
          "  because reading 2 is\n"
          "          far too low\n");
}
