// What a fault mode or a kind of part means is stated in its own file: this fails where another room compares the
// words of a mode or a kind with a text of its own.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <string>
#include <vector>

#include "netlists/parts/kind.hpp"
#include "tests/support/catch.hpp"

namespace {

namespace fs = std::filesystem;

const std::string literal = R"re("(?:[^"\\]|\\.)*")re";

/// Words of modes that mean nothing else in this program: told as a text of one's own they can only be compared.
const std::set<std::string>& mode_words() {
    static const std::set<std::string> words{"chafe",
                                             "short-to-30",
                                             "dead-spot",
                                             "worn-brushes",
                                             "shorted-turns",
                                             "short-to-case",
                                             "blocked-air",
                                             "fouled",
                                             "not-charging",
                                             "limiter open",
                                             "coil open",
                                             "diode open",
                                             "coil shorted-turns",
                                             "diode shorted",
                                             "stuck open",
                                             "stuck closed"};
    return words;
}

/// The wires' own faults are declared where wires are laid.
bool declares_modes(const std::string& path) {
    return path.starts_with("netlists/parts/") || path == "netlists/files/wire_modes.cpp" ||
           path == "netlists/files/wire_layout.cpp";
}

/// Texts of a line, and the line with its comment taken off.
std::string without_comment(const std::string& line) {
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (line[i] == '\\') {
            ++i;
        } else if (line[i] == '"') {
            quoted = !quoted;
        } else if (!quoted && line.compare(i, 2, "//") == 0) {
            return line.substr(0, i);
        }
    }
    return line;
}

std::vector<std::string> texts_of(const std::string& line) {
    static const std::regex text(literal);
    std::vector<std::string> texts;
    for (auto it = std::sregex_iterator(line.begin(), line.end(), text); it != std::sregex_iterator(); ++it)
        texts.push_back(it->str().substr(1, it->str().size() - 2));
    return texts;
}

/// What is wrong with a line, or nothing.
std::string offence(const std::string& typed) {
    const std::string line = without_comment(typed);
    if (line.find('"') == std::string::npos) return {};
    const std::string of_mode = R"re((?:\.|->)mode\b)re";
    const std::string of_kind = R"re((?:kind(?:\(\))?(?:\.|->)word\b|kind_word\([^()]*\)))re";
    static const std::vector<std::regex> compares = [&] {
        std::vector<std::regex> list;
        for (const std::string& member : {of_mode, of_kind}) {
            list.emplace_back(member + R"re(\s*[!=]=\s*)re" + literal);
            list.emplace_back(literal + R"re(\s*[!=]=\s*[\w.>()-]*)re" + member);
            list.emplace_back(member + R"re(\s*\.\s*(?:starts_with|ends_with|contains|find|rfind|compare|substr)\()re");
            list.emplace_back(R"re((?:same_word|starts_with|has_word|lower)\([^"]*)re" + member + R"re([^"]*)re" +
                              literal);
        }
        list.emplace_back(R"re(find_kind\(\s*")re");
        return list;
    }();
    const bool names_one = line.find("mode") != std::string::npos || line.find("kind") != std::string::npos;
    for (const std::regex& compare : compares) {
        if (names_one && std::regex_search(line, compare)) return "compares the words of a mode or kind with a text";
    }
    for (const std::string& text : texts_of(line)) {
        if (mode_words().contains(text)) return "knows the words of the mode '" + text + "'";
    }
    return {};
}

}  // namespace

TEST_CASE("no room but the parts' own compares a mode or a kind with a text") {
    const fs::path root(PROJECT_DIR);
    std::size_t lines = 0;
    for (const char* library : {"netlists", "engine", "cli"}) {
        for (const auto& entry : fs::recursive_directory_iterator(root / library)) {
            const std::string path = fs::relative(entry.path(), root).generic_string();
            if ((!path.ends_with(".cpp") && !path.ends_with(".hpp")) || declares_modes(path)) continue;
            std::ifstream text(entry.path());
            std::size_t number = 0;
            for (std::string line; std::getline(text, line); ++lines) {
                ++number;
                const std::string wrong = offence(line);
                INFO(path << ":" << number << " " << wrong
                          << "; let the kind's file state it as a ModeFact or a field");
                CHECK(wrong.empty());
            }
        }
    }
    CHECK(lines > 20000);  // the sources were found
}

TEST_CASE("a planted comparison of a mode or a kind is seen") {
    for (const char* planted : {
             R"re(if (mode.mode == "resistance") return 1;)re",
             R"re(return fault.mode->mode != "blown";)re",
             R"re(if ("open" == suspect.mode->mode) ++count;)re",
             R"re(const bool limiter = mode->mode.starts_with("limiter");)re",
             R"re(if (mode.mode.find("resistance") != std::string::npos))re",
             R"re(return same_word(mode->mode, "missing");)re",
             R"re(return words == "dead-spot";  // under another name)re",
             R"re(if (part.kind->word == "pack") continue;)re",
             R"re(const bool fuse = part.kind && part.kind->word != "fuse";)re",
             R"re(if (kind_word(part) == "switch") check(part);)re",
             R"re(return same_word(part.kind->word, "relay");)re",
             R"re(return part.kind == find_kind("motor");)re",
         }) {
        INFO(planted);
        CHECK_FALSE(offence(planted).empty());
    }
    for (const char* sound : {
             R"re(return std::any_of(all.begin(), all.end(), [&](const Fault& f) { return f.mode == mode; });)re",
             R"re(candidate.mode = suspect.mode->mode;)re",
             R"re(if (mode.is(ModeFact::fuse_blown)) return "a fuse blows for a reason";)re",
             R"re(if (keyword == "lamp") return read_lamp();  // not part.kind->word == "lamp")re",
             R"re(message = "no wire reaches " + part.name + " (" + std::string(kind_word(part)) + ")";)re",
             R"re(const ModePtr row = row_called(place, words);)re",
         }) {
        INFO(sound);
        CHECK(offence(sound).empty());
    }
}

TEST_CASE("a kind's file has its row in the table of kinds") {
    static const std::regex declared(R"re(\bconst Kind (\w+)_kind\s*(?:= passive_kind\()?\{)re");
    static const std::regex named(R"re(\.word = "([\w-]+)")re");
    std::size_t found = 0;
    for (const auto& entry : fs::directory_iterator(fs::path(PROJECT_DIR) / "netlists/parts")) {
        if (entry.path().extension() != ".cpp") continue;
        std::ifstream stream(entry.path());
        const std::string text((std::istreambuf_iterator<char>(stream)), {});
        for (auto it = std::sregex_iterator(text.begin(), text.end(), declared); it != std::sregex_iterator(); ++it) {
            const auto from = text.cbegin() + it->position();
            std::smatch word;
            INFO(entry.path().filename().string() << " " << it->str(1));
            REQUIRE(std::regex_search(from, text.cend(), word, named));
            CHECK(voltfall::find_kind(word.str(1)) != nullptr);
            ++found;
        }
    }
    CHECK(found == voltfall::kinds().size());
}
