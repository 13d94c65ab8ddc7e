// What is shown of cases that are less usual: without a fault, over time, of repairs that failed, of faults that come
// and go, at a bench of few parts.
#include "cli/views/json_document.hpp"
#include "cli/views/markup_text.hpp"
#include "tests/cli/asked_rows.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::string job_text(const std::string& body) {
    return "format = 1\ncircuit = \"" + cab + "\"\nconcern = \"weak\"\n" + body;
}

const std::string still_bad = job_text(
    "[readings]\n1 = \"key run, hi  blower slow\"\n2 = \"hi across C101.4 3.6V\"\n[repaired]\nC101.4 = \"new\"\n"
    "[after]\n1 = \"lo,hi blower slow\"\n2 = \"hi clamp 542 30A\"\n");
const std::string not_found = job_text(
    "[readings]\n1 = \"earlier M1 dead\"\n2 = \"hi M1 normal\"\n[repaired]\nnothing = \"no fault found\"\n"
    "[after]\n1 = \"hi M1 normal\"\n");

}  // namespace

TEST_CASE("wires and warmth are shown of the sound circuit and over time") {
    check_rows({
        {{"whatif", cab, "--state", "hi", "--points", "542,541"}, 0, {"sound circuit, no fault", "541"}},
        {{"whatif", cab, "--state", "hi", "--points", "542,M1.1", "--all"}, 0, {"M1.1"}},
        {{"whatif", cab, "--state", "lo", "--fault", "M1 seized", "--time", "10min", "--format", "plain"},
         0,
         {"load\tlo\thealthy\tM1", "heat\tlo\t"}},
        {{"whatif", cab, "--state", "lo", "--fault", "M1 seized", "--time", "10min", "--all"}, 0, {"M1", "dead"}},
        {{"whatif", cab, "--state", "hi", "--fault", "F7 missing"}, 0, {"no fuse in F7", "F7 stands open"}},
        {{"whatif", cab, "--state", "hi", "--fault", "K3 coil open"}, 0, {"coil of K3 open", "released"}},
        {{"whatif", cab, "--state", "hi", "--fault", "G201 open", "--format", "plain"}, 0, {"load\thi\tfaulted\tM1"}},
    });
}

TEST_CASE("a repair that failed and a fault that was not found are shown in each form") {
    check_rows({
        {{"prove"}, 1, {"NOT PROVED: 3 failed", "hand back: no, M1 at lo has failed", "FAILED"}, still_bad},
        {{"prove", "--format", "plain"}, 1, {"proved\tno", "check\tM1 at lo\tfailed"}, still_bad},
        {{"prove"}, 1, {"NOT PROVED: 8 still open", "hand back: not as repaired"}, not_found},
        {{"prove", "--format", "plain"}, 1, {"proved\tno\tyes", "check\tM1 at lo\topen"}, not_found},
        {{"report", "-o", "-"}, 0, {"<!DOCTYPE html>", "C101.4"}, still_bad},
        {{"report", "-o", "-"}, 0, {"<!DOCTYPE html>", "M1"}, not_found},
    });
}

TEST_CASE("a fault that comes and goes is looked for by what brings it about") {
    for (const std::string when : {"hot", "cold", "wet", "bump"})
        check_rows({{{"next", cab, "--read", when + " hi M1 dead", "--read", "hi M1 normal"}, 0, {when}}});
    check_rows({
        {{"next", cab, "--read", "sometimes hi M1 dead", "--all"}, 0, {"is it there now?"}},
        {{"next", cab}, 0, {"turn S1 through them"}},
        {{"plan", std::string(PROJECT_DIR) + "/scenarios/bench/load-drifts.job.toml"},
         0,
         {"no test is worth its minutes: repair H1"}},
        {{"match", std::string(PROJECT_DIR) + "/scenarios/bench/liar-dead.job.toml", "--format", "plain"},
         0,
         {"doubtful\t"}},
        {{"match", scenario("fuse-blows.job.toml"), "--format", "plain", "--two"}, 0, {"place\t542"}},
    });
}

