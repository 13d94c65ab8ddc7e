// Command lines that are typed in a hurry, lists of readings, lines at the bench and at the vehicle: what is answered.
#include "tests/cli/asked_rows.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const std::string lessons = std::string(PROJECT_DIR) + "/scenarios/lessons/";

/// What the shell offers behind these words.
std::vector<std::string> offered(std::vector<std::string> words) {
    words.insert(words.begin(), {"complete", "--"});
    return lines_of(command_line(words).out);
}
bool has(const std::vector<std::string>& lines, const std::string& word) {
    return std::find(lines.begin(), lines.end(), word) != lines.end();
}

}  // namespace

TEST_CASE("a circuit whose wiring cannot be right is computed by no command") {
    const std::string no_ground = head +
                                  "F1 = \"fuse 10A mini, feed 30\"\nL1 = \"lamp 21W\"\n[wires]\n"
                                  "1 = \"F1.2 > L1.1 1mm2 RD 1m\"\n";
    for (const char* command : {"match", "next", "plan", "prove", "show", "whatif", "faults", "protect", "deck"})
        check_rows({{{command}, 3, {"L1.2 has no wire, so L1 has no way back to ground"}, no_ground}});
    check_rows({{{"report", "-o", "-"}, 3, {"L1 has no way back to ground"}, no_ground},
                {{"teach"}, 3, {"L1 has no way back to ground"}, no_ground},
                {{"help", "states", "none.toml"}, 3, {"No such file"}}});
}

TEST_CASE("one word too many, a forgotten value and a file that is none are told with what is wanted") {
    check_rows({
        {{"match", weak, "-"}, 2, {"match takes one file; '-' is one too many"}},
        {{"match", weak, "--read"}, 2, {"match", "--read"}},
        {{"match", weak, "--read", "--why"}, 2, {"needs a value, found '--why'"}},
        {{"match", weak, "--wyh=3"}, 2, {"unknown option '--wyh'", "did you mean '--why'?"}},
        {{"match", weak, "--frobnicate"}, 2, {"unknown option '--frobnicate'", "voltfall match --help lists them"}},
        {{"--frobnicate", "match"}, 2, {"unknown option '--frobnicate'", "voltfall --help lists them"}},
        {{"next", "no-such.toml"}, 3, {"No such file"}},
        {{"new", "-o", "x.toml"}, 2, {"which circuit is to be written?"}},
        {{"new", "--from", "no-such.csv"}, 3, {"cannot read 'no-such.csv'"}},
        {{"help", "mat"}, 2, {"there is no help on 'mat'"}},
        {{"whatif", cab, "--start", "3", "--state", "hi"}, 0, {"start"}},
        {{"whatif", cab, "--start", "--state", "hi"}, 0, {"start"}},
        {{"deck", cab, "--state", "off, lamp in F7", "--format", "json"}, 0, {"\"deck\""}},
        {{"match", weak, "--workers", "1", "--top", "2", "--why"}, 0, {"more: --top"}},
        {{"match", weak, "--all"}, 0, {"readings weighed"}},
    });
}

TEST_CASE("a list of readings takes lines of a job and bare ones, and notes between them") {
    const auto listed = [](const std::string& lines) {
        return command_line({"match", cab, "--why", "--read-from", "-"}, {}, lines);
    };
    const Said both = listed("\n# note\n[readings]\n  3 = \"hi  M1 slow\"\nlo  M1 normal\n   \n");
    INFO(both.out << both.err);
    CHECK(both.status == 0);
    CHECK(contains(both.out, "2 readings weighed"));
    for (const char* line : {"3 = hi M1 slow\n", "3 = \"\n", "\"hi\" = M1 slow\n", "3 x = \"hi M1 slow\" y\n",
                             "3 = odd \"hi M1 slow\"\n"}) {
        const Said told = listed(std::string("hi M1 slow\n") + line);
        INFO(line << told.err);
        CHECK(told.status == 3);
        CHECK(contains(told.err, "-:2:"));
    }
    CHECK(contains(command_line({"match", "-", "--read-from", "-"}, {}, "").err, "is empty"));
}

