// Pipes, standard input and output, and outputs that fail: as a shell shows them.
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <random>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

ProcessResult shell(const std::string& script) {
    return run_process({"bash", "-c",
                        "cd '" + std::string(PROJECT_DIR) + "/scenarios/bookmobile' && v='" +
                            std::string(VOLTFALL_BINARY) + "' && " + script});
}

/// Circuits and lessons lie beside the job: the path that it names counts from there.
const std::string lessons = "cd ../lessons && ";

}  // namespace

TEST_CASE("- is a circuit, a job or a lesson, by what it says") {
    const ProcessResult circuit = shell("cat cab-blower.toml | $v check -");
    INFO(circuit.out << circuit.err);
    CHECK(circuit.status == 0);
    CHECK(contains(circuit.out, "-: OK; 11 parts"));
    const ProcessResult job = shell("cat weak-air.job.toml | $v check -");
    CHECK(job.status == 0);
    const ProcessResult lesson = shell(lessons + "cat dark-lamp.toml | $v check -");
    INFO(lesson.out << lesson.err);
    CHECK(lesson.status == 0);
    for (const std::string command : {"match", "next", "prove", "show", "protect", "faults --top 3", "plan"}) {
        const ProcessResult named = shell("$v " + command + " weak-air.job.toml");
        const ProcessResult piped = shell("cat weak-air.job.toml | $v " + command + " -");
        INFO(command << "\n" << piped.out << piped.err);
        CHECK(piped.status == named.status);
        CHECK(piped.out.size() + 200 > named.out.size());
        CHECK_FALSE(piped.out.empty());
    }
    CHECK(shell(lessons + "cat dark-lamp.toml | $v teach --show -").status == 0);
    CHECK(shell(lessons + "cat dark-lamp.toml | $v report - -o - | head -c 15").out == "<!DOCTYPE html>");
    CHECK(shell(": | $v check -").status == 3);
}

TEST_CASE("a pipe is read once") {
    for (const std::string& script :
         {std::string("$v check <(cat cab-blower.toml)"),
          std::string("$v check <(cat weak-air.job.toml) cab-blower.toml"), lessons + "$v check <(cat dark-lamp.toml)",
          lessons + "$v teach --handout <(cat dark-lamp.toml)", std::string("$v match <(cat weak-air.job.toml)"),
          std::string("$v report <(cat cab-blower.toml) -o - | head -c 15")}) {
        const ProcessResult said = shell(script);
        INFO(script << "\n" << said.out << said.err);
        CHECK(said.status == 0);
    }
}

TEST_CASE("-o - is standard output, and a pipe or a device is written into") {
    const ProcessResult deck = shell("$v deck cab-blower.toml --state hi");
    CHECK(shell("$v deck cab-blower.toml --state hi -o -").out == deck.out);
    CHECK(shell("$v deck cab-blower.toml --state hi -o /dev/stdout | cat").out == deck.out);
    CHECK(contains(shell("$v plan weak-air.job.toml -o -").out, "<svg "));
    CHECK(contains(shell("$v show cab-blower.toml --svg -").out, "<svg "));
    CHECK(contains(shell(lessons + "$v teach dark-lamp.toml --seal -o -").out, "circuit"));
    const ProcessResult full = shell("$v deck cab-blower.toml -o /dev/full");
    CHECK(full.status == 4);
    CHECK(contains(full.err, "disk is full"));
}

TEST_CASE("readings come from a list, a pipe or a meter's log") {
    const ScratchFile list("list.txt",
                           "# at the kerb\n\n[readings]\n5 = \"key run, hi  M1.1 to B1-  10.20V\"\n"
                           "key run, hi  clamp 542  12.4 A DC\n"
                           "key run, hi  M1.2 to B1-  2026-11-29,10:12:03,0.12,V,DC,AUTO\n");
    const ProcessResult from_file = shell("$v match cab-blower.toml --why --read-from " + list.path());
    INFO(from_file.out << from_file.err);
    CHECK(from_file.status == 0);
    CHECK(contains(from_file.out, "3 readings weighed"));
    CHECK(contains(from_file.out, "--read-from"));
    CHECK(contains(
        shell("cat " + list.path() + " | $v match cab-blower.toml --why --read-from - --read \"fuse F7 good\"").out,
        "4 readings weighed"));
    const ScratchFile bad("bad.txt", "key run, hi  M1.1 to B1-  10.20V\nhi  M1.1 to Q7  1V\n");
    const ProcessResult told = shell("$v match cab-blower.toml --read-from " + bad.path());
    CHECK(told.status == 3);
    CHECK(contains(told.err, "bad.txt:2:"));
    CHECK(contains(told.err, "Q7"));
    CHECK(shell("cat weak-air.job.toml | $v match - --read-from -").status == 2);
    CHECK(shell("$v match cab-blower.toml --read-from /no/such/list").status == 3);
}

