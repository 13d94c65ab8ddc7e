// `report` and the pictures: one page without script or anything from outside, and safe whatever a person types.
#include <filesystem>
#include <iomanip>
#include <set>

#include "cli/pictures/wire_colours.hpp"
#include "cli/views/markup_text.hpp"
#include "netlists/tables/colours.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string page_of(const std::string& path) {
    const ScratchFile page("page.html");
    const Said said = command_line({"report", path, "-o", page.path()});
    INFO(said.err);
    REQUIRE(said.status == 0);
    return page.text();
}

std::string page_of_scenario(const std::string& file) {
    return page_of(scenario(file));
}

std::size_t count_of(const std::string& text, const std::string& piece) {
    std::size_t count = 0;
    for (std::size_t at = text.find(piece); at != std::string::npos; at = text.find(piece, at + 1)) ++count;
    return count;
}

/// Every element that is opened is closed, in order: what a browser shows is then what was meant.
std::string badly_nested(const std::string& page) {
    static const std::set<std::string> alone{"meta", "path", "rect", "circle", "!DOCTYPE"};
    std::vector<std::string> open;
    for (std::size_t at = page.find('<'); at != std::string::npos; at = page.find('<', at + 1)) {
        const std::size_t end = page.find('>', at);
        if (end == std::string::npos) return "unclosed <";
        const std::string tag = page.substr(at + 1, end - at - 1);
        const std::string name = tag.substr(0, tag.find_first_of(" \n"));
        if (name.starts_with("/")) {
            if (open.empty() || open.back() != name.substr(1)) return name;
            open.pop_back();
        } else if (!alone.contains(name) && !tag.ends_with("/")) {
            open.push_back(name);
        }
    }
    return open.empty() ? "" : open.back();
}

}  // namespace

