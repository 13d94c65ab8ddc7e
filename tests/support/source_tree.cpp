#include "tests/support/source_tree.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <regex>
#include <sstream>

namespace voltfall::testing {

namespace fs = std::filesystem;

namespace {

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

/// Where a literal that begins at `at` ends (behind its closing quote).
std::size_t end_of_literal(std::string_view text, std::size_t at) {
    const char quote = text[at];
    for (std::size_t i = at + 1; i < text.size(); ++i) {
        if (text[i] == '\\')
            ++i;
        else if (text[i] == quote)
            return i + 1;
    }
    return text.size();
}

/// Where a raw literal ends whose opening quote stands at `at`.
std::size_t end_of_raw_literal(std::string_view text, std::size_t at) {
    const std::size_t open = text.find('(', at);
    if (open == std::string_view::npos) return text.size();
    const std::string close = ")" + std::string(text.substr(at + 1, open - at - 1)) + "\"";
    const std::size_t end = text.find(close, open);
    return end == std::string_view::npos ? text.size() : end + close.size();
}

bool is_word(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

/// What a brace opens, by the code in front of it.
struct Opened {
    enum class Kind { named_space, unnamed_space, other } kind{Kind::other};
    std::string name;  ///< of a namespace, or of a type that is defined here
};

Opened opened_by(const std::string& head) {
    static const std::regex space(R"(namespace\s*([\w:]*)\s*$)");
    static const std::regex type(
        R"((?:^|[\s>])(?:struct|class|union|enum|enum class)\s+(?:\[\[\w+\]\]\s*)?([A-Za-z_][\w:]*)(?:\s+final)?\s*(?::[^:(][^(]*)?$)");
    std::smatch found;
    if (std::regex_search(head, found, space))
        return {found[1].length() > 0 ? Opened::Kind::named_space : Opened::Kind::unnamed_space, found[1]};
    if (std::regex_search(head, found, type)) return {Opened::Kind::other, found[1]};
    return {};
}

/// The name of `using Name = …`; empty for anything else.
std::string alias_of(const std::string& head) {
    static const std::regex alias(R"((?:^|[\s>])using\s+(\w+)\s*=)");
    std::smatch found;
    return std::regex_search(head, found, alias) ? found[1].str() : std::string();
}

class TypeFinder {
public:
    explicit TypeFinder(const SourceFile& file) : file_(file) {}

    std::vector<TypeDefinition> find() {
        std::istringstream lines(code_of(file_.text));
        std::string code;
        for (std::string line; std::getline(lines, line);)
            if (const auto first = line.find_first_not_of(" \t"); first == std::string::npos || line[first] != '#')
                code += line + '\n';
        for (const char c : code) step(c);
        return std::move(found_);
    }

private:
    void step(char c) {
        switch (c) {
            case '{': {
                Opened opened = opened_by(head_);
                if (opened.kind == Opened::Kind::other && !opened.name.empty()) note(opened.name);
                open_.push_back(std::move(opened));
                head_.clear();
                break;
            }
            case '}':
                if (!open_.empty()) open_.pop_back();
                head_.clear();
                break;
            case ';':
                if (const std::string name = alias_of(head_); !name.empty()) note(name);
                head_.clear();
                break;
            default:
                head_ += c;
        }
    }

    void note(const std::string& name) {
        TypeDefinition type{name, {}, false, file_.path};
        for (const Opened& opened : open_) {
            if (opened.kind == Opened::Kind::other) return;  // inside a class or function
            if (opened.kind == Opened::Kind::unnamed_space) type.unnamed = true;
            if (opened.kind == Opened::Kind::named_space) type.space += (type.space.empty() ? "" : "::") + opened.name;
        }
        found_.push_back(std::move(type));
    }

    const SourceFile& file_;
    std::string head_;
    std::vector<Opened> open_;
    std::vector<TypeDefinition> found_;
};

}  // namespace

std::vector<SourceFile> sources_of(const std::vector<std::string>& folders) {
    const fs::path root(PROJECT_DIR);
    std::vector<SourceFile> files;
    for (const std::string& folder : folders) {
        for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
            const std::string extension = entry.path().extension().string();
            if (extension != ".hpp" && extension != ".cpp") continue;
            SourceFile file{fs::relative(entry.path(), root).generic_string(), {}, {}, 0};
            std::ifstream text(entry.path());
            for (std::string line; std::getline(text, line); ++file.lines) {
                if (const std::string name = included(line); !name.empty()) file.includes.push_back(name);
                file.text += line + '\n';
            }
            files.push_back(std::move(file));
        }
    }
    std::sort(files.begin(), files.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
    return files;
}

std::string room_of(const std::string& path) {
    const auto first = path.find('/');
    if (first == std::string::npos) return {};
    const auto second = path.find('/', first + 1);
    return path.substr(0, second == std::string::npos ? first : second);
}

std::string library_of(const std::string& path) {
    return path.substr(0, path.find('/'));
}

bool is_ours(const std::string& include) {
    const std::string library = library_of(include);
    return library == "netlists" || library == "engine" || library == "cli" || library == "tests";
}

std::string code_of(std::string_view text) {
    std::string code;
    for (std::size_t i = 0; i < text.size();) {
        const std::string_view two = text.substr(i, 2);
        if (two == "//") {
            i = std::min(text.find('\n', i), text.size());
        } else if (two == "/*") {
            const std::size_t end = text.find("*/", i + 2);
            i = end == std::string_view::npos ? text.size() : end + 2;
            code += ' ';
        } else if (text[i] == '"') {
            const bool raw =
                !code.empty() && code.back() == 'R' && (code.size() < 2 || !is_word(code[code.size() - 2]));
            i = raw ? end_of_raw_literal(text, i) : end_of_literal(text, i);
            code += "\"\"";
        } else if (text[i] == '\'' && (code.empty() || !is_word(code.back()))) {
            i = end_of_literal(text, i);
            code += "''";
        } else {
            code += text[i++];  // a quote between digits separates them
        }
    }
    return code;
}

std::vector<TypeDefinition> types_of(const SourceFile& file) {
    return TypeFinder(file).find();
}

std::vector<std::string> defined_twice(const std::vector<SourceFile>& files) {
    std::map<std::string, std::string> seen;  // shared by the whole program -> where
    std::vector<TypeDefinition> unnamed;
    std::vector<std::string> twice;
    const auto report = [&](const std::string& name, const std::string& one, const std::string& other) {
        twice.push_back(name + ": " + one + ", " + other);
    };
    for (const SourceFile& file : files) {
        for (const TypeDefinition& type : types_of(file)) {
            if (type.unnamed) {
                unnamed.push_back(type);
                continue;
            }
            const std::string name = type.space + "::" + type.name;
            const auto [known, is_new] = seen.emplace(name, type.path);
            if (!is_new) report(name, known->second, type.path);
        }
    }
    for (const TypeDefinition& type : unnamed)
        if (const auto known = seen.find(type.space + "::" + type.name); known != seen.end())
            report(known->first, known->second, type.path);
    return twice;
}

std::map<std::string, Room> rooms_of(const std::vector<SourceFile>& files) {
    std::map<std::string, Room> rooms;
    for (const SourceFile& file : files) {
        Room& room = rooms[room_of(file.path)];
        ++room.files;
        room.lines += file.lines;
        for (const std::string& include : file.includes)
            if (is_ours(include) && room_of(include) != room_of(file.path)) room.arrows.insert(room_of(include));
    }
    return rooms;
}

double share_of(const std::map<std::string, Room>& rooms, const std::string& room) {
    std::size_t all = 0;
    for (const auto& [name, figures] : rooms)
        if (library_of(name) == library_of(room)) all += figures.lines;
    return all == 0 ? 0 : static_cast<double>(rooms.at(room).lines) / static_cast<double>(all);
}

std::vector<std::string> arrows_back(const std::map<std::string, Room>& rooms) {
    std::map<std::string, std::set<std::string>> reached;
    const std::function<void(const std::string&, const std::string&)> walk = [&](const std::string& from,
                                                                                 const std::string& at) {
        const auto room = rooms.find(at);
        if (room == rooms.end()) return;
        for (const std::string& next : room->second.arrows)
            if (reached[from].insert(next).second) walk(from, next);
    };
    for (const auto& [name, room] : rooms) walk(name, name);
    std::vector<std::string> back;
    for (const auto& [name, room] : rooms)
        for (const std::string& to : room.arrows)
            if (reached[to].contains(name) && name < to) back.push_back(name + " and " + to);
    return back;
}

std::vector<SourceFile> without_half(std::vector<SourceFile> files, std::string_view other_half) {
    std::erase_if(files, [&](const SourceFile& file) {
        return file.path.starts_with("netlists/platform/") && file.path.find(other_half) != std::string::npos;
    });
    return files;
}

}  // namespace voltfall::testing
