// The rooms and their arrows, as DEVELOPERS.md draws them: this fails on an include against them.
#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"
#include "tests/support/source_tree.hpp"

using namespace voltfall::testing;

namespace {

/// What each room may include besides itself. A room that is not listed is a mistake of this table.
const std::map<std::string, std::set<std::string>>& arrows() {
    static const std::set<std::string> parts_down{"netlists/text", "netlists/tables", "netlists/laws",
                                                  "netlists/circuit", "netlists/parts"};
    static const auto with = [](std::set<std::string> rooms, const std::set<std::string>& more) {
        rooms.insert(more.begin(), more.end());
        return rooms;
    };
    static const std::map<std::string, std::set<std::string>> table{
        {"netlists/platform", {}},
        {"netlists/text", {}},
        {"netlists/tables", {"netlists/text"}},
        {"netlists/laws", {"netlists/tables"}},
        {"netlists/circuit", {"netlists/text", "netlists/tables", "netlists/laws"}},
        {"netlists/parts", {"netlists/text", "netlists/tables", "netlists/laws", "netlists/circuit"}},
        {"netlists/phrases", parts_down},
        {"netlists/graph", with(parts_down, {"netlists/platform"})},
        {"netlists/spice", parts_down},
        {"netlists/files", with(parts_down, {"netlists/phrases", "netlists/platform"})},
        {"netlists/checks", with(parts_down, {"netlists/graph"})},
        {"engine/solve", {}},
        {"engine/ngspice", {"engine/solve"}},
        {"engine/heat", {"engine/solve"}},
        {"engine/courses", {"engine/solve", "engine/heat"}},
        {"engine/readings", {"engine/solve", "engine/heat", "engine/courses"}},
        {"engine/diagnosis", {"engine/solve", "engine/heat", "engine/courses", "engine/readings"}},
        {"engine/planning", {"engine/solve", "engine/heat", "engine/courses", "engine/readings", "engine/diagnosis"}},
        {"engine/figures", {"engine/solve", "engine/heat", "engine/diagnosis", "engine/planning"}},
        {"engine/proof",
         {"engine/solve", "engine/heat", "engine/courses", "engine/readings", "engine/diagnosis", "engine/planning",
          "engine/figures"}},
        {"engine/lessons",
         {"engine/solve", "engine/heat", "engine/courses", "engine/readings", "engine/diagnosis", "engine/planning",
          "engine/figures"}},
        {"cli", {"cli/commands"}},
        {"cli/commands", {"cli/views", "cli/pictures", "cli/report", "cli/serve", "cli/talk"}},
        {"cli/serve", {"cli/views", "cli/report", "cli/talk"}},
        {"cli/talk", {"cli/views"}},
        {"cli/report", {"cli/views", "cli/pictures"}},
        {"cli/pictures", {"cli/views"}},
        {"cli/views", {}},
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
        {"ngspice/", "engine/ngspice"}, {"boost/graph/", "netlists/graph"}, {"toml++/", "netlists/files"},
        {"Eigen/", "engine/readings"},  {"nlohmann/", "cli/views"},         {"CLI/", "cli/commands"},
        {"graphviz/", "cli/pictures"},  {"microhttpd.h", "cli/serve"},      {"qrencode.h", "cli/serve"},
        {"csv.h", "netlists/text"},
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

TEST_CASE("what only one system has is included in the platform room alone") {
    // Headers of POSIX, of Linux's own calls and of Windows; and of the line editor, which Windows does without.
    static const std::set<std::string> whole{"arpa/inet.h", "dirent.h",   "dlfcn.h",   "fcntl.h",   "ifaddrs.h",
                                             "malloc.h",    "netdb.h",    "poll.h",    "pthread.h", "sched.h",
                                             "signal.h",    "spawn.h",    "termios.h", "unistd.h",  "windows.h",
                                             "winsock2.h",  "ws2tcpip.h", "io.h",      "process.h", "direct.h"};
    static const std::vector<std::string> begun{"sys/", "net/", "netinet/", "linux/", "editline/"};
    std::size_t seen = 0;
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        for (const std::string& include : file.includes) {
            const bool of_a_system =
                whole.contains(include) ||
                std::any_of(begun.begin(), begun.end(), [&](const auto& with) { return include.starts_with(with); });
            if (!of_a_system) continue;
            ++seen;
            INFO(file.path << " includes " << include);
            CHECK(room_of(file.path) == "netlists/platform");
        }
    }
    CHECK(seen > 10);  // the room was found
}

TEST_CASE("each thing of the platform has a source for either system") {
    std::map<std::string, std::set<std::string>> systems;
    for (const SourceFile& file : sources_of({"netlists"})) {
        if (room_of(file.path) != "netlists/platform" || !file.path.ends_with(".cpp")) continue;
        const std::size_t cut = file.path.rfind('_');
        systems[file.path.substr(0, cut)].insert(file.path.substr(cut));
    }
    CHECK(systems.size() > 5);
    for (const auto& [thing, sources] : systems) {
        INFO(thing);
        CHECK(sources == std::set<std::string>{"_posix.cpp", "_windows.cpp"});
    }
}

TEST_CASE("no room holds more than a fifth of the engine") {
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
        CHECK(share <= 0.20);
    }
}

TEST_CASE("no source file exceeds 400 lines") {
    for (const SourceFile& file : sources_of({"netlists", "engine", "cli"})) {
        INFO(file.path << " has " << file.lines << " lines");
        CHECK(file.lines <= 400);
    }
}