TEST_CASE("a report is one page with nothing from outside and no script") {
    const std::string page = page_of_scenario("weak-air.job.toml");
    CHECK(page.starts_with("<!DOCTYPE html>"));
    CHECK(contains(page, "Content-Security-Policy\" content=\"default-src 'none'"));
    CHECK_FALSE(contains(page, "<script"));
    CHECK(count_of(page, "http://") == count_of(page, "xmlns=\"http://www.w3.org/2000/svg\""));  // a name, no address
    CHECK_FALSE(contains(page, "https://"));
    CHECK_FALSE(contains(page, "url("));
    CHECK_FALSE(contains(page, "@import"));
    CHECK(page.size() <= 300'000);
    CHECK(badly_nested(page) == "");
}

TEST_CASE("a report of a job has the sheet first, then every picture with its table") {
    const std::string page = page_of_scenario("weak-air.job.toml");
    const std::vector<std::string> order{"weak air, worst on high",
                                         "poor contact in C101.4",
                                         "Next tests",
                                         "Read:",
                                         "Wiring in",
                                         "Where the volts fall",
                                         "Positions: amperes",
                                         "Fuse F7",
                                         "The whole way from here",
                                         "Readings"};
    std::size_t at = 0;
    for (const std::string& piece : order) {
        INFO(piece);
        const std::size_t found = page.find(piece, at);
        REQUIRE(found != std::string::npos);
        at = found;
    }
    CHECK(contains(page, "SUSPECT"));
    CHECK(contains(page, "RD"));  // colours stand as letters beside their swatch
}

TEST_CASE("every colour of the published tables has a colour on the page, and a wire is drawn by its file's table") {
    for (const ColourTable& table : colour_tables()) {
        for (const ColourCode& code : table.codes) {
            INFO(table.name << " " << code.letters);
            CHECK(drawn_colours(code.colour).size() == 1);
        }
    }
    CHECK(drawn_colours("light green with red and dark violet") ==
          std::vector<std::string_view>{"#8fd694", "#d22222", "#7d3fb2"});
    CHECK(drawn_colours("").empty());
    const auto drawn = [](const std::string& table) {
        const ScratchFile file("colours.toml", "format = 1\ncolours = \"" + table +
                                                   "\"\n[parts]\nB1 = \"battery\"\nF1 = \"fuse 10A mini, feed 30\"\n"
                                                   "L1 = \"lamp 21W\"\n[wires]\n1 = \"F1.2 > L1.1 1mm2 GR 1m\"\n"
                                                   "2 = \"L1.2 > 31 1mm2 BR 1m\"\n");
        const ScratchFile picture("colours.svg");
        REQUIRE(command_line({"show", file.path(), "--svg", picture.path()}).status == 0);
        return picture.text();
    };
    CHECK(contains(drawn("german"), "#8c8c8c"));
    CHECK_FALSE(contains(drawn("german"), "#2f9e44"));
    CHECK(contains(drawn("american"), "#2f9e44"));
}

TEST_CASE("wires that end at 30, 15 and 31 are drawn to the battery's poles and to the key's supply") {
    const ScratchFile file(
        "words.toml",
        "format = 1\n[parts]\nB1 = \"battery\"\nI1 = \"key: off on=15\"\nF1 = \"fuse 10A mini\"\n"
        "F2 = \"fuse 5A mini\"\nL1 = \"lamp 21W\"\nL2 = \"lamp 5W\"\n[wires]\n"
        "1 = \"30 > F1.1 1mm2 RD 1m\"\n2 = \"F1.2 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > 31 1mm2 BN 1m\"\n"
        "4 = \"15 > F2.1 1mm2 BK 1m\"\n5 = \"F2.2 > L2.1 1mm2 BK 1m\"\n6 = \"31 > L2.2 1mm2 BN 1m\"\n");
    const ScratchFile picture("words.svg");
    const Said said = command_line({"show", file.path(), "--svg", picture.path()});
    INFO(said.err);
    REQUIRE(said.status == 0);
    for (const char* piece : {">1  RD<", ">3  BN<", ">4  BK<", ">6  BN<", ">15<"})
        CHECK(contains(picture.text(), piece));
    const ScratchFile page("words.html");
    CHECK(command_line({"report", file.path(), "-o", page.path()}).status == 0);
}

TEST_CASE("a finished job shows before and after and the three paragraphs; a circuit its pictures") {
    const std::string page = page_of_scenario("weak-air-done.job.toml");
    for (const char* piece : {"PROVED", "Before and after", "Concern.", "Cause.", "Correction.", "12.4 A", "20.3 A"})
        CHECK(contains(page, piece));
    const std::string circuit = page_of_scenario("cab-blower.toml");
    CHECK(contains(circuit, "Bookmobile, cab blower"));
    CHECK(contains(circuit, "Wiring in"));
    CHECK_FALSE(contains(circuit, "Next tests"));
}

TEST_CASE("every scenario's report is whole") {
    for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_DIR) + "/scenarios/bookmobile")) {
        const std::string name = entry.path().filename().string();
        if (!name.ends_with(".toml")) continue;
        INFO(name);
        const std::string page = page_of_scenario(name);
        CHECK(badly_nested(page) == "");
        CHECK(page.size() <= 300'000);
    }
}

TEST_CASE("the same job gives the same bytes") {
    CHECK(page_of_scenario("only-high.job.toml") == page_of_scenario("only-high.job.toml"));
}

