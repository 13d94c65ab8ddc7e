#include "netlists/files/toml_file.hpp"

#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#define TOML_ENABLE_FORMATTERS 0
#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <optional>

#include "netlists/files/source_lines.hpp"
#include "netlists/files/toml_repair.hpp"
#include "netlists/files/toml_statements.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

/// Every round takes one refused statement out of the parser's way; a file with more is another sort of file.
constexpr int most_rounds = 50;

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

/// Parses until nothing is refused. Nothing when that does not come about (reported).
std::optional<toml::table> parse_all(SourceText& text, TomlStatements& statements, Problems& problems) {
    for (int round = 0; round < most_rounds; ++round) {
        toml::parse_result result = toml::parse(text.repaired());
        if (result) return std::move(result).table();
        const toml::parse_error& error = result.error();
        const TomlRefusal refusal{from_zero(error.source().begin.line), from_zero(error.source().begin.column),
                                  std::string(error.description())};
        TomlStatement* statement = statement_at(statements.statements, refusal.line);
        if (!statement) {
            problems.error(text.place(refusal.line, refusal.column), short_reason(refusal.reason), "delete this line");
            return std::nullopt;
        }
        repair_statement(text, *statement, refusal, problems);
    }
    problems.error(SourcePlace{text.path, 0, 0, 1, {}},
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
            names_[header.written_name] = section_index(header);
        }
        for (const TomlStatement& statement : statements.statements) {
            if (statement.lost) lose(section_named(statement.section), statement.key);
            lose(section_named(statement.section), statement.swallowed);
        }
    }

    TomlFile take(const toml::table& root) {
        for (const auto& [key, node] : root) {
            const auto found = names_.find(std::string(key.str()));
            if (found != names_.end() && node.is_table()) {
                add_table(found->second, "", *node.as_table());
            } else {
                add_entry(0, "", key, node);
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
    std::size_t section_named(const std::string& name) const {
        const auto found = std::find_if(file_.sections.begin(), file_.sections.end(),
                                        [&](const TomlSection& s) { return s.name == name; });
        return found == file_.sections.end() ? 0 : static_cast<std::size_t>(found - file_.sections.begin());
    }
    std::size_t section_index(const TomlHeader& header) {
        const std::size_t found = section_named(header.name);
        if (found > 0) return found;
        file_.sections.push_back({header.name, header.place, {}, {}});
        return file_.sections.size() - 1;
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
        if (const toml::table* table = node.as_table(); table && !table->is_inline()) {
            add_table(section, name + ".", *table);
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
            const TypedText typed = text_of(*text);
            entry.value = {typed.text, typed.place};
        } else if (const auto* integer = node.as_integer()) {
            entry.value.value = static_cast<long long>(integer->get());
        } else if (const auto* real = node.as_floating_point()) {
            entry.value.value = real->get();
        } else if (const auto* yes = node.as_boolean()) {
            entry.value.value = yes->get();
        } else if (const auto* list = node.as_array()) {
            entry.value.value = texts_of(*list, entry.key);
        } else {
            problems_.error(
                entry.value.place,
                fmt::format("'{}' holds a {}; expected a text", entry.key, node.is_table() ? "table" : "date or time"),
                fmt::format("texts stand in double quotes: {} = \"…\"", entry.key));
            return false;
        }
        return true;
    }

    std::vector<TypedText> texts_of(const toml::array& list, const std::string& key) {
        std::vector<TypedText> texts;
        for (const toml::node& item : list) {
            if (const auto* text = item.as_string()) {
                texts.push_back(text_of(*text));
            } else {
                problems_.error(place(item.source()), fmt::format("the list '{}' takes texts only", key),
                                fmt::format("texts stand in double quotes: {} = [\"…\", \"…\"]", key));
            }
        }
        return texts;
    }

    /// The text with the place of its first character, inside the quotes.
    TypedText text_of(const toml::value<std::string>& node) const {
        TypedText typed{node.get(), {}};
        std::size_t line = from_zero(node.source().begin.line);
        std::size_t at = from_zero(node.source().begin.column);
        if (line >= text_.lines.size()) return typed;
        const std::u32string& repaired = text_.lines[line].text();
        const std::u32string three = at < repaired.size() ? std::u32string(3, repaired[at]) : U"";
        const bool multi_line = repaired.compare(at, 3, three) == 0 && typed.text.size() > 0;
        at += multi_line ? 3 : 1;
        if (multi_line && at >= repaired.size() && line + 1 < text_.lines.size()) {
            ++line;
            at = 0;
        }
        std::replace(typed.text.begin(), typed.text.end(), '\n', ' ');
        typed.place = text_.place(line, at, static_cast<std::size_t>(std::max(character_count(typed.text), 1)));
        return typed;
    }

    const SourceText& text_;
    Problems& problems_;
    TomlFile file_;
    std::map<std::string, std::size_t> names_;
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
        problems.error(whole,
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
    std::ifstream stream(path, std::ios::binary);
    std::string bytes;
    if (stream) {
        bytes.resize(largest_file_bytes + 1);
        stream.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        bytes.resize(static_cast<std::size_t>(stream.gcount()));
    }
    if (!stream.is_open() || stream.bad() || (bytes.empty() && !stream.eof())) {
        problems.error(whole, fmt::format("cannot read '{}'", path), "check the name of the file");
        return {path, {}};
    }
    if (bytes.size() > largest_file_bytes) {
        problems.error(whole, fmt::format("the file is larger than {} bytes", largest_file_bytes),
                       "is this the right file?");
        return {path, {}};
    }
    return read_toml_text(bytes, path, problems);
}

}  // namespace voltfall
