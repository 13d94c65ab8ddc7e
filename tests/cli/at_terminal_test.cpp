// The program as a person has it on a terminal: width, colour, typed lines with their history, how far long work has
// come.
#include "tests/cli/asked_rows.hpp"
#include "tests/support/screen.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::string job_text(const std::string& body = "") {
    return "format = 1\ncircuit = \"" + cab + "\"\nconcern = \"weak air\"\n[readings]\n1 = \"hi M1.1 to M1.2 9.8V\"\n" +
           body;
}

const std::string bold = "\x1b[1m";

}  // namespace

TEST_CASE("an answer on a terminal has its width and colour, unless the person has it otherwise") {
    const auto shown = [](int columns, const std::vector<std::pair<std::string, std::string>>& variables,
                          const std::vector<std::string>& more = {}) {
        std::vector<std::string> words{VOLTFALL_BINARY, "show", cab};
        words.insert(words.end(), more.begin(), more.end());
        Screen screen(words, columns, variables);
        CHECK(screen.end() == 0);
        CHECK(contains(screen.plain(), "M1 works in "));
        CHECK(widest_line(screen.plain()) <= columns);
        return screen.shown();
    };
    CHECK(contains(shown(100, {{"TERM", "xterm"}}), bold));
    CHECK(contains(shown(50, {{"TERM", "xterm"}}), bold));
    CHECK_FALSE(contains(shown(100, {{"TERM", "dumb"}}), bold));
    CHECK_FALSE(contains(shown(100, {{"TERM", "xterm"}, {"NO_COLOR", "1"}}), bold));
    CHECK(contains(shown(100, {{"TERM", "xterm"}, {"NO_COLOR", ""}}), bold));
    CHECK_FALSE(contains(shown(100, {{"TERM", "xterm"}}, {"--color", "never"}), bold));
    CHECK(contains(shown(100, {{"TERM", "dumb"}}, {"--color", "always"}), bold));
}

TEST_CASE("a person at the vehicle types answers, has the lines before again, and ends with the input") {
    const ScratchFile job("talk.job.toml", job_text());
    Screen screen({VOLTFALL_BINARY, "read", job.path()}, 80);
    screen.wait_for("reading> ");
    screen.type("list\n");
    CHECK(contains(screen.wait_for("reading> "), "9.8V"));
    screen.type("\x1b[A\n");  // the line before
    CHECK(contains(screen.wait_for("reading> "), "9.8V"));
    screen.type("\n");
    screen.wait_for("reading> ");
    screen.type("hi across C101.4 3.6V\n");
    CHECK(contains(screen.wait_for("reading> "), "C101.4"));
    CHECK(contains(job.text(), "2 = \"hi across C101.4 3.6V\""));
    CHECK(screen.end("\x04") == 0);
}

TEST_CASE("at a bench the end of the input gives up, and the debrief follows") {
    const std::string lesson = std::string(PROJECT_DIR) + "/scenarios/lessons/dark-lamp.toml";
    Screen screen({VOLTFALL_BINARY, "teach", lesson}, 80);
    screen.wait_for("] > ");
    screen.type("try\n");
    CHECK(contains(screen.wait_for("] > "), "position"));
    CHECK(screen.end("\x04") == 1);
    CHECK(contains(screen.plain(), "the input has ended: given up"));
    CHECK(contains(screen.plain(), "Not mended"));
}

TEST_CASE("long work tells on a terminal how far it has come, and wipes that out") {
    std::string parts = head +
                        "F1 = \"fuse 40A maxi, feed 30\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\n"
                        "S1 = \"switch C: off on=1\"\n";
    std::string wires = "[wires]\nw0 = \"F1.2 > C1.1 3mm2 RD 1m\"\n";
    constexpr int count = 300;
    for (int i = 1; i <= count; ++i) {
        const std::string n = std::to_string(i);
        parts += "C" + n + " = \"connector inline, 2 way\"\n";
        wires += "w" + n + " = \"C" + n + ".1 > " + (i < count ? "C" + std::to_string(i + 1) + ".1" : "S1.C") +
                 " 3mm2 RD 1m\"\n";
    }
    const ScratchFile circuit("chain.toml",
                              parts + wires + "wa = \"S1.1 > M1.1 3mm2 RD 1m\"\nwb = \"M1.2 > G1 3mm2 BK 1m\"\n");
    const auto weighed = [&](const std::vector<std::string>& more) {
        std::vector<std::string> words{VOLTFALL_BINARY, "match", circuit.path(), "--read",
                                       "key run, on  M1.1 to B1-  10.3V"};
        words.insert(words.end(), more.begin(), more.end());
        Screen screen(words, 80);
        CHECK(screen.end() <= 1);  // 1 where no single fault is likely enough
        return screen.shown();
    };
    const std::string told = weighed({});
    const std::regex bar("\r[a-z ]+ \\[#*\\.*\\] [0-9]+ %");
    CHECK(std::regex_search(told, bar));
    CHECK(std::regex_search(told, std::regex("\r +\r")));
    CHECK(contains(told, "none of these:"));
    CHECK_FALSE(std::regex_search(weighed({"--quiet"}), bar));
}
