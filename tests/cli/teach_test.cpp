// `teach` as a learner types it: through a pipe, line by line.
#include <fstream>

#include <nlohmann/json.hpp>

#include "netlists/files/lesson_file.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::string lesson(const std::string& name) {
    return std::string(PROJECT_DIR) + "/scenarios/lessons/" + name + ".toml";
}

Said taught(const std::string& name, const std::string& lines, std::vector<std::string> more = {}, int columns = 80) {
    std::vector<std::string> args{"teach", lesson(name)};
    args.insert(args.end(), more.begin(), more.end());
    return command_line(args, page_of(columns), lines);
}

/// What was said before the debrief.
std::string before_debrief(const std::string& out) {
    return out.substr(0, out.find("\nhidden "));
}

const std::string by_the_book =
    "try\n"
    "suspect feed: hi C304.1 to B1-\n"
    "suspect C101: hi drop C101.4\n"
    "repair C101.4 resistance\n"
    "hi drop C101.4\n"
    "done\n";

/// The training board is worked in a tenth of the time.
const std::string lamp_by_the_book =
    "try\n"
    "suspect S1: on S1.C to S1.1\n"
    "repair S1 contact on open\n"
    "on S1.C to S1.1\n"
    "done\n";

}  // namespace

TEST_CASE("a lesson is solved line by line through a pipe") {
    const Said said = taught("full-volts", by_the_book);
    CHECK(said.status == 0);
    CHECK(said.err.empty());
    CHECK(contains(said.out, "concern weak air on every speed, worst on high"));
    CHECK(contains(said.out, "C101.4@541 to C101.4@542 at hi, key run: 3.7"));
    CHECK(contains(said.out, "ruled out:"));
    CHECK(contains(said.out, "Solved: what failed is mended"));
    CHECK(contains(said.out, "hidden C101.4 resistance 0.3ohm"));
    CHECK(contains(said.out, "the tool's own plan took"));
    CHECK(contains(said.out, "lost in C101.4, 47 W of heat there"));
    CHECK(contains(said.out, "yours hi, key run C101.4@541 to C101.4@542 gave 3.7"));
    CHECK(contains(said.out, "proof hi, key run C101.4@541 to C101.4@542 gave"));
}

TEST_CASE("the same seed says the same bytes, another one reads a little otherwise") {
    const Said one = taught("dark-lamp", lamp_by_the_book, {"--seed", "3"});
    const Said again = taught("dark-lamp", lamp_by_the_book, {"--seed", "3"});
    const Said other = taught("dark-lamp", lamp_by_the_book, {"--seed", "4"});
    CHECK(one.out == again.out);
    CHECK(one.out != other.out);
    CHECK(other.status == 0);
}

TEST_CASE("nothing of the fault is said before the end") {
    const Said said = taught(
        "dark-lamp", "help\nmap\npoints\ntry\nbill\nhint\nhint\nhint\nhint\nsuspect feed: on L1.1 to B1-\ndone\n");
    CHECK(said.status == 1);
    CHECK_FALSE(contains(before_debrief(said.out), "S1 contact"));
    CHECK(contains(said.out, "hint: which half?"));
    CHECK(contains(said.out, "there are no more hints"));
    for (const std::string name : {"dark-lamp", "full-volts"}) {
        std::ifstream file(lesson(name));
        const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
        CHECK_FALSE(contains(text, "C101.4"));
        CHECK_FALSE(contains(text, "S1 contact"));
    }
}

TEST_CASE("a test wants a suspect first", "[checked]") {
    const Said said = taught(
        "dark-lamp",
        "on L1.1 to B1-\nsuspect C999\nsuspect feed\non L1.1 to B1-\non L1.2 to B1-\nsame\non L1.2 to B1-\nquit\n");
    CHECK(contains(said.out, "first your suspect, then the test: suspect feed: on L1.1 to B1-"));
    CHECK(contains(said.out, "'C999' is nothing of this circuit"));
    CHECK(contains(said.out, "first your suspect: same: on L1.2"));
    CHECK(contains(said.out, "L1.2 to B1- at on, key run:"));
}