TEST_CASE("a list of readings is read as any file is: marks, limits, encodings") {
    const ScratchFile marked("marked.txt", "\xEF\xBB\xBFkey run, hi  clamp 541  AUTO 12.4 A DC\r\n");
    CHECK(shell("$v match cab-blower.toml --read-from " + marked.path()).status == 0);
    std::string many;
    for (int i = 0; i < 1001; ++i) many += "key run, hi  clamp 541  12.4A\n";
    const ScratchFile long_list("many.txt", many);
    const ProcessResult refused = shell("$v match cab-blower.toml --read-from " + long_list.path());
    CHECK(refused.status == 3);
    CHECK(contains(refused.err, "more than 1000 readings"));
    const ScratchFile wide("wide.txt", std::string("\xFF\xFEh\0i\0", 6));
    const ProcessResult utf16 = shell("$v match cab-blower.toml --read-from " + wide.path());
    CHECK(utf16.status == 3);
    CHECK(contains(utf16.err, "UTF-16"));
}

TEST_CASE("an output that cannot be written is said, whatever was asked for") {
    for (const std::string command : {"--help", "--version", "check --help", "new", "check cab-blower.toml",
                                      "show cab-blower.toml", "deck cab-blower.toml -o -", "match weak-air.job.toml"}) {
        for (const std::string output : {"> /dev/full", ">&-"}) {
            const ProcessResult said = shell("$v " + command + " " + output);
            INFO(command << " " << output << ": " << said.err);
            CHECK(said.status == 4);
            CHECK(contains(said.err, "cannot write the answer"));
        }
    }
    CHECK(shell("$v check cab-blower.toml 2>&-").status == 0);
    CHECK(shell("$v check - <&-").status == 3);
}

TEST_CASE("what is meant for a closed output never lands in a file") {
    const ScratchFile copy("open.job.toml");
    const ProcessResult said =
        shell("d=$(dirname " + copy.path() + "); cp cab-blower.toml $d; cp weak-air.job.toml " + copy.path() +
              "; $v read " + copy.path() + " 'key run, hi  across C101.4  3.6V' >&- 2>&-; tail -n 3 " + copy.path() +
              "; $v check " + copy.path() + " > /dev/null");
    INFO(said.out << said.err);
    CHECK(said.status == 0);
    CHECK_FALSE(contains(copy.text(), "kept as reading"));
    CHECK(contains(copy.text(), "9 = \"key run, hi  across C101.4  3.6V\""));
}

TEST_CASE("a reader that goes away ends every command without a word") {
    for (const std::string command : {"faults cab-blower.toml --top 1000", "show cab-blower.toml", "--help",
                                      "report cab-blower.toml -o -", "deck cab-blower.toml -o -"}) {
        const ProcessResult said = shell("( $v " + command + "; echo status $? >&2 ) | true");
        INFO(command << ": " << said.err);
        CHECK((contains(said.err, "status 141") || contains(said.err, "status 0")));
        CHECK_FALSE(contains(said.err, "voltfall:"));
    }
}

TEST_CASE("an interrupt at any moment is 130 and leaves no file behind") {
    const ScratchFile page("report.html");
    const std::string folder = std::filesystem::path(page.path()).parent_path().string();
    std::mt19937 random(3);
    const auto handled = signal(SIGINT, SIG_DFL);  // the children's from their first moment on
    for (int number = 0; number < 25; ++number) {
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            setenv("TMPDIR", folder.c_str(), 1);
            (void)!freopen("/dev/null", "w", stderr);
            execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "report", scenario("weak-air.job.toml").c_str(), "-o",
                  page.path().c_str(), "--force", static_cast<char*>(nullptr));
            _exit(1);
        }
        usleep(static_cast<useconds_t>(2000 + random() % 900000));
        kill(child, SIGINT);
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        const bool by_signal = WIFSIGNALED(status) && WTERMSIG(status) == SIGINT;  // a shell shows 130
        const int code = WIFEXITED(status) ? WEXITSTATUS(status) : 0;
        INFO("ended with " << status);
        CHECK((by_signal || code == 130 || code == 0));
        const std::string text = page.text();
        CHECK((text.empty() || text.ends_with("</html>\n")));
    }
    signal(SIGINT, handled);
    usleep(100000);
    for (const auto& entry : std::filesystem::directory_iterator(folder)) CHECK(entry.path() == page.path());
}
