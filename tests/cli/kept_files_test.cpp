// Results, sheets and pages in files: whole, or as they were. VOLTFALL_KILLS=1000 kills more often than CI does.
#include <fcntl.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <random>

#include "engine/lessons/progress_file.hpp"
#include "netlists/text/csv.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/kills.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

std::string lesson(const std::string& name) {
    return std::string(PROJECT_DIR) + "/scenarios/lessons/" + name + ".toml";
}

/// A row that says its number in its title.
std::string row(int number) {
    LearnerResult result;
    result.title = "row " + std::to_string(number);
    result.skill = "voltage drop";
    return progress_line(result, "AB", "2026-11-29");
}

std::size_t rows_of(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n')) - 1;
}

}  // namespace

TEST_CASE("a kill while results are added loses none and halves none") {
    const ScratchFile file("class.csv");
    std::mt19937 random(2);
    REQUIRE_FALSE(append_progress(file.path(), row(0)));
    std::size_t had = 1;
    int landed = 0;
    for (int number = 0; number < kills(100); ++number) {
        const pid_t child = fork();
        if (child == 0)
            for (int i = 0;; ++i) (void)append_progress(file.path(), row(i));
        usleep(static_cast<useconds_t>(300 + random() % 6000));
        kill(child, SIGKILL);
        waitpid(child, nullptr, 0);
        const auto read = read_progress(file.path());
        REQUIRE(read);
        REQUIRE(read->broken == 0);
        const std::string text = file.text();
        REQUIRE(text.ends_with('\n'));
        REQUIRE(rows_of(text) >= had);
        landed += rows_of(text) > had ? 1 : 0;
        had = rows_of(text);
    }
    CHECK(landed > 0);
}

TEST_CASE("a line of results whose figures cannot be is told as broken, and counts for nothing") {
    const std::string good = "2026-11-29,AB,x.toml,t,voltage drop,1,1,SOLVED,9,8,25,0,0,0,4,1,0,yes\n";
    const auto with = [&](std::size_t field, const std::string& figure) {
        std::vector<std::string> fields = cut_csv(good).front().fields;
        fields[field] = figure;
        return csv_line(fields);
    };
    std::string text = progress_header() + good;
    constexpr std::size_t minutes = 8;
    constexpr std::size_t plan_minutes = 9;
    constexpr std::size_t wrong_parts = 12;
    constexpr std::size_t guesses = 13;
    constexpr std::size_t tests = 14;
    constexpr std::size_t blind_tests = 15;
    std::size_t broken = 0;
    for (const std::size_t field : {minutes, plan_minutes, wrong_parts, guesses, tests, blind_tests}) {
        for (const char* figure : {"666666666666666666666666", "1e99", "1e999", "nan", "inf", "-1", "4x", "four"}) {
            text += with(field, figure);
            ++broken;
        }
    }
    const auto read = read_progress_text(text);
    REQUIRE(read);
    CHECK(read->broken == broken);
    REQUIRE(read->records.size() == 1);
    CHECK(read->records.front().runs == 1);
    CHECK(read->records.front().minutes == 9);
    CHECK(read->records.front().tests == 4);
    // What a line of its own never leaves out counts as nought.
    CHECK(read_progress_text(progress_header() + with(minutes, ""))->broken == 0);
}

TEST_CASE("two programs that add results at once lose none") {
    const ScratchFile file("class.csv");
    constexpr int each = 40;
    std::vector<pid_t> children;
    for (int program = 0; program < 2; ++program) {
        const pid_t child = fork();
        if (child == 0) {
            for (int i = 0; i < each; ++i)
                if (append_progress(file.path(), row(i))) _exit(1);
            _exit(0);
        }
        children.push_back(child);
    }
    for (const pid_t child : children) {
        int status = 0;
        waitpid(child, &status, 0);
        CHECK(status == 0);
    }
    CHECK(rows_of(file.text()) == 2 * each);
    CHECK(read_progress(file.path())->broken == 0);
}

TEST_CASE("a file that is no file of results is refused before the lesson begins, and stays") {
    const ScratchFile circuit("cab-blower.toml", "format = 1\nname = \"kept\"\n");
    const std::string before = circuit.text();
    const Said said = command_line({"teach", lesson("dark-lamp"), "--progress", circuit.path(), "--who", "AB"},
                                   page_of(80), "done\n");
    CHECK(said.status == 4);
    CHECK(contains(said.err, "is no file of results"));
    CHECK(said.out.empty());
    CHECK(circuit.text() == before);
    CHECK(append_progress(circuit.path(), row(1)));
    CHECK(circuit.text() == before);
    CHECK(command_line({"teach", "--progress", circuit.path()}).status == 4);
    CHECK(command_line({"teach", lesson("dark-lamp"), "--progress", "/no/such/folder/x.csv", "--who", "AB"}).status ==
          4);
}