TEST_CASE("the last suspect is kept in one line with the next test, which is taken as it is asked for", "[checked]") {
    const Said said =
        taught("dark-lamp", "same: on L1.2\nsuspect feed: on L1.1\nsame: voltage at L1.2\nsame check fuse F1\nquit\n");
    INFO(said.out);
    CHECK(contains(said.out, "no suspect was named yet"));
    CHECK(contains(said.out, "L1.2 to B1- at on, key run:"));
    CHECK(contains(said.out, "fuse F1"));
    CHECK_FALSE(contains(said.out, "is neither a setting"));
}

TEST_CASE("a load that nobody has switched on is off, and one that should run is dead", "[checked]") {
    const Said said = taught("dark-lamp", "try\noff L1\nquit\n");
    INFO(said.out);
    CHECK(contains(said.out, "off, key on  L1 off"));
    CHECK(contains(said.out, "on, key run  L1 out"));
    CHECK(contains(said.out, "L1 at off, key on: off"));
}

TEST_CASE("the map of a circuit with a module shows what commands it", "[checked]") {
    const Said said = taught("silent-panel", "map\nquit\n");
    INFO(said.out);
    CHECK(contains(said.out, "Z6 command C48.OUT > "));
    CHECK(contains(said.out, " > C47.CMD"));
}

TEST_CASE("at level 3 the suspect may be left out, and nothing is told before the end", "[checked]") {
    const Said refused = taught("dark-lamp", "done\n", {"--no-commit"});
    CHECK(refused.status == 2);
    CHECK(contains(refused.err, "--no-commit is for level 3"));
    const Said said = taught("dark-lamp", "on S1.C to S1.1\nhint\nrepair S1\ndone\n", {"--no-commit", "--level", "3"});
    CHECK(said.status == 0);
    CHECK_FALSE(contains(before_debrief(said.out), "ruled out"));
    CHECK(contains(said.out, "no hints at level 3"));
    CHECK(contains(said.out, "ruled out"));
}

TEST_CASE("an unsafe action, a blind test, a wrong part and a repair without its cause each have their debrief",
          "[checked]") {
    const Said unsafe = taught("fuse-goes-again", "new F7 60A\nnew F7\n");
    CHECK(unsafe.status == 1);
    CHECK(contains(unsafe.out, "unsafe: a fuse of 60 A where the diagram says 40 A"));
    CHECK(contains(unsafe.out, "risk an unsafe action ended the exercise"));
    const Said airbag = taught("quiet-roof-fan", "suspect feed: lamp C390.1 to B1-\n");
    CHECK(contains(airbag.out, "unsafe: C390 belongs to an airbag circuit"));
    const Said blind = taught("dim-lamp", "suspect feed: off L1.1 to B1-\ndone\n");
    CHECK(contains(blind.out, "could not show it"));
    const Said wrong = taught("dark-lamp", "new L1\ndone\n");
    CHECK(contains(wrong.out, "Not mended: what was changed was not what failed"));
    CHECK(contains(wrong.out, "1 fitted; for nothing: L1"));
    CHECK(contains(wrong.out, "guesses L1"));
    const Said victim = taught("three-dead-speeds", "try\nsuspect R1: mh R1.3 to B1-\nnew R1\nhi\nM1\ndone\n");
    CHECK(victim.status == 1);
    CHECK(contains(victim.out, "M1 drag 1.2 is why"));
}

TEST_CASE("a new fuse on a short is spent") {
    const Said said = taught("fuse-goes-again", "new F7\nnew F7\nrepair 542\nnew F7\ntry\ndone\n");
    CHECK(contains(said.out, "fitted F7: blew at once"));
    CHECK(contains(said.out, "fitted F7: holds"));
    CHECK(contains(said.out, "3 fitted; for nothing: F7, F7"));
}

