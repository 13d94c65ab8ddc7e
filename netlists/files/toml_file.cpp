#include "netlists/files/toml_file.hpp"

#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#define TOML_ENABLE_FORMATTERS 0
#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>

#include "netlists/files/section_names.hpp"
#include "netlists/files/source_lines.hpp"
#include "netlists/files/toml_repair.hpp"
#include "netlists/files/toml_statements.hpp"
#include "netlists/files/toml_texts.hpp"
#include "netlists/files/toml_values.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/platform/paths.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// Every round takes one refused statement out of the parser's way; a file with more is another sort of file.
constexpr int most_rounds = 50;
/// Lines that are no statement of TOML; beyond these it is another sort of file.
constexpr int most_lost = 1000;
/// Longest text in quotes and longest name, in characters.
constexpr int longest_text = 10'000;
constexpr int longest_key = 120;

std::size_t from_zero(toml::source_index at) {
    return at > 0 ? at - 1 : 0;
}

/// The statement that a parser's place belongs to: the one around that line, else the last before it that is not blank.
TomlStatement* statement_at(std::vector<TomlStatement>& statements, std::size_t line) {
    TomlStatement* found = nullptr;
    for (TomlStatement& statement : statements) {
        if (statement.first_line > line) break;
        if (!statement.lost) found = &statement;
    }
    return found;
}

/// Repairs or takes out what the parser cannot be given: it reads no bare word that is not ASCII, and no date, safely.
void repair_strange(SourceText& text, TomlStatement& statement, Problems& problems) {
    while (!statement.lost) {
        TomlRefusal refusal{statement.first_line, 0, {}, ProblemCode::no_quotes};
        if (statement.equals != 0) {
            const auto strange = strange_in(text, statement);
            if (!strange) return;
            refusal.line = strange->line;
            refusal.column = strange->at;
            refusal.reason = fmt::format("'{}' is not in quotes", write_utf8(strange->word));
        }
        repair_statement(text, statement, refusal, problems);
    }
}

/// Parses until nothing is refused. Nothing when that does not come about (reported).
std::optional<toml::table> parse_all(SourceText& text, TomlStatements& statements, Problems& problems) {
    int lost = 0;
    for (TomlStatement& statement : statements.statements) {
        if (statement.lost) continue;  // counted where it was found
        repair_strange(text, statement, problems);
        lost += statement.lost ? 1 : 0;
        if (lost <= most_lost) continue;
        problems.error(ProblemCode::too_many, text.place(statement.first_line, 0),
                       fmt::format("more than {} lines are no TOML; the rest is not read", most_lost),
                       "is this the right file?");
        return std::nullopt;
    }
    for (int round = 0; round < most_rounds; ++round) {
        toml::parse_result result = toml::parse(text.repaired());
        if (result) return std::move(result).table();
        const toml::parse_error& error = result.error();
        const TomlRefusal refusal{from_zero(error.source().begin.line), from_zero(error.source().begin.column),
                                  std::string(error.description()), ProblemCode::not_toml};
        TomlStatement* statement = statement_at(statements.statements, refusal.line);
        if (!statement) {
            problems.error(ProblemCode::not_toml, text.place(refusal.line, refusal.column),
                           short_reason(refusal.reason), "delete this line");
            return std::nullopt;
        }
        repair_statement(text, *statement, refusal, problems);
        repair_strange(text, *statement, problems);
    }
    problems.error(ProblemCode::not_toml, SourcePlace{text.path, 0, 0, 1, {}},
                   fmt::format("more than {} lines are no TOML; the rest is not read", most_rounds),
                   "is this the right file?");
    return std::nullopt;
}

/// Turns the parser's tables into sections with places as typed.
class Sections {
public:
    Sections(const SourceText& text, const TomlStatements& statements, Problems& problems)
        : text_(text), problems_(problems) {
        file_.path = text.path;
        file_.sections.push_back({{}, text.place(0, 0), {}, {}});
        for (const TomlHeader& header : statements.headers) {
            names_[header.written_name] = {section_index(header.name, header.place), header.prefix};
        }
        for (const TomlStatement& statement : statements.statements) {
            if (statement.lost) lose_typed(statement.section, statement.key);
            if (!statement.swallowed.empty()) lose_typed(statement.section, statement.swallowed);
        }
    }