TEST_CASE("a bench of a few parts explains itself, takes what it can measure and refuses the rest") {
    const auto bench = [](const std::string& circuit, const std::string& level, const std::string& lines) {
        const ScratchFile file("small.toml", circuit);
        return command_line({"teach", file.path(), "--seed", "3", "--level", level}, {}, lines);
    };
    const Said first =
        bench(unfused, "1", "help\nmap\nlook S1\non L1\nL1.1 to B1-\nL1.1 to B1-\nsuspect feed\ngive up\n");
    INFO(first.out << first.err);
    CHECK(first.status == 1);
    CHECK(contains(first.out, "the lamp does nothing"));
    const Said second = bench(latched, "1",
                              "help\nmap L1\nstart\nK1\nF1\nvolts L1.1\nohms L1.1 to L1.2\nunplug L1\nohms L1.1 to "
                              "L1.2\nnew F1\nhint\nhint\nhint\nsuspect load\nfrobnicate\nrepair L1\ndone\n");
    INFO(second.out << second.err);
    CHECK(contains(second.out + second.err, "frobnicate"));
    CHECK(contains(second.out, "relay K1"));
    const Said third = bench(unfused, "3", "suspect feed\nL1.1 to B1-\nsuspect nothing\nL1.2 to B1-\nnothing\ndone\n");
    CHECK(third.status <= 1);
    CHECK_FALSE(third.out.empty());
}

TEST_CASE("what stands in a page is text: marks of direction, controls and broken bytes do not pass") {
    CHECK(markup_text("<a & \"b\" 'c'>") == "&lt;a &amp; &quot;b&quot; &#39;c&#39;&gt;");
    // U+061C, U+200E, U+200F, U+202A to U+202E and U+2066 to U+2069 (Unicode's Bidi_Control), C0 and C1 controls.
    for (const char* mark : {"\xD8\x9C", "\xE2\x80\x8E", "\xE2\x80\x8F", "\xE2\x80\xAA", "\xE2\x80\xAE", "\xE2\x81\xA6",
                             "\xE2\x81\xA9", "\x01", "\x1B", "\x7F", "\xC2\x85", "\xEF\xBF\xBE", "\xEF\xBF\xBF"})
        CHECK(markup_text(std::string("a") + mark + "b") == "ab");
    for (const char* kept : {"\t", "\n", "\xC2\xA0", "\xE2\x80\x90", "\xE2\x81\xAA", "\xEF\xBF\xBD"})
        CHECK(markup_text(std::string("a") + kept + "b") == std::string("a") + kept + "b");
    CHECK(markup_text("a\xFF"
                      "b") ==
          "a\xEF\xBF\xBD"
          "b");
    CHECK(shortened("abcdef", 4) == "abc\xE2\x80\xA6");
    CHECK(shortened("abcd", 4) == "abcd");
}

TEST_CASE("an option that cannot be is told with what it takes") {
    check_rows({
        {{"--", "check", cab}, 2, {"unknown option '--'"}},
        {{"-"}, 2, {"unknown command '-'"}},
        {{"-V"}, 0, {"voltfall "}},
        {{"match", "-h"}, 0, {"Usage: voltfall match"}},
        {{"--format", "xml", "check", cab}, 2, {"'xml' is none of text, json, plain"}},
        {{"--colour", "never", "check", cab}, 2, {"did you mean '--color'?"}},
        {{"check", cab, "--color", "sometimes"}, 2, {"none of auto, always, never"}},
        {{"next", weak, "--top", "0"}, 2, {"from 1 to 100000, found '0'"}},
        {{"next", weak, "--top", "3x"}, 2, {"found '3x'"}},
        {{"next", weak, "--seed", "x"}, 2, {"found 'x'"}},
        {{"match", weak, "--workers", "0"}, 2, {"from 1 to 64, found '0'"}},
        {{"whatif", cab, "--time", "10V"}, 2, {"a time with its unit"}},
        {{"whatif", cab, "--time", "0s"}, 2, {"a time from 1ms"}},
        {{"whatif", cab, "--time", ""}, 2, {"found ''"}},
        {{"whatif", cab, "--start", "x"}, 2, {"seconds from 0.05 to 60, found 'x'"}},
        {{"whatif", cab, "--start", "900"}, 2, {"found '900'"}},
        {{"whatif", cab, "--fault", "M1 seized", "--fault", "M1 seized"}, 2, {"'M1 seized' stands twice"}},
        {{"whatif", cab, "--state", "hi", "--state", "hi", "--points", "542,542"}, 0, {"542"}},
        {{"whatif", cab, "--points", ""}, 2, {"found an empty value"}},
        {{"whatif", cab, "--points", "Q9"}, 2, {"no point is called 'Q9'"}},
        {{"deck", cab, "--state", "lo", "--state", "hi"}, 2, {"a deck is one state"}},
        {{"deck", cab, "--at", "never"}, 2, {"none of faulted, after"}},
        {{"serve", weak, "--port", "99999"}, 2, {"from 0 to 65535"}},
        {{"prove", weak, "--after", "nonsense"}, 2, {"'nonsense' is neither"}},
        {{"prove", weak, "--repaired", "Q9 new"}, 2, {"nothing that can be repaired is called 'Q9'"}},
        {{"complete", "check", "\""}, 0, {"*files"}},
        {{"complete", "-"}, 0, {"--version"}},
    });
}

