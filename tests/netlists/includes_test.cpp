// The rooms and their arrows, as DEVELOPERS.md draws them: this fails on an include against them.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"

namespace {

namespace fs = std::filesystem;

struct SourceFile {
    std::string path;  ///< from the project's root
    std::vector<std::string> includes;
    std::size_t lines{0};
};

/// The text between the quotes or brackets of an include line; empty for any other line.
std::string included(const std::string& line) {
    const auto hash = line.find_first_not_of(" \t");
    if (hash == std::string::npos || line[hash] != '#') return {};
    const auto word = line.find_first_not_of(" \t", hash + 1);
    if (word == std::string::npos || line.compare(word, 7, "include") != 0) return {};
    const auto open = line.find_first_of("\"<", word);
    if (open == std::string::npos) return {};
    const auto close = line.find(line[open] == '<' ? '>' : '"', open + 1);
    return close == std::string::npos ? std::string() : line.substr(open + 1, close - open - 1);
}

std::vector<SourceFile> sources_of(const std::vector<std::string>& folders) {
    const fs::path root(PROJECT_DIR);
    std::vector<SourceFile> files;
    for (const std::string& folder : folders) {
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            const std::string extension = entry.path().extension().string();
            if (extension != ".hpp" && extension != ".cpp") continue;
            SourceFile file{fs::relative(entry.path(), root).generic_string(), {}, 0};
            std::ifstream text(entry.path());
            for (std::string line; std::getline(text, line); ++file.lines) {
                if (const std::string name = included(line); !name.empty()) file.includes.push_back(name);
            }
            files.push_back(std::move(file));
        }
    }
    std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
    return files;
}

/// "netlists/graph" of "netlists/graph/paths.hpp"; the first folder alone where there is no second.
std::string room_of(const std::string& path) {
    const auto first = path.find('/');
    if (first == std::string::npos) return {};
    const auto second = path.find('/', first + 1);
    return path.substr(0, second == std::string::npos ? first : second);
}

std::string library_of(const std::string& path) {
    return path.substr(0, path.find('/'));
}

/// What each room may include besides itself. A room that is not listed is a mistake of this table.
const std::map<std::string, std::set<std::string>>& arrows() {
    static const std::set<std::string> parts_down{"netlists/text", "netlists/tables", "netlists/laws",
                                                  "netlists/circuit", "netlists/parts"};
    static const auto with = [](std::set<std::string> rooms, const std::set<std::string>& more) {
        rooms.insert(more.begin(), more.end());
        return rooms;
    };
    static const std::map<std::string, std::set<std::string>> table{
        {"netlists/text", {}},
        {"netlists/tables", {"netlists/text"}},
        {"netlists/laws", {"netlists/tables"}},
        {"netlists/circuit", {"netlists/text", "netlists/tables", "netlists/laws"}},
        {"netlists/parts", {"netlists/text", "netlists/tables", "netlists/laws", "netlists/circuit"}},
        {"netlists/phrases", parts_down},
        {"netlists/graph", parts_down},
        {"netlists/spice", parts_down},
        {"netlists/files", with(parts_down, {"netlists/phrases"})},
        {"netlists/checks", with(parts_down, {"netlists/graph"})},
        {"engine/solve", {}},
        {"engine/heat", {"engine/solve"}},
        {"engine/courses", {"engine/solve", "engine/heat"}},
        {"engine/readings", {"engine/solve", "engine/heat", "engine/courses"}},
        {"engine/diagnosis", {"engine/solve", "engine/heat", "engine/courses", "engine/readings"}},
        {"engine/planning", {"engine/solve", "engine/heat", "engine/courses", "engine/readings", "engine/diagnosis"}},
        {"engine/lessons",
         {"engine/solve", "engine/heat", "engine/courses", "engine/readings", "engine/diagnosis", "engine/planning"}},
        {"cli", {"cli/commands", "cli/views"}},
        {"cli/commands", {"cli", "cli/views"}},
        {"cli/views", {"cli", "cli/commands"}},
    };
    return table;
}