TEST_CASE("a shell is offered no more than helps, and nothing behind what takes nothing") {
    std::string parts = head + "F1 = \"fuse 40A maxi, feed 30\"\nL1 = \"lamp 21W\"\n";
    std::string wires = "[wires]\n0 = \"F1.2 > C1.1 1mm2 RD 1m\"\n99 = \"L1.2 > G1 1mm2 BK 1m\"\n";
    for (int i = 1; i <= 60; ++i) {
        const std::string n = std::to_string(i);
        parts += "C" + n + " = \"connector\"\n";
        wires += n + " = \"C" + n + ".1 > " + (i < 60 ? "C" + std::to_string(i + 1) : "L1") + ".1 1mm2 RD 1m\"\n";
    }
    const ScratchFile chain("chain.toml", parts + wires);
    CHECK(offered({"whatif", chain.path(), "--fault", ""}).size() == 400);
    CHECK(has(offered({"whatif", cab, "--fault", ""}), "R1 limiter open"));
    CHECK(offered({"whatif", "--fault", "R1"}).empty());
    CHECK(has(offered({"whatif", cab, "--all", "C1"}), "C101"));
    CHECK(has(offered({"whatif", cab, "--nonsense", "C1"}), "C101"));
    CHECK(has(offered({"match", weak, "--format", ""}), "json"));
    CHECK(has(offered({"match", weak, "--color", "al"}), "always"));
    CHECK(has(offered({"deck", cab, "-o", ""}), "*files"));
    CHECK(offered({"match", weak, "--top", ""}).empty());
    CHECK(has(offered({"match", weak, "--read", "hi  clamp 5"}), "hi  clamp 541"));
    CHECK(has(offered({"--quiet", "ma"}), "match"));
    CHECK(has(offered({"match", "no-such.toml", "M"}), "*files"));
    CHECK_FALSE(has(offered({"match", lessons, "M"}), "M1"));
}

TEST_CASE("at a bench a suspect may stand alone, with its test, or be the last one again") {
    const auto taught = [](const std::string& name, const std::string& lines,
                           const std::vector<std::string>& more = {}) {
        std::vector<std::string> words{"teach", lessons + name + ".toml"};
        words.insert(words.end(), more.begin(), more.end());
        const Said said = command_line(words, {}, lines + "quit\n");
        return joined(said.out + said.err);
    };
    const std::string named = taught("dark-lamp", "same\nsuspect S1:\nsame:\nsame\nSUSPECT  L1 \nsuspect\n?\n");
    INFO(named);
    CHECK(contains(named, "no suspect was named yet: suspect feed"));
    CHECK(contains(named, "suspect S1"));
    CHECK(contains(named, "suspect L1"));
    CHECK(contains(named, "'' is nothing of this circuit"));
    CHECK(contains(named, "every position, what works in it"));
    const std::string hinted = taught("dark-lamp", "hint\nhint\nhint\nhint\nbill\nnew F1\nbill\nfrobnicate it\n");
    CHECK(contains(hinted, "there are no more hints"));
    CHECK(contains(hinted, "parts none"));
    CHECK(contains(hinted, "parts F1"));
    CHECK(contains(hinted, "frobnicate"));
    CHECK(contains(taught("dark-lamp", "hint\n", {"--level", "3"}), "no hints at level 3"));
    const std::string again =
        taught("dark-lamp", "suspect feed: on L1.1 to B1-\non L1.1 to B1-\nsame: on L1.1 to B1-\n");
    CHECK(contains(again, "first your suspect: same: on L1.1 to B1- (that is feed)"));
    CHECK(contains(again, "this told almost nothing that was not known"));
    // At level 1 what stands at nothing may be ground or an open point.
    CHECK(contains(taught("dark-lamp", "suspect S1: on L1.1 to B1-\n"),
                   "about 0 V: ground, or a point that nothing holds"));
    const std::string short_found =
        taught("fuse-goes-again", "suspect feed: off, lamp in F7 drop C101.4\nnew F7\nhi M1\n", {"--level", "1"});
    INFO(short_found);
    CHECK(contains(short_found, "with a lamp in the seat the last section that shows millivolts"));
}