TEST_CASE("a sound vehicle asks for the courage to say so") {
    CHECK(taught("weaker-than-it-was", "try\nhi clamp 542\nsay nothing\ndone\n", {"--no-commit"}).status == 0);
    const Said wrong = taught("weaker-than-it-was", "new M1\ndone\n", {"--no-commit"});
    CHECK(wrong.status == 1);
    CHECK(contains(wrong.out, "A sound part was renewed for nothing: the vehicle was sound"));
}

TEST_CASE("what is not understood is explained and costs nothing", "[checked]") {
    const Said said = taught(
        "dark-lamp", "suspect feed: on M9.1 to B1-\nmake it so\nsuspect feed: clamp F1\n\n# a note\nbill\nquit\n");
    CHECK(contains(said.out, "no point is called 'M9.1'"));
    CHECK(contains(said.out, "a clamp goes around one wire"));
    CHECK(contains(said.out, "minutes 0 min of tests"));
    CHECK(said.status == 1);
}

TEST_CASE("an input that ends gives up") {
    const Said said = taught("dark-lamp", "try\n");
    CHECK(said.status == 1);
    CHECK(contains(said.out, "the input has ended: given up"));
    CHECK(contains(said.out, "Not mended: nothing was repaired"));
}

TEST_CASE("pages fit 44 and 80 columns") {
    for (const int columns : {44, 80}) {
        const Said said = taught("dark-lamp", "help\nmap\npoints\nbill\nhint\n" + lamp_by_the_book, {}, columns);
        // What was typed is written as it was typed.
        for (const std::string& line : lines_of(said.out)) {
            if (contains(line, "] > ")) continue;
            INFO(line);
            CHECK(text_width(line) <= columns);
        }
        for (const std::string sheet : {"--handout", "--reveal", "--show"})
            CHECK(widest_line(taught("lorry-after-washing", "", {sheet}, columns).out) <= columns);
    }
}

TEST_CASE("the handout keeps the secret, the teacher's sheet tells it, the worked run says why") {
    const Said handout = taught("full-volts", "", {"--handout"});
    CHECK(handout.status == 0);
    CHECK_FALSE(contains(handout.out, "C101.4 resistance"));
    CHECK(contains(handout.out, "suspect __________"));
    const Said reveal = taught("full-volts", "", {"--reveal"});
    CHECK(reveal.status == 0);
    CHECK(contains(reveal.out, "hidden C101.4 resistance 0.3ohm"));
    CHECK(contains(reveal.out, "trap off C304.1 to B1- (blind): reads 12.60 V, sound 12.60 V"));
    CHECK(contains(reveal.out, "meets good volts unloaded"));
    CHECK(contains(reveal.out, "result solved"));
    const Said worked = taught("full-volts", "", {"--show"});
    CHECK(contains(worked.out, "why tells"));
    CHECK(contains(worked.out, "would read"));
    CHECK(contains(worked.out, "repair C101.4"));
}

TEST_CASE("a lesson typed in plain words is sealed") {
    const ScratchFile plain("lesson.toml", "format = 1\ncircuit = \"" + scenario("cab-blower.toml") +
                                               "\"\ntitle = \"t\"\nconcern = \"c\"\nfault = [\"R1 limiter open\"]\n"
                                               "budget = \"60min\"\n");
    // The circuit's path counts from the lesson's folder; an absolute one is taken as it is.
    const Said sealed = command_line({"teach", plain.path(), "--seal"});
    CHECK(sealed.status == 0);
    CHECK_FALSE(contains(sealed.out, "limiter"));
    CHECK(contains(sealed.out, "sealed:"));
}

TEST_CASE("a circuit gives an exercise at random, the same for the same seed and level", "[checked]") {
    const auto concern = [](const std::string& seed, const std::string& level) {
        const Said said = command_line({"teach", scenario("training-board.toml"), "--seed", seed, "--level", level},
                                       page_of(80), "quit\n");
        CHECK(said.status == 1);
        CHECK(contains(said.out, "Drawn at random (level " + level));
        return said.out;
    };
    CHECK(concern("7", "1") == concern("7", "1"));
    CHECK(concern("7", "1") != concern("10", "1"));
    CHECK(concern("7", "1") != concern("7", "2"));
}