/// Lower libraries are open as a whole.
bool library_below(const std::string& from, const std::string& to) {
    const std::vector<std::string> order{"netlists", "engine", "cli"};
    const auto rank = [&](const std::string& name) {
        return std::find(order.begin(), order.end(), name) - order.begin();
    };
    return rank(to) < rank(from);
}

bool is_ours(const std::string& include) {
    const std::string library = library_of(include);
    return library == "netlists" || library == "engine" || library == "cli" || library == "tests";
}

bool allowed(const std::string& from, const std::string& to) {
    if (library_below(library_of(from), library_of(to))) return true;
    const std::string room = room_of(from);
    const std::string target = room_of(to);
    if (room == target) return true;
    const auto row = arrows().find(room);
    return row != arrows().end() && row->second.contains(target);
}

/// Headers that take long to compile or hold global state: one room each.
const std::map<std::string, std::string>& heavy_headers() {
    static const std::map<std::string, std::string> table{
        {"ngspice/", "engine/solve"},  {"boost/graph/", "netlists/graph"}, {"toml++/", "netlists/files"},
        {"Eigen/", "engine/readings"}, {"nlohmann/", "cli/views"},         {"CLI/", "cli/commands"},
    };
    return table;
}

}  // namespace

TEST_CASE("every room of the libraries stands in the table of arrows") {
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        INFO(file.path);
        CHECK(arrows().contains(room_of(file.path)));
    }
}

TEST_CASE("includes go along the arrows only") {
    std::size_t seen = 0;
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        for (const std::string& include : file.includes) {
            if (!is_ours(include)) continue;
            ++seen;
            INFO(file.path << " includes " << include);
            CHECK(allowed(file.path, include));
        }
    }
    CHECK(seen > 100);  // the libraries were found
}

TEST_CASE("the table of arrows refuses an include against them") {
    CHECK(allowed("netlists/graph/paths.cpp", "netlists/parts/kind.hpp"));
    CHECK(allowed("engine/solve/settle.cpp", "netlists/graph/paths.hpp"));
    CHECK(allowed("cli/commands/show.cpp", "engine/solve/settled.hpp"));
    CHECK_FALSE(allowed("netlists/parts/motor.cpp", "netlists/graph/paths.hpp"));
    CHECK_FALSE(allowed("netlists/graph/paths.cpp", "netlists/checks/wiring_sense.hpp"));
    CHECK_FALSE(allowed("netlists/graph/paths.cpp", "engine/solve/state.hpp"));
    CHECK_FALSE(allowed("engine/solve/settle.cpp", "engine/diagnosis/match.hpp"));
    CHECK_FALSE(allowed("engine/diagnosis/match.cpp", "cli/views/json.hpp"));
    CHECK_FALSE(allowed("netlists/text/words.cpp", "tests/support/catch.hpp"));
}

TEST_CASE("heavy headers are included in one room each") {
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        for (const std::string& include : file.includes) {
            for (const auto& [header, room] : heavy_headers()) {
                if (include.compare(0, header.size(), header) != 0) continue;
                INFO(file.path << " includes " << include << ", which only " << room << " may");
                CHECK(room_of(file.path) == room);
            }
        }
    }
}

TEST_CASE("no room holds more than about a fifth of the engine") {
    std::map<std::string, std::size_t> lines;
    std::size_t all = 0;
    for (const SourceFile& file : sources_of({"engine"})) {
        lines[room_of(file.path)] += file.lines;
        all += file.lines;
    }
    CHECK(lines.size() > 5);
    for (const auto& [room, count] : lines) {
        const double share = static_cast<double>(count) / static_cast<double>(all);
        INFO(room << " has " << count << " of " << all << " lines");
        CHECK(share < 0.22);
    }
}

TEST_CASE("no source file exceeds 400 lines") {
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        INFO(file.path << " has " << file.lines << " lines");
        CHECK(file.lines <= 400);
    }
}