TEST_CASE("a file that is of another kind, not there or not to be written is told by each command that wants it") {
    const std::string lesson = std::string(PROJECT_DIR) + "/scenarios/lessons/one-dead-speed.toml";
    const ScratchFile there("there.toml", unfused);
    check_rows({
        {{"whatif", weak, "--state", "hi"}, 0, {"sound circuit"}},
        {{"whatif", lesson}, 3, {"is a lesson"}},
        {{"match", lesson}, 3, {"is a lesson"}},
        {{"match", weak, weak}, 2, {"match takes one file"}},
        {{"check"}, 2, {"check needs a file"}},
        {{"check", "-"}, 3, {"NOT OK; 1 error"}},
        {{"teach", lesson, "--handout", "--format", "json"}, 2, {"sheets are text"}},
        {{"teach", "-"}, 2, {"the lesson cannot"}},
        {{"teach", weak}, 2, {"is a job; teach takes a lesson or a circuit"}},
        {{"teach", cab, "--handout", "--seed", "2"}, 0, {"Drawn at random"}},
        {{"teach", lesson, "--level", "9"}, 2, {"from 1 to 3, found '9'"}},
        {{"teach", "--progress", "-"}, 0, {"who"}},
        {{"teach", "--progress", "none.csv"}, 4, {"cannot read 'none.csv'"}},
        {{"teach", lesson, "--who", "A1", "--progress", "p.csv"}, 2, {"one to four letters"}},
        {{"teach"}, 2, {"teach needs a lesson or a circuit"}},
        {{"deck", cab, "-o", "/nowhere/x.cir"}, 4, {"cannot write /nowhere/x.cir"}},
        {{"show", cab, "--svg", "/nowhere/x.svg"}, 4, {"cannot write /nowhere/x.svg"}},
        {{"new", "low-side-pack", "-o", "/nowhere/x.toml"}, 4, {"cannot write /nowhere/x.toml"}},
        {{"new", "low-side-pack", "-o", there.path()}, 2, {"exists already"}},
        {{"serve", "-"}, 2, {"a pipe is none"}},
        {{"serve", "none.toml"}, 3, {"No such file"}},
        {{"serve", cab}, 2, {"is a circuit; readings are kept in a job file"}},
        {{"read", "none.job.toml", "hi M1 slow"}, 4, {"cannot open none.job.toml"}},
        {{"read", "-", "hi M1 slow"}, 2, {"'-' is none"}},
        {{"match", weak, "--read-from", "none.txt"}, 3, {"cannot read 'none.txt'"}},
        {{"prove", cab}, 1, {"NOT PROVED"}},
        {{"prove", weak, "--after", "hi M1 normal", "--repaired", "C101.4 new terminal"}, 1, {"NOT PROVED"}},
    });
    const Said piped = command_line({"match", cab, "--read-from", "-", "--format", "json"}, {},
                                    "hi M1 slow\n\n# note\nlo M1 normal\n");
    CHECK(piped.status == 0);
    CHECK(contains(piped.out, "\"fault\""));
    const Said wrong = command_line({"match", cab, "--read-from", "-"}, {}, "1 = \"hi M1 slow\"\nhi frobs\n");
    CHECK(wrong.status == 3);
    CHECK(contains(wrong.err, "-:2:4"));
}
