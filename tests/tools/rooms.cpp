// Rooms of the three libraries: their size, their share of the library, and what they include. Ends with 1 where a rule
// of the house is broken: an arrow back, a type defined twice, a room of the engine above its share.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cstdio>

#include "tests/support/source_tree.hpp"

using namespace voltfall::testing;

namespace {

/// The most that one room of the engine may be.
constexpr double most_share = 0.20;

bool print_broken(const char* rule, const std::vector<std::string>& broken) {
    fmt::print("{}: {}\n", rule, broken.empty() ? "none" : fmt::format("{}", fmt::join(broken, "; ")));
    return !broken.empty();
}

}  // namespace

int main() {
    const std::vector<SourceFile> files = sources_of({"netlists", "engine", "cli"});
    const std::map<std::string, Room> rooms = rooms_of(files);
    std::string biggest;
    for (const auto& [name, room] : rooms) {
        std::vector<std::string> arrows;  // within the library; lower libraries are open as a whole
        for (const std::string& to : room.arrows)
            if (library_of(to) == library_of(name)) arrows.push_back(to.substr(to.find('/') + 1));
        fmt::print("{:<20}{:>4} files{:>7} lines{:>6.1f} %  {}\n", name, room.files, room.lines,
                   100 * share_of(rooms, name), fmt::join(arrows, " "));
        if (library_of(name) == "engine" && (biggest.empty() || room.lines > rooms.at(biggest).lines)) biggest = name;
    }
    const double share = share_of(rooms, biggest);
    fmt::print("\nbiggest room of the engine: {}, {:.1f} % (at most {:.0f} %)\n", biggest, 100 * share,
               100 * most_share);
    bool broken = share > most_share;
    broken |= print_broken("arrows back", arrows_back(rooms));
    broken |= print_broken("types defined twice", defined_twice(without_half(files, "_windows.")));
    return broken ? 1 : 0;
}