TEST_CASE("what a person types never becomes markup") {
    const std::string circuit = std::string(PROJECT_DIR) + "/scenarios/bookmobile/cab-blower.toml";
    const std::string attack = "</title></style><script>alert(1)</script><img src=x onerror=alert(1)>\\\" onload=\\\"x";
    const ScratchFile job("bad.job.toml", "format = 1\ncircuit = '" + circuit + "'\njob = \"" + attack +
                                              "\"\nconcern = \"" + attack + std::string(9'000, 'W') +
                                              "\"\n[readings]\n1 = \"hi  blower slow\" # <b>note</b>\n"
                                              "2 = \"look 542 \\\"<i>odd</i>\\\"\"\n[history]\n1 = \"" +
                                              attack + "\"\n");
    const ScratchFile page("page.html");
    const Said said = command_line({"report", job.path(), "-o", page.path()});
    INFO(said.err);
    REQUIRE(said.status == 0);
    const std::string text = page.text();
    CHECK(badly_nested(text) == "");
    CHECK_FALSE(contains(text, "<script"));
    CHECK_FALSE(contains(text, "<img"));
    CHECK_FALSE(contains(text, "<b>note"));
    CHECK_FALSE(contains(text, "<i>odd"));
    CHECK_FALSE(contains(text, "\" onload"));
    // One style element, ended once: a name in it cannot end it.
    CHECK(text.find("</style>") == text.rfind("</style>"));
    CHECK(text.size() <= 300'000);
}

TEST_CASE("marks that turn the direction, and texts without end, are refused before a page is written") {
    const std::string circuit = std::string(PROJECT_DIR) + "/scenarios/bookmobile/cab-blower.toml";
    const std::pair<std::string, std::string> cases[] = {{"a\xE2\x80\xAE"
                                                          "b",
                                                          "U+202E"},
                                                         {"a\xE2\x81\xA6"
                                                          "b",
                                                          "U+2066"},
                                                         {std::string(10'001, 'W'), "at most 10000"}};
    for (const auto& [concern, named] : cases) {
        const ScratchFile job("bad.job.toml", "format = 1\ncircuit = '" + circuit + "'\nconcern = \"" + concern +
                                                  "\"\n[readings]\n1 = \"hi  blower slow\"\n");
        const ScratchFile page("page.html");
        const Said said = command_line({"report", job.path(), "-o", page.path()});
        INFO(said.err);
        CHECK(said.status == 3);
        CHECK(contains(said.err, named));
        CHECK_FALSE(std::filesystem::exists(page.path()));
    }
}

TEST_CASE("text for markup is escaped, cut at characters, and freed of what turns direction") {
    CHECK(markup_text("a<b>&\"'") == "a&lt;b&gt;&amp;&quot;&#39;");
    CHECK(markup_text("\x01x\x7f\xE2\x80\x8F") == "x");
    CHECK(markup_text("\xC0\xBC\xFF") == "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");  // overlong '<' is no '<'
    CHECK(markup_text("m\xC2\xB2 \xF0\x9F\x94\xA7") == "m\xC2\xB2 \xF0\x9F\x94\xA7");
    CHECK(shortened("abc", 3) == "abc");
    CHECK(shortened("\xC3\xA4\xC3\xB6\xC3\xBC\xC3\x9F", 3) == "\xC3\xA4\xC3\xB6\xE2\x80\xA6");
}

TEST_CASE("a report is not written over a file, nor without a name") {
    const ScratchFile page("page.html", "mine");
    CHECK(command_line({"report", scenario("weak-air.job.toml"), "-o", page.path()}).status == 2);
    CHECK(page.text() == "mine");
    CHECK(command_line({"report", scenario("weak-air.job.toml")}).status == 2);
    CHECK(command_line({"report", scenario("weak-air.job.toml"), "-o", page.path(), "--force"}).status == 0);
    const Said out = command_line({"report", scenario("cab-blower.toml"), "-o", "-"});
    CHECK(out.out.starts_with("<!DOCTYPE html>"));
}

TEST_CASE("show, protect and whatif write their pictures alone") {
    const std::vector<std::vector<std::string>> commands{
        {"show", scenario("cab-blower.toml")},
        {"protect", scenario("cab-blower.toml")},
        {"whatif", scenario("cab-blower.toml"), "--fault", "C101.4 resistance 0.3ohm", "--state", "hi"}};
    for (std::vector<std::string> args : commands) {
        const ScratchFile picture("p.svg");
        args.insert(args.end(), {"--svg", picture.path()});
        INFO(args.front());
        const Said said = command_line(args);
        INFO(said.err);
        CHECK(said.status == 0);
        CHECK(picture.text().starts_with("<svg "));
        CHECK(badly_nested(picture.text()) == "");
    }
}

TEST_CASE("the drawing says the volts and amperes that whatif says") {
    const ScratchFile picture("p.svg");
    REQUIRE(command_line({"whatif", scenario("cab-blower.toml"), "--fault", "C101.4 resistance 0.3ohm", "--state", "hi",
                          "--svg", picture.path()})
                .status == 0);
    const Said table = command_line({"whatif", scenario("cab-blower.toml"), "--fault", "C101.4 resistance 0.3ohm",
                                     "--state", "hi", "--points", "C304.1,542", "--format", "json"});
    INFO(table.out);
    const auto digits = [&](const std::string& head, int decimals) {
        const std::size_t at = table.out.find(head, table.out.find("\"faulted\":{"));
        REQUIRE(at != std::string::npos);
        std::ostringstream text;
        text << std::fixed << std::setprecision(decimals) << std::stod(table.out.substr(at + head.size()));
        return text.str();
    };
    CHECK(contains(picture.text(), "SUSPECT"));
    CHECK(contains(picture.text(), "C304.1  " + digits("\"C304.1\":", 2) + " V"));
    CHECK(contains(picture.text(), "6 mm2  " + digits("\"542\":{\"from\":", 1) + " A"));
}

TEST_CASE("a job's sheet is a page of its own; of a circuit alone the drawing follows its name") {
    CHECK(contains(page_of_scenario("weak-air.job.toml"), "<section class=\"sheet whole\">"));
    const std::string circuit = page_of_scenario("cab-blower.toml");
    CHECK(contains(circuit, "<section class=\"sheet\">"));
    // The name stands once above the drawing.
    const std::string before = circuit.substr(circuit.find("<body"), circuit.find("<h2") - circuit.find("<body"));
    CHECK(count_of(before, "Bookmobile, cab blower") == 1);
}

TEST_CASE("suspects of less than 1 in 100 have no bar") {
    const std::string page = page_of_scenario("weak-air.job.toml");
    const std::string suspects = page.substr(page.find("It may be"), page.find("Next tests") - page.find("It may be"));
    CHECK(contains(suspects, "poor contact in C101.4"));
    CHECK_FALSE(contains(suspects, "less than 1 in 100"));
}

TEST_CASE("a picture wider than a phone is first seen at its middle") {
    const std::string page = page_of_scenario("weak-air.job.toml");
    CHECK(count_of(page, "<i class=\"middle\">") == count_of(page, "<div class=\"wide\""));
    CHECK(contains(page, "scroll-initial-target: nearest"));
}

TEST_CASE("a caution that belongs to some of the tests says to which") {
    const ScratchFile job("one.job.toml", "format = 1\ncircuit = \"" + scenario("cab-blower.toml") +
                                              "\"\nconcern = \"weak\"\n[readings]\n1 = \"hi M1.1 to B1- 10.2V\"\n");
    const std::string page = page_of(job.path());
    const std::string cautions =
        page.substr(page.find("before the tests:"), page.find("class=\"tests\"") - page.find("before the tests:"));
    INFO(cautions);
    // The times differ from test to test.
    CHECK(count_of(cautions, ": switch on for ") >= 2);
    CHECK(count_of(cautions, "<li>test") >= count_of(cautions, ": switch on for "));
    CHECK(contains(cautions, "procedure, figures and order come first"));
}

TEST_CASE("a job's report draws the circuit that it is about, a circuit's report all of them apart") {
    std::string text =
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\nF1 = \"fuse 20A regular, feed 30\"\n"
        "S1 = \"switch C: off on=1\"\nM1 = \"motor 8A @13.5V\"\nG1 = \"ground\"\n";
    std::string wires =
        "[wires]\n1 = \"F1.2 > S1.C 2mm2 RD 2m\"\n2 = \"S1.1 > M1.1 2mm2 RD 2m\"\n3 = \"M1.2 > G1 2mm2 BK 1m\"\n";
    for (int i = 2; i < 14; ++i) {
        const std::string n = std::to_string(i);
        text += "F" + n + " = \"fuse 5A mini, feed 30\"\nL" + n + " = \"lamp 21W\"\n";
        wires += n + "1 = \"F" + n + ".2 > L" + n + ".1 1mm2 GN 1m\"\n" + n + "2 = \"L" + n + ".2 > G1 1mm2 BK 1m\"\n";
    }
    const ScratchFile circuit("many.toml", text + wires + "[controls]\nS1 = \"fan\"\n");
    const ScratchFile job("many.job.toml",
                          "format = 1\ncircuit = \"" + circuit.path() +
                              "\"\nconcern = \"fan slow\"\n[readings]\n1 = \"key run, on  M1 slow\"\n");
    const auto page_of_file = [](const std::string& path) {
        const ScratchFile page("many.html");
        const Said said = command_line({"report", path, "-o", page.path()});
        INFO(said.err);
        REQUIRE(said.status == 0);
        return page.text();
    };
    const std::string whole = page_of_file(circuit.path());
    CHECK(count_of(whole, "aria-labelledby=\"wiring") == 3);  // 27 wires, at most 12 a drawing
    CHECK(contains(whole, ">131  GN<"));
    CHECK(contains(whole, "Fuse F13"));
    // Each fuse beside a wire of its own circuit, though all lamps draw the same.
    CHECK(contains(whole, "wire 131 bears it so long"));
    // Twelve lamps run alike wherever the switch stands.
    CHECK_FALSE(contains(whole, "on  L13"));
    const std::string of_job = page_of_file(job.path());
    CHECK(count_of(of_job, "aria-labelledby=\"wiring") == 1);
    CHECK(contains(of_job, ">1  RD<"));
    CHECK_FALSE(contains(of_job, ">131  GN<"));
    CHECK(contains(of_job, "24 wires of circuits that share nothing with this one"));
    CHECK_FALSE(contains(of_job, "Fuse F13"));
    CHECK(badly_nested(of_job).empty());
}

TEST_CASE("every scenario's report draws its wiring, also of a load that is called by its plug") {
    for (const char* job : {"weak-air-done.job.toml", "only-high.job.toml", "dead-low.job.toml", "no-pull.job.toml"}) {
        INFO(job);
        CHECK(contains(page_of_scenario(job), "aria-labelledby=\"wiring"));
    }
    CHECK(contains(page_of_scenario("../lessons/one-dead-speed.toml"), "aria-labelledby=\"wiring"));
}

TEST_CASE("a drawing that no page holds comes in pieces, and no box is cut") {
    std::string parts =
        "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 20A regular, feed 30\"\nL1 = \"lamp 21W\"\nG1 "
        "= \"ground\"\n";
    std::string wires = "[wires]\n1 = \"F1.2 > C1.1 2mm2 RD 1m\"\n";
    for (int i = 1; i < 30; ++i) {
        const std::string n = std::to_string(i);
        parts += "C" + n + " = \"connector, 2 way\"\n";
        wires += std::to_string(i + 1) + " = \"C" + n + ".1 > " +
                 (i == 29 ? "L1.1" : "C" + std::to_string(i + 1) + ".1") + " 2mm2 RD 1m\"\n";
    }
    const ScratchFile circuit("chain.toml", parts + wires + "90 = \"L1.2 > G1 2mm2 BK 1m\"\n");
    const ScratchFile page("chain.html");
    REQUIRE(command_line({"report", circuit.path(), "-o", page.path()}).status == 0);
    const std::string text = page.text();
    CHECK(count_of(text, "aria-labelledby=\"wiring") > 2);
    for (int i = 1; i <= 30; ++i) CHECK(count_of(text, ">" + std::to_string(i) + "  RD<") == 1);
}