TEST_CASE("programs get the debrief alone") {
    const Said said = taught("dark-lamp", lamp_by_the_book, {"--format", "json"});
    CHECK(said.status == 0);
    const auto answer = nlohmann::json::parse(said.out);
    CHECK(answer["verdict"] == "SOLVED");
    CHECK(answer["hidden"][0] == "S1 contact on open");
    CHECK(answer["figures"]["parts"] == 1);
    CHECK(answer["figures"]["minutes"] == 8);
    CHECK(answer["proved"] == true);
    CHECK(answer["lesson"]["skill"] == "voltage drop");
    const Said plain = taught("dark-lamp", lamp_by_the_book, {"--format", "plain"});
    CHECK(plain.out.starts_with("lesson\t"));
    CHECK(contains(plain.out, "\nverdict\tSOLVED\t"));
}

TEST_CASE("results are added to a file, line by line, and shown by skill", "[checked]") {
    const ScratchFile progress("class.csv");
    const std::vector<std::string> more{"--progress", progress.path(), "--who", "AB"};
    CHECK(taught("dark-lamp", "done\n", {"--progress", progress.path()}).status == 2);
    CHECK(taught("dark-lamp", lamp_by_the_book, more).status == 0);
    CHECK(taught("dark-lamp", "new L1\ndone\n", more).status == 1);
    std::vector<std::string> lines = lines_of(progress.text());
    REQUIRE(lines.size() == 3);
    CHECK(lines[0].starts_with("date,who,lesson,"));
    CHECK(contains(lines[1], ",AB,"));
    CHECK(contains(lines[1], ",SOLVED,"));
    CHECK_FALSE(contains(progress.text(), "S1 contact"));
    // A line half written by a crash costs itself only.
    std::ofstream(progress.path(), std::ios::app) << "2026-01-01,AB,half";
    CHECK(taught("dark-lamp", lamp_by_the_book, more).status == 0);
    lines = lines_of(progress.text());
    REQUIRE(lines.size() == 5);
    CHECK(contains(lines[4], ",SOLVED,"));
    const Said shown = command_line({"teach", "--progress", progress.path()});
    CHECK(shown.status == 0);
    CHECK(contains(shown.out, "voltage drop"));
    CHECK(contains(shown.out, "2/3"));
    CHECK(contains(shown.out, "1 line could not be read"));
    CHECK(contains(command_line({"teach", "--progress", progress.path(), "--format", "plain"}).out,
                   "skill\tAB\tvoltage drop\t2\t3\t"));
}

TEST_CASE("check tries a lesson out and names no secret") {
    CHECK(command_line({"check", lesson("dark-lamp")}).status == 0);
    const ScratchFile bad(
        "lesson.toml", "format = 1\ncircuit = \"" + scenario("training-board.toml") +
                           "\"\ntitle = \"t\"\nconcern = \"c\"\nfault = [\"S1 contact on open\"]\nbudget = \"2min\"\n");
    const Said said = command_line({"check", bad.path()});
    CHECK(said.status == 3);
    CHECK(contains(said.out, "budget of 2 min"));
    CHECK_FALSE(contains(said.out, "S1 contact"));
}

TEST_CASE("teach says what it needs") {
    CHECK(command_line({"teach"}).status == 2);
    CHECK(command_line({"teach", "no-such-file.toml"}).status == 3);
    CHECK(command_line({"teach", lesson("dark-lamp"), "--level", "4"}).status == 2);
    CHECK(command_line({"teach", "--progress", "/no/such/folder/x.csv"}).status == 4);
}

TEST_CASE("a look in several positions is taken in the first of them, and says so") {
    const Said said = command_line({"teach", scenario("cab-blower.toml"), "--seed", "7"}, {},
                                   "suspect load: lo, ml, hi M1\nsuspect load: hi M1\nquit\n");
    const std::string both = said.out;
    const std::size_t first = both.find("one position at a time");
    CHECK(first != std::string::npos);
    CHECK(both.find("one position at a time", first + 1) == std::string::npos);
    CHECK(contains(both, "taken at lo"));
}
