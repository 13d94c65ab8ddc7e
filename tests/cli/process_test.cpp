// What only a real process shows: exit status, pipes, an interrupt.
#include <fcntl.h>
#include <csignal>

#include <sys/wait.h>
#include <unistd.h>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

ProcessResult shell(const std::string& script) {
    return run_process({"sh", "-c", script});
}

std::string quoted(const std::string& path) {
    return "'" + path + "'";
}

const std::string program = quoted(VOLTFALL_BINARY);

/// A motor behind so many connectors in a row that weighing its faults takes seconds.
std::string chain_circuit(int count) {
    std::string text =
        "format = 1\nname = \"chain\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
        "F1 = \"fuse 40A maxi, feed 30\"\nM1 = \"motor 20A @13.5V, 3500rpm, stall 80A\"\n"
        "S1 = \"switch C: off on=1\"\nG1 = \"ground stud\"\n";
    std::string wires = "[wires]\nw0 = \"F1.2 > C1.1 3mm2 RD 1m\"\n";
    for (int i = 1; i <= count; ++i) {
        text += "C" + std::to_string(i) + " = \"connector inline, 2 way\"\n";
        const std::string to = i < count ? "C" + std::to_string(i + 1) + ".1" : "S1.C";
        wires += "w" + std::to_string(i) + " = \"C" + std::to_string(i) + ".1 > " + to + " 3mm2 RD 1m\"\n";
    }
    return text + wires +
           "wa = \"S1.1 > M1.1 3mm2 RD 1m\"\nwb = \"M1.2 > G1 3mm2 BK 1m\"\n[controls]\nS1 = \"blower\"\n";
}

}  // namespace

TEST_CASE("the exit status reaches the shell") {
    CHECK(run_process({VOLTFALL_BINARY, "check", scenario("cab-blower.toml")}).status == 0);
    CHECK(run_process({VOLTFALL_BINARY, "chekc"}).status == 2);
    CHECK(run_process({VOLTFALL_BINARY, "show", "no-such-file.toml"}).status == 3);
}

TEST_CASE("the answer is on stdout and messages are on stderr") {
    const ProcessResult good = run_process({VOLTFALL_BINARY, "whatif", scenario("cab-blower.toml"), "--state", "hi"});
    CHECK(good.status == 0);
    CHECK(contains(good.out, "M1"));
    CHECK(good.err.empty());
    CHECK_FALSE(contains(good.out, "\x1b["));
    const ProcessResult bad = run_process({VOLTFALL_BINARY, "whatif", "no-such-file.toml"});
    CHECK(bad.out.empty());
    CHECK_FALSE(bad.err.empty());
}

TEST_CASE("COLUMNS sets the width of the page in a pipe") {
    const std::string command = program + " whatif " + quoted(scenario("cab-blower.toml")) + " --state hi";
    CHECK(widest_line(shell("COLUMNS=44 " + command).out) <= 44);
    CHECK(shell("COLUMNS=nonsense " + command).out == shell("unset COLUMNS; " + command).out);
}

TEST_CASE("a pipe that closes early ends the program without a word") {
    const ProcessResult said =
        shell(program + " faults " + quoted(scenario("cab-blower.toml")) + " --state hi --format plain | head -n 1");
    CHECK(said.status == 0);
    CHECK(lines_of(said.out).size() == 1);
    CHECK(said.err.empty());
}

TEST_CASE("a full disk is said") {
    const ProcessResult said = shell(program + " check " + quoted(scenario("cab-blower.toml")) + " > /dev/full");
    CHECK(said.status == 4);
    CHECK(contains(said.err, "cannot write the answer"));
}

TEST_CASE("an interrupt of long work ends it with its own status and a word") {
    const ScratchFile circuit("chain.toml", chain_circuit(250));
    const ScratchFile says("err.txt");
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        const int err = open(says.path().c_str(), O_WRONLY | O_CREAT, 0600);
        dup2(err, STDERR_FILENO);
        execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "match", circuit.path().c_str(), "--read",
              "key run, on  M1.1 to B1-  10.3V", static_cast<char*>(nullptr));
        _exit(1);
    }
    usleep(700000);
    kill(child, SIGINT);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    REQUIRE(WIFEXITED(status));
    CHECK(WEXITSTATUS(status) == 130);
    CHECK(contains(says.text(), "interrupted"));
}

TEST_CASE("an interrupt ends the program at once") {
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        // Waits for a circuit on stdin that never comes.
        int ends[2];
        if (pipe(ends) != 0) _exit(1);
        dup2(ends[0], STDIN_FILENO);
        execl(VOLTFALL_BINARY, VOLTFALL_BINARY, "whatif", "-", static_cast<char*>(nullptr));
        _exit(1);
    }
    usleep(200000);
    kill(child, SIGINT);
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    const bool by_signal = WIFSIGNALED(status) && WTERMSIG(status) == SIGINT;  // a shell shows 130
    CHECK((by_signal || (WIFEXITED(status) && WEXITSTATUS(status) == 130)));
}