TEST_CASE("results behind a link are added to the file that it names") {
    const ScratchFile file("class.csv");
    const std::string link = std::filesystem::path(file.path()).parent_path() / "link.csv";
    std::filesystem::create_symlink("class.csv", link);
    CHECK_FALSE(append_progress(link, row(1)));
    CHECK_FALSE(append_progress(link, row(2)));
    CHECK(std::filesystem::is_symlink(link));
    CHECK(rows_of(file.text()) == 2);
}

TEST_CASE("a lock that another program holds is said, and the result is shown instead of lost") {
    const ScratchFile file("class.csv", progress_header());
    const int held = open(file.path().c_str(), O_RDONLY);
    REQUIRE(flock(held, LOCK_EX) == 0);
    const Said said =
        command_line({"teach", lesson("dark-lamp"), "--progress", file.path(), "--who", "AB"}, page_of(80), "done\n");
    close(held);
    CHECK(said.status == 4);
    CHECK(contains(said.err, "is being changed by another program"));
    CHECK(contains(said.err, ",AB,"));
    CHECK(file.text() == progress_header());
}

TEST_CASE("a text that begins as a formula is shown by a spreadsheet, not computed") {
    for (const char* text : {"=1+1", "+1", "-1", "@SUM(A1)", " =1", "\t=1", "\r=1"})
        CHECK(spreadsheet_text(text) == "'" + std::string(text));
    CHECK(spreadsheet_text("Only high works") == "Only high works");
    CHECK(spreadsheet_text("").empty());
    LearnerResult result;
    result.title = "=HYPERLINK(\"http://example.org\")";
    CHECK(contains(progress_line(result, "AB", "2026-11-29"), ",\"'=HYPERLINK(\"\"http"));
}

TEST_CASE("an interrupted lesson leaves its row") {
    const ScratchFile file("class.csv");
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        dup2(ends[0], STDIN_FILENO);
        close(ends[0]);
        close(ends[1]);
        (void)!freopen("/dev/null", "w", stdout);
        execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "teach", lesson("dark-lamp").c_str(), "--progress", file.path().c_str(),
              "--who", "AB", static_cast<char*>(nullptr));
        _exit(1);
    }
    close(ends[0]);
    REQUIRE(write(ends[1], "try\n", 4) == 4);
    usleep(700000);
    kill(child, SIGINT);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    close(ends[1]);
    REQUIRE(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 130);
    CHECK(rows_of(file.text()) == 1);
    CHECK(contains(file.text(), ",AB,"));
}

TEST_CASE("-o writes the whole file or none, and force replaces it whole") {
    const ScratchFile file("deck.cir", "what stood there\n");
    const std::string circuit = scenario("cab-blower.toml");
    const Said kept = command_line({"deck", circuit, "-o", file.path()});
    CHECK(kept.status == 2);
    CHECK(contains(kept.err, "--force overwrites it"));
    CHECK(file.text() == "what stood there\n");
    // A file's size limit stands for the full disk: both fail in writing.
    const ProcessResult full = run_process({"bash", "-c",
                                            "trap '' XFSZ; ulimit -f 1; '" + std::string(VOLTFALL_BINARY) + "' deck '" +
                                                circuit + "' -o '" + file.path() + "' --force"});
    INFO(full.err);
    CHECK(full.status == 4);
    CHECK(file.text() == "what stood there\n");
    CHECK(command_line({"deck", circuit, "-o", file.path(), "--force"}).status == 0);
    CHECK(file.text().ends_with(".end\n"));
}

TEST_CASE("a lesson is sealed into a file, also into its own") {
    const std::string plain =
        "format = 1\ncircuit = \"" + scenario("training-board.toml") +
        "\"\ntitle = \"t\"\nconcern = \"c\"\nfault = [\"S1 contact on open\"]\nbudget = \"25min\"\n";
    const ScratchFile file("mine.toml", plain);
    CHECK(command_line({"teach", file.path(), "--seal", "-o", file.path()}).status == 2);
    CHECK(file.text() == plain);
    CHECK(command_line({"teach", file.path(), "--seal", "-o", file.path(), "--force"}).status == 0);
    CHECK_FALSE(contains(file.text(), "S1 contact"));
    CHECK(command_line({"teach", file.path(), "--handout"}).status == 0);
    CHECK(command_line({"teach", file.path(), "-o", "x"}).status == 2);
}
