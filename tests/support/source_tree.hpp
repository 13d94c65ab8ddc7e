// The sources of the three libraries as text: who includes whom, and which types stand where.
#pragma once

#include <cstddef>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace voltfall::testing {

struct SourceFile {
    std::string path;  ///< from the project's root
    std::string text;
    std::vector<std::string> includes;  ///< as written between quotes or brackets
    std::size_t lines{0};
};

/// Every .hpp and .cpp file below these folders of the project, sorted by path.
std::vector<SourceFile> sources_of(const std::vector<std::string>& folders);

/// "netlists/graph" of "netlists/graph/paths.hpp"; the first folder alone where there is no second.
std::string room_of(const std::string& path);
/// "netlists" of "netlists/graph/paths.hpp".
std::string library_of(const std::string& path);
/// Is an include one of this project's headers?
bool is_ours(const std::string& include);

/// The text without comments; the contents of text and character literals are left out.
std::string code_of(std::string_view text);

/// A type that is defined at namespace level: struct, class, union, enum or alias.
struct TypeDefinition {
    std::string name;     ///< with its enclosing class where that is written: "NgspiceSession::Library"
    std::string space;    ///< "voltfall", "voltfall::testing"
    bool unnamed{false};  ///< in an anonymous namespace
    std::string path;
};
std::vector<TypeDefinition> types_of(const SourceFile& file);

/// Types of one name in one namespace: "voltfall::Symptom: a.hpp, b.hpp". Types of anonymous namespaces may repeat each
/// other, but not the name of a type that the whole program has.
std::vector<std::string> defined_twice(const std::vector<SourceFile>& files);
/// Without the platform's half of the other system ("_windows.", "_posix."): of the two one is built at a time.
std::vector<SourceFile> without_half(std::vector<SourceFile> files, std::string_view other_half);

/// A room and what it includes of other rooms.
struct Room {
    std::size_t files{0};
    std::size_t lines{0};
    std::set<std::string> arrows;
};
std::map<std::string, Room> rooms_of(const std::vector<SourceFile>& files);

/// Rooms that include each other, over others or at once: "engine/faults and engine/solve".
std::vector<std::string> arrows_back(const std::map<std::string, Room>& rooms);

/// A room's lines as a share of its library's.
double share_of(const std::map<std::string, Room>& rooms, const std::string& room);

}  // namespace voltfall::testing