    TomlFile take(const toml::table& root) {
        for (const auto& [key, node] : root) {
            const auto found = names_.find(std::string(key.str()));
            if (found != names_.end() && node.is_table()) {
                add_table(found->second.index, found->second.prefix, *node.as_table());
            } else {
                add_top(key, node);
            }
        }
        for (TomlSection& section : file_.sections) {
            std::stable_sort(section.entries.begin(), section.entries.end(),
                             [](const TomlEntry& a, const TomlEntry& b) {
                                 return std::pair(a.key_place.line, a.key_place.column) <
                                        std::pair(b.key_place.line, b.key_place.column);
                             });
        }
        return std::move(file_);
    }

private:
    /// Where the entries of a header go.
    struct Target {
        std::size_t index{};
        std::string prefix;
    };

    std::size_t index_of(const std::string& name) const {
        const auto found = std::find_if(file_.sections.begin(), file_.sections.end(),
                                        [&](const TomlSection& s) { return s.name == name; });
        return found == file_.sections.end() ? 0 : static_cast<std::size_t>(found - file_.sections.begin());
    }
    std::size_t section_index(const std::string& name, const SourcePlace& where) {
        const std::size_t found = index_of(name);
        if (found > 0 || name.empty()) return found;
        file_.sections.push_back({name, where, {}, {}});
        return file_.sections.size() - 1;
    }

    /// Before the first header a table, or a key with a point, is a section: `parts = { … }`, `parts.B1 = "…"`.
    void add_top(const toml::key& key, const toml::node& node) {
        const std::string name(key.str());
        const auto point = name.find('.');
        if (const toml::table* table = node.as_table()) {
            add_table(section_index(name, place(key.source())), "", *table);
        } else if (point != std::string::npos && point > 0 && section_named(name.substr(0, point))) {
            const std::size_t section = section_index(name.substr(0, point), place(key.source()));
            add_value(section, name.substr(point + 1), key, node);
        } else {
            add_value(0, name, key, node);
        }
    }

    void lose_typed(const std::string& section, const std::string& key) {
        const auto point = key.find('.');
        const bool dotted = section.empty() && point != std::string::npos && section_named(key.substr(0, point));
        if (dotted) return lose(section_index(key.substr(0, point), file_.sections[0].place), key.substr(point + 1));
        lose(index_of(section), key);
    }

    void lose(std::size_t section, const std::string& key) {
        if (!key.empty()) file_.sections[section].lost.push_back(key);
    }

    SourcePlace place(const toml::source_region& region) const {
        const std::size_t line = from_zero(region.begin.line);
        const std::size_t begin = from_zero(region.begin.column);
        const bool one_line = region.end.line == region.begin.line && region.end.column > region.begin.column;
        return text_.place(line, begin, one_line ? region.end.column - region.begin.column : 1);
    }

    void add_table(std::size_t section, const std::string& prefix, const toml::table& table) {
        for (const auto& [key, node] : table) add_entry(section, prefix, key, node);
    }

    void add_entry(std::size_t section, const std::string& prefix, const toml::key& key, const toml::node& node) {
        const std::string name = prefix + std::string(key.str());
        const toml::table* table = node.as_table();
        // Below a header a table with points in its keys is the same as keys with points.
        if (table && (!table->is_inline() || has_dotted_keys(file_.sections[section].name))) {
            add_table(section, name + ".", *table);
            return;
        }
        add_value(section, name, key, node);
    }

    void add_value(std::size_t section, const std::string& name, const toml::key& key, const toml::node& node) {
        if (character_count(name) > longest_key) {
            problems_.error(
                ProblemCode::too_long, place(key.source()),
                fmt::format("'{}' has {} characters; a name has at most {}", name, character_count(name), longest_key),
                "write a short name");
            return;
        }
        TomlEntry entry{name, place(key.source()), {{}, place(node.source())}};
        if (read_value(node, entry)) {
            file_.sections[section].entries.push_back(std::move(entry));
        } else {
            lose(section, name);
        }
    }

    bool read_value(const toml::node& node, TomlEntry& entry) {
        if (const auto* text = node.as_string()) {
            const auto typed = text_of(*text);
            if (!typed) return false;
            entry.value = {typed->text, typed->place};
        } else if (const auto* integer = node.as_integer()) {
            entry.value.value = static_cast<long long>(integer->get());
            entry.value.typed = typed_at(entry.value.place);
        } else if (const auto* real = node.as_floating_point()) {
            entry.value.value = real->get();
            entry.value.typed = typed_at(entry.value.place);
        } else if (const auto* yes = node.as_boolean()) {
            entry.value.value = yes->get();
        } else if (const auto* list = node.as_array()) {
            entry.value.value = texts_of(*list, entry);
        } else {
            problems_.error(
                ProblemCode::wrong_type, entry.value.place,
                fmt::format("'{}' holds a {}; expected a text", entry.key, node.is_table() ? "table" : "date or time"),
                fmt::format("texts stand in double quotes: {} = \"…\"", entry.key));
            return false;
        }
        return true;
    }

