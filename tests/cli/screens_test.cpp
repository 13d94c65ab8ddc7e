// The first screen of every command is the whole answer: at most 24 lines at 80 columns and 40 at 44, and nothing is
// cut inside a number. On samples of the circuits and jobs that the repository has.
#include <filesystem>

#include "cli/commands/command.hpp"
#include "cli/commands/help_text.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

namespace {

std::vector<std::string> files(bool jobs) {
    std::vector<std::string> found;
    for (const char* folder : {"bookmobile", "cases", "electronic", "held-rotor", "starters"}) {
        const std::filesystem::path path = std::filesystem::path(PROJECT_DIR) / "scenarios" / folder;
        for (const auto& entry : std::filesystem::directory_iterator(path)) {
            const std::string name = entry.path().string();
            if (entry.path().extension() == ".toml" && name.ends_with(".job.toml") == jobs) found.push_back(name);
        }
    }
    std::sort(found.begin(), found.end());
    return found;
}

/// One in `stride`, beginning at `first`: all of them take minutes.
std::vector<std::string> some_files(bool jobs, std::size_t stride, std::size_t first) {
    const std::vector<std::string> all = files(jobs);
    std::vector<std::string> some;
    for (std::size_t i = first; i < all.size(); i += stride) some.push_back(all[i]);
    return some;
}

/// A line that ends in a number whose unit begins the next one.
bool cuts_a_number(const std::string& text) {
    const std::vector<std::string> lines = lines_of(text);
    for (std::size_t i = 0; i + 1 < lines.size(); ++i) {
        const std::string& line = lines[i];
        const std::string next =
            lines[i + 1].substr(std::min(lines[i + 1].find_first_not_of(' '), lines[i + 1].size()));
        const bool number = !line.empty() && std::isdigit(static_cast<unsigned char>(line.back())) != 0;
        for (const char* unit : {"V ", "A ", "V;", "A;", "V,", "A,", "ohm", "mohm", "min", "rpm"})
            if (number && next.starts_with(unit)) return true;
    }
    return false;
}

/// A file is named as one does who stands in its folder: names that a person types are never broken, however long.
void check_screen(std::vector<std::string> words, int width) {
    for (std::string& word : words) {
        const std::filesystem::path path = word;
        if (path.extension() != ".toml") continue;
        std::filesystem::current_path(path.parent_path());
        word = path.filename().string();
    }
    const Said said = command_line(words, page_of(width));
    std::string line;
    for (const std::string& word : words) line += word + " ";
    INFO(line << "at " << width << "\n" << said.out << said.err);
    CHECK((said.status == 0 || said.status == 1));
    const std::vector<std::string> lines = lines_of(said.out);
    CHECK(lines.size() <= (width >= 80 ? 24U : 40U));
    CHECK_FALSE(lines.empty());
    CHECK(widest_line(said.out) <= width);
    CHECK_FALSE(cuts_a_number(said.out));
}

}  // namespace

TEST_CASE("show, whatif and protect fit a screen on a fifth of the circuits") {
    for (const std::string& file : some_files(false, 5, 0)) {
        for (const int width : {80, 44}) {
            check_screen({"show", file}, width);
            check_screen({"whatif", file}, width);
            check_screen({"protect", file}, width);
        }
    }
}

// Its regulated 5 V has the sharpest knee of all circuits: where Newton's method ends shows in the current law.
TEST_CASE("a circuit of sensors on a regulated supply is solved and fits a screen") {
    const std::string file = std::string(PROJECT_DIR) + "/scenarios/electronic/blend-door.toml";
    for (const int width : {80, 44}) check_screen({"whatif", file}, width);
}

TEST_CASE("match, next and plan fit a screen on a tenth of the jobs") {
    for (const std::string& file : some_files(true, 10, 0)) {
        for (const int width : {80, 44}) {
            check_screen({"match", file}, width);
            check_screen({"next", file}, width);
            check_screen({"plan", file}, width);
        }
    }
}

TEST_CASE("what a fault does fits a screen") {
    const std::vector<std::pair<const char*, const char*>> cases{{"cab-blower.toml", "C101.4 resistance 0.3ohm"},
                                                                 {"cab-blower.toml", "542 chafe 20mohm at 60%"},
                                                                 {"cab-blower.toml", "M1 seized"},
                                                                 {"cab-blower.toml", "R1 limiter open"},
                                                                 {"rear-blower.toml", "M2 drag 1.4"},
                                                                 {"clutch.toml", "A1 coil open"}};
    for (const auto& [file, fault] : cases)
        for (const int width : {80, 44}) check_screen({"whatif", scenario(file), "--fault", fault}, width);
}

TEST_CASE("the help of every command and of every topic fits a screen") {
    for (const Command* command : commands()) {
        const std::string text = command_help(*command, 80);
        INFO(text);
        CHECK(lines_of(text).size() <= 30);
        CHECK(widest_line(text) <= 80);
    }
    for (const std::string topic : {"parts", "readings", "states", "faults", "files"}) {
        check_screen({"help", topic}, 80);
        for (const std::string& file : some_files(false, 5, 1)) {
            for (const int width : {80, 44}) check_screen({"help", topic, file}, width);
        }
    }
}