TEST_CASE("a conversation at a mended vehicle asks for what proves it until nothing is left") {
    const auto text = [](const std::string& more) {
        return "format = 1\ncircuit = \"" + cab +
               "\"\nconcern = \"\"\n[readings]\n1 = \"key run, hi  blower slow\"\n"
               "2 = \"key run, hi  across C101.4  3.6V\"\n" +
               more;
    };
    const auto talk = [](const ScratchFile& job, const std::string& lines) {
        const Said said = command_line({"read", job.path()}, {}, lines + "quit\n");
        CHECK(said.status == 0);
        return joined(said.out + said.err);
    };
    const ScratchFile open("open.job.toml", text("[repaired]\nC101.4 = \"new terminal\"\n"));
    std::string skips;
    for (int i = 0; i < 40; ++i) skips += "skip\n";
    const std::string told = talk(open, "help\nlist\n" + skips);
    INFO(told);
    CHECK(contains(told, "next, after the repair: "));
    CHECK(contains(told, "repaired C101.4: new terminal"));
    CHECK(contains(told, "no test at hand closes what is open"));
    CHECK(contains(told, "there is no test to skip"));
    const ScratchFile bad("bad.job.toml", text("[repaired]\nC101.4 = \"new terminal\"\n[after]\n1 = \"key run, hi  "
                                               "blower slow\"\n"));
    const std::string still = talk(bad, "list\nkey run, hi  across C101.4  3.5V\nundo\n");
    INFO(still);
    CHECK(contains(still, "FAILED"));
    CHECK(contains(still, "after it 1"));
    CHECK(contains(still, "took out"));
    const ScratchFile bare("bare.job.toml", "format = 1\ncircuit = \"" + cab + "\"\nconcern = \"weak\"\n");
    const std::string begun =
        talk(bare, "list\nreplaced C101.4 new terminal\nundo\nmended nothing of it\nno fault found\n");
    INFO(begun);
    CHECK(contains(begun, "no reading yet"));
    CHECK(contains(begun, "took out"));
    CHECK(contains(bare.text(), "nothing = "));
}

TEST_CASE("the settings' order of precedence: options win, then the file, then the terminal") {
    const ScratchFile settings("voltfall.toml",
                               "format = 1\ncolumns = 60\ncolor = \"always\"\ntools = [\"lamp 21W\"]\n");
    Terminal terminal = page_of(100);
    terminal.settings = settings.path();
    const Said by_file = command_line({"next", weak}, terminal);
    CHECK(contains(by_file.out, "\x1b["));
    CHECK_FALSE(contains(command_line({"next", weak, "--color", "never"}, terminal).out, "\x1b["));
    // A job that names no instruments is worked with the person's own.
    const auto proposed = [&](const std::vector<std::string>& more) {
        std::vector<std::string> words{"next", cab, "--read", "hi M1 slow", "--all", "--color", "never"};
        words.insert(words.end(), more.begin(), more.end());
        return command_line(words, terminal).out;
    };
    CHECK_FALSE(contains(proposed({}), " clamp "));
    CHECK(contains(proposed({"--tools", "meter,clamp"}), " clamp "));
    terminal.settings = "/no/such/settings.toml";
    CHECK(contains(command_line({"next", weak}, terminal).err, "cannot read '/no/such/settings.toml'"));
    // What a small terminal has is not narrower than words can be.
    CHECK(command_line({"next", weak}, page_of(3)).status == 0);
}