    std::vector<TypedText> texts_of(const toml::array& list, TomlEntry& entry) {
        std::vector<TypedText> texts;
        for (const toml::node& item : list) {
            if (const auto* text = item.as_string()) {
                auto typed = text_of(*text);
                entry.value.misread = entry.value.misread || !typed;
                if (typed) texts.push_back(*std::move(typed));
                continue;
            }
            entry.value.misread = true;
            const SourcePlace where = place(item.source());
            const std::string typed = typed_at(where);
            problems_.error(ProblemCode::wrong_type, where,
                            fmt::format("the list '{}' takes texts only{}", entry.key,
                                        typed.empty() ? "" : fmt::format(", not '{}'", typed)),
                            fmt::format("texts stand in double quotes: {} = [\"…\", \"…\"]", entry.key));
        }
        return texts;
    }

    /// What stands at a place, as typed.
    static std::string typed_at(const SourcePlace& where) {
        const std::string& line = where.text.str();
        const auto characters = characters_of(line);
        std::string typed;
        const auto first = static_cast<std::size_t>(std::max(0, where.column - 1));
        for (std::size_t i = first; i < characters.size() && i < first + static_cast<std::size_t>(where.length); ++i)
            typed += characters[i].bytes;
        return typed;
    }

    /// The text with the place of its first character, inside the quotes; nullopt, and a problem, where it is longer
    /// than any that is typed or an escape in it stands for what a terminal would obey.
    std::optional<TypedText> text_of(const toml::value<std::string>& node) {
        const SourcePlace where = place(node.source());
        const int length = character_count(node.get());
        if (length > longest_text) {
            problems_.error(ProblemCode::too_long, where,
                            fmt::format("the text has {} characters; at most {} are read", length, longest_text),
                            "write a short one");
            return std::nullopt;
        }
        for (const Character& character : characters_of(node.get())) {
            const bool line_end = character.code == U'\n' || character.code == U'\r' || character.code == U'\t';
            if (line_end || !is_control(character.code)) continue;
            problems_.error(ProblemCode::control_character, where,
                            fmt::format("the text holds control character {}", code_point_name(character.code)),
                            "take the backslash and what follows it out");
            return std::nullopt;
        }
        return located_text(text_, from_zero(node.source().begin.line), from_zero(node.source().begin.column),
                            node.get());
    }

    const SourceText& text_;
    Problems& problems_;
    TomlFile file_;
    std::map<std::string, Target> names_;
};

}  // namespace

TypedText TomlEntry::text() const {
    const auto* found = std::get_if<std::string>(&value.value);
    return {found ? *found : std::string(), value.place};
}

const TomlEntry* TomlSection::find(std::string_view wanted) const {
    const auto found =
        std::find_if(entries.begin(), entries.end(), [&](const TomlEntry& e) { return e.key == wanted; });
    return found == entries.end() ? nullptr : &*found;
}

const TomlSection* TomlFile::find(std::string_view wanted) const {
    const auto found =
        std::find_if(sections.begin(), sections.end(), [&](const TomlSection& s) { return s.name == wanted; });
    return found == sections.end() ? nullptr : &*found;
}

TomlFile read_toml_text(std::string_view bytes, const std::string& path, Problems& problems) {
    const SourcePlace whole{path, 0, 0, 1, {}};
    if (bytes.size() > largest_file_bytes) {
        problems.error(ProblemCode::file_too_large, whole,
                       fmt::format("the file has {} bytes; at most {} are read", bytes.size(), largest_file_bytes),
                       "is this the right file?");
        return {path, {}};
    }
    auto text = cut_lines(bytes, path, problems);
    if (!text) return {path, {}};
    TomlStatements statements = find_statements(*text, problems);
    const auto root = parse_all(*text, statements, problems);
    if (!root) return {path, {}};
    return Sections(*text, statements, problems).take(*root);
}

TomlFile read_toml_file(const std::string& path, Problems& problems) {
    const SourcePlace whole{path, 0, 0, 1, {}};
    std::ifstream stream(path_of(path), std::ios::binary);
    const std::string bytes = rest_of_stream(stream, largest_file_bytes);
    if (!stream.is_open() || stream.bad() || (bytes.empty() && !stream.eof())) {
        problems.error(ProblemCode::unreadable_file, whole, fmt::format("cannot read '{}'", path),
                       "check the name of the file");
        return {path, {}};
    }
    if (bytes.size() > largest_file_bytes) {
        problems.error(ProblemCode::file_too_large, whole,
                       fmt::format("the file is larger than {} bytes", largest_file_bytes), "is this the right file?");
        return {path, {}};
    }
    return read_toml_text(bytes, path, problems);
}

}  // namespace voltfall
