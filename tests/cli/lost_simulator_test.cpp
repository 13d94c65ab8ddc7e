// The program with a simulator that leaves, answers nonsense, hangs or is not there: never a diagnosis from a broken
// machine.
#include <filesystem>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

/// Runs the program with the stand-in library in the simulator's place.
ProcessResult with_standin(const std::string& plan, std::vector<std::string> words) {
    const std::string library = "LD_LIBRARY_PATH=" + std::filesystem::path(STANDIN_LIBRARY).parent_path().string();
    std::vector<std::string> all = {"env", library, "VOLTFALL_STANDIN=" + plan, "VOLTFALL_SIMULATOR_SECONDS=2",
                                    VOLTFALL_BINARY};
    all.insert(all.end(), words.begin(), words.end());
    return run_process(all);
}

struct Asked {
    std::vector<std::string> words;
};

std::vector<Asked> every_answer() {
    const std::string job = scenario("weak-air.job.toml");
    const std::string circuit = scenario("cab-blower.toml");
    const std::string lesson = std::string(PROJECT_DIR) + "/scenarios/lessons/dark-lamp.toml";
    return {{{"match", job}},
            {{"match", "--two", job}},
            {{"match", "--solver", "ngspice", job}},
            {{"next", job}},
            {{"plan", job}},
            {{"whatif", circuit, "--fault", "R1 limiter open"}},
            {{"protect", circuit}},
            {{"protect", "--solver", "ngspice", circuit}},
            {{"faults", "--solver", "ngspice", circuit}},
            {{"deck", circuit}},
            {{"teach", "--show", lesson}},
            {{"check", lesson}}};
}

std::string line_of(const Asked& asked) {
    std::string line;
    for (const std::string& word : asked.words) line += word + " ";
    return line;
}

}  // namespace

TEST_CASE("the stand-in library serves as the real one while it behaves") {
    const std::string job = scenario("weak-air.job.toml");
    const ProcessResult real = run_process({VOLTFALL_BINARY, "match", job});
    const ProcessResult standin = with_standin("leave 0", {"match", job});
    CHECK(standin.status == 0);
    CHECK(standin.out == real.out);
}

TEST_CASE("a simulator that leaves in mid-answer ends every command with status 4 and the reason") {
    for (const Asked& asked : every_answer()) {
        for (const std::string plan : {"leave 1", "leave 3"}) {
            if (plan == "leave 3" && asked.words.front() == "deck")
                continue;  // one operating point is all that it needs
            const ProcessResult said = with_standin(plan, asked.words);
            INFO(line_of(asked) << "with " << plan << ": status " << said.status << "\n" << said.out << said.err);
            CHECK(said.status == 4);
            CHECK(contains(said.err, "simulator"));
            CHECK_FALSE(contains(said.out, "leads"));
        }
    }
}

TEST_CASE("a simulator that answers nonsense is never believed") {
    for (const Asked& asked : every_answer()) {
        for (const std::string plan : {"zeros 2", "garbage 2", "silent 2"}) {
            const ProcessResult said = with_standin(plan, asked.words);
            INFO(line_of(asked) << "with " << plan << ": status " << said.status << "\n" << said.out << said.err);
            // Refused, or told as what it is: our own solver's answer alone.
            CHECK((said.status == 4 || said.status == 70 || contains(said.err, "not confirmed")));
            CHECK(said.out.find("nan") == std::string::npos);
        }
    }
}

TEST_CASE("a simulator that hangs is given up after its time limit") {
    const ProcessResult said = with_standin("hang 2", {"whatif", scenario("cab-blower.toml")});
    INFO(said.err);
    CHECK(said.status == 4);
    CHECK(contains(said.err, "does not answer"));
}
