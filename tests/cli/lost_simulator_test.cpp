// The program with a simulator that leaves, answers nonsense, hangs or is not there: never a diagnosis from a broken
// machine.
#include <filesystem>
#include <fstream>
#include <iterator>

#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/tools/process.hpp"

using namespace voltfall;

namespace {

/// Runs the program with the library of that folder in the simulator's place.
ProcessResult with_library_of(const std::filesystem::path& folder, const std::string& plan,
                              const std::vector<std::string>& words, const std::vector<std::string>& environment = {}) {
    std::vector<std::string> all = {"env", "LD_LIBRARY_PATH=" + folder.string(), "VOLTFALL_STANDIN=" + plan,
                                    "VOLTFALL_SIMULATOR_SECONDS=2"};
    all.insert(all.end(), environment.begin(), environment.end());
    all.emplace_back(VOLTFALL_BINARY);
    all.insert(all.end(), words.begin(), words.end());
    return run_process(all);
}

/// Runs the program with the stand-in library in the simulator's place.
ProcessResult with_standin(const std::string& plan, const std::vector<std::string>& words,
                           const std::vector<std::string>& environment = {}) {
    return with_library_of(std::filesystem::path(STANDIN_LIBRARY).parent_path(), plan, words, environment);
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

TEST_CASE("a difference between the solvers is told as a bug, with its case in a file that the simulator reads") {
    const std::filesystem::path folder = std::filesystem::temp_directory_path() / "voltfall-case-test";
    std::filesystem::remove_all(folder);
    std::filesystem::create_directory(folder);
    const std::string job = scenario("weak-air.job.toml");
    const ProcessResult said = with_standin("shift 1", {"match", job}, {"TMPDIR=" + folder.string()});
    INFO(said.out << said.err);
    CHECK(said.status == 70);
    CHECK(contains(said.err, "the two solvers differ by 4e-06 V"));
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        if (entry.path().filename().string().starts_with("voltfall-case-")) files.push_back(entry.path());
    }
    REQUIRE(files.size() == 1);
    CHECK(contains(said.err, files.front().string()));
    std::ifstream in(files.front());
    const std::string text{std::istreambuf_iterator<char>(in), {}};
    CHECK(contains(text, "'match' '" + job + "'"));
    CHECK(contains(text, "-4e-06"));
    const ProcessResult solved = run_process({"ngspice", "-b", files.front().string()});
    INFO(solved.out << solved.err);
    CHECK(solved.status == 0);
    CHECK(contains(solved.out, "n1 = "));
    std::filesystem::remove_all(folder);
}

TEST_CASE("a simulator that hangs is given up after its time limit") {
    const ProcessResult said = with_standin("hang 2", {"whatif", scenario("cab-blower.toml")});
    INFO(said.err);
    CHECK(said.status == 4);
    CHECK(contains(said.err, "does not answer"));
}

TEST_CASE("a simulator that is not there ends every command that needs it with status 4 and the reason") {
    // A file of that name which is no library: the loader looks no further.
    const ScratchFile broken("libngspice.so.0", "no library");
    const std::filesystem::path folder = std::filesystem::path(broken.path()).parent_path();
    std::vector<Asked> asked_for = every_answer();
    asked_for.push_back({{"--version"}});
    for (const Asked& asked : asked_for) {
        const ProcessResult said = with_library_of(folder, "leave 0", asked.words);
        INFO(line_of(asked) << ": status " << said.status << "\n" << said.out << said.err);
        CHECK(said.status == 4);
        CHECK(contains(said.err, "the circuit simulator is not there: "));
        CHECK(contains(said.err, "libngspice.so.0"));
        CHECK(said.out.empty());
    }
}

TEST_CASE("what needs no simulator goes on without one") {
    const ScratchFile broken("libngspice.so.0", "no library");
    const std::filesystem::path folder = std::filesystem::path(broken.path()).parent_path();
    const std::string circuit = scenario("cab-blower.toml");
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"check", circuit}, {"show", circuit}, {"--help"}}) {
        const ProcessResult said = with_library_of(folder, "leave 0", words);
        INFO(words.front() << "\n" << said.err);
        CHECK(said.status == 0);
        CHECK(said.out == run_process([&] {
                              std::vector<std::string> all = {VOLTFALL_BINARY};
                              all.insert(all.end(), words.begin(), words.end());
                              return all;
                          }())
                              .out);
    }
}
