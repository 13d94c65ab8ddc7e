// The sample runs of the README and of the reference are what the program prints. README_UPDATE=1 writes them anew.
#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "cli/commands/program.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;

namespace {

std::string read_all(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

/// Words of a command line with double quotes.
std::vector<std::string> split_command(const std::string& line) {
    std::vector<std::string> words;
    std::string word;
    bool quoted = false;
    bool any = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
            any = true;
        } else if (c == ' ' && !quoted) {
            if (any) words.push_back(word);
            word.clear();
            any = false;
        } else {
            word += c;
            any = true;
        }
    }
    if (any) words.push_back(word);
    return words;
}

/// What the program prints for `$ voltfall …`: stdout, then stderr; 80 columns, no terminal.
std::string printed_by(const std::string& command) {
    std::vector<std::string> words = split_command(command);
    words.erase(words.begin());
    std::istringstream in;
    // `< FILE`: what a learner types.
    if (const auto from = std::find(words.begin(), words.end(), "<"); from != words.end() && from + 1 != words.end()) {
        in.str(read_all(*(from + 1)));
        words.erase(from, words.end());
    }
    std::ostringstream out;
    std::ostringstream err;
    run(words, in, out, err, Terminal{false, false, 80, false}, voltfall::testing::start_ngspice);
    return out.str() + err.str();
}

/// The README with every sample's output replaced by what the program prints now.
std::string with_fresh_samples(const std::string& readme) {
    std::istringstream lines(readme);
    std::string result;
    std::string line;
    bool inside = false;
    bool skipping = false;
    while (std::getline(lines, line)) {
        const bool fence = line.rfind("```", 0) == 0;
        if (fence) {
            inside = !inside && line == "```console";
            skipping = false;
        }
        if (inside && line.rfind("$ voltfall ", 0) == 0) {
            result += line + "\n" + printed_by(line.substr(2));
            skipping = true;
            continue;
        }
        if (!skipping) result += line + "\n";
    }
    return result;
}

}  // namespace

TEST_CASE("the sample runs of the README and the reference are what the program prints") {
    std::filesystem::current_path(PROJECT_DIR);
    for (const std::string page : {"README.md", "cli/reference.md"}) {
        INFO(page);
        const std::string path = std::string(PROJECT_DIR) + "/" + page;
        const std::string text = read_all(path);
        REQUIRE(text.find("$ voltfall ") != std::string::npos);
        const std::string fresh = with_fresh_samples(text);
        if (std::getenv("README_UPDATE")) {
            std::ofstream(path, std::ios::binary) << fresh;
            continue;
        }
        CHECK(fresh == text);
    }
}

TEST_CASE("the README is read in one sitting") {
    const std::string text = read_all(std::string(PROJECT_DIR) + "/README.md");
    CHECK(std::count(text.begin(), text.end(), '\n') <= 260);
}

TEST_CASE("the README's picture is what the program draws") {
    std::filesystem::current_path(PROJECT_DIR);
    const std::string path = "scenarios/bookmobile/weak-air.svg";
    REQUIRE(read_all("README.md").find("](" + path + ")") != std::string::npos);
    const std::string drawn = printed_by(
        "voltfall whatif scenarios/bookmobile/cab-blower.toml --fault \"C101.4 resistance 0.3ohm\" --state \"hi, key "
        "run\" "
        "--svg -");
    REQUIRE(drawn.starts_with("<svg "));
    if (std::getenv("README_UPDATE")) {
        std::ofstream(path, std::ios::binary) << drawn;
        SUCCEED("drawn anew");
        return;
    }
    CHECK(drawn == read_all(path));
}

TEST_CASE("the answers have the keys that the reference's table names, in its order") {
    std::filesystem::current_path(PROJECT_DIR);
    std::istringstream readme(read_all("cli/reference.md"));
    const std::string circuit = "scenarios/bookmobile/cab-blower.toml";
    int rows = 0;
    for (const std::string command :
         {"check", "show", "whatif", "faults", "match", "next", "protect", "prove", "teach", "deck"}) {
        std::string row;
        readme.clear();
        readme.seekg(0);
        // The first of the two tables; the second has a record's fields.
        while (std::getline(readme, row) && !row.starts_with("| " + command + " | `")) {
        }
        INFO(command << ": " << row);
        std::vector<std::string> documented = {"schema", "command"};
        for (std::size_t at = row.find('`'); at != std::string::npos; at = row.find('`', at + 1)) {
            const std::size_t end = row.find('`', at + 1);
            documented.push_back(row.substr(at + 1, end - at - 1));
            at = end;
        }
        const bool reads_job = command == "match" || command == "next";
        const std::string file = reads_job            ? "scenarios/bookmobile/weak-air.job.toml"
                                 : command == "prove" ? "scenarios/bookmobile/weak-air-done.job.toml"
                                 : command == "teach" ? "scenarios/lessons/dark-lamp.toml"
                                                      : circuit;
        std::string line = "voltfall " + command + " " + file + " --format json";
        if (command == "check") line += " " + circuit;
        std::vector<std::string> keys;
        const auto answer = nlohmann::ordered_json::parse(printed_by(line));
        for (const auto& [key, value] : answer.items()) keys.push_back(key);
        CHECK(keys == documented);
        ++rows;
    }
    CHECK(rows == 10);
}
