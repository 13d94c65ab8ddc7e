#include "netlists/files/toml_statements.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "netlists/files/section_names.hpp"
#include "netlists/files/toml_keys.hpp"
#include "netlists/files/toml_repair.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Where a scan of a value stands between two lines.
struct ValueScan {
    int depth{0};
    int deepest{0};
    std::u32string multi_line;  ///< the quotes that end a multi-line text, or empty
    bool open_text{false};      ///< a text of one line does not close on it
};

/// Most mistakes of syntax that are looked for; far more than are told.
constexpr int most_mistakes = 1000;

class StatementFinder {
public:
    StatementFinder(SourceText& text, Problems& problems) : text_(text), problems_(problems) {}

    TomlStatements find() {
        for (line_ = 0; line_ < text_.lines.size() && !is_another_sort(); ++line_) {
            reported_.clear();
            const std::size_t begin = skip_blanks(0);
            if (begin >= text().size() || text()[begin] == U'#') continue;
            if (text()[begin] == U'[') {
                read_header(begin);
            } else {
                read_statement(begin);
            }
        }
        if (is_another_sort()) {
            const bool sections = found_.headers.size() > most_sections;
            problems_.error(ProblemCode::too_many, {text_.path, static_cast<int>(line_), 1, 1, {}},
                            sections ? fmt::format("more than {} sections; the rest is not read", most_sections)
                                     : fmt::format("more than {} mistakes; the rest is not read", most_mistakes),
                            "is this the right file?");
            for (; line_ < text_.lines.size(); ++line_) source().blank();
        }
        return std::move(found_);
    }

private:
    const std::u32string& text() const { return text_.lines[line_].text(); }
    SourceLine& source() { return text_.lines[line_]; }
    void error(ProblemCode code, std::size_t at, std::size_t length, std::string message, std::string suggestion) {
        error(code, text_.place(line_, at, length), std::move(message), std::move(suggestion));
    }
    void error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion) {
        ++mistakes_;
        problems_.error(code, place, std::move(message), std::move(suggestion));
    }
    /// With more mistakes or sections than anyone types it is another sort of file.
    bool is_another_sort() const { return found_.headers.size() > most_sections || mistakes_ > most_mistakes; }

    /// Puts the plain character for a look-alike and says so, once a line for each sort.
    char32_t plain(std::size_t at) {
        const LookAlike* alike = look_alike(text()[at]);
        if (!alike) return text()[at];
        const char32_t character = plain_of(*alike);
        if (reported_.insert(alike->name).second) {
            const bool blank = character == U' ';
            const std::string shown = blank ? "" : fmt::format(" '{}'", write_utf8(text().substr(at, 1)));
            error(ProblemCode::strange_character, at, 1,
                  fmt::format("a {}{} ({}) is not read here", alike->name, shown, code_point_name(alike->code)),
                  alike->plain == 0 ? "take it out; it cannot be seen"
                  : blank           ? "type a plain blank instead"
                                    : fmt::format("type a plain {} instead", alike->plain));
        }
        source().replace(at, 1, std::u32string_view(&character, 1));
        return character;
    }

    std::size_t skip_blanks(std::size_t at) {
        while (at < text().size() && (plain(at) == U' ' || text()[at] == U'\t')) ++at;
        return at;
    }

    void read_header(std::size_t begin);
    bool read_bare_header(std::size_t begin, std::size_t end);
    void name_header(std::size_t begin, std::size_t length, const std::string& name);
    void read_statement(std::size_t begin);
    std::size_t find_equals(std::size_t begin);
    void quote_key(std::size_t begin, TomlStatement& statement);
    void scan_line(std::size_t at, ValueScan& scan);
    std::size_t scan_text(std::size_t at, ValueScan& scan, bool curly);
    void close_with_curly(std::size_t begin, char32_t quote);
    void finish(TomlStatement& statement, const ValueScan& scan);
    char32_t opening_sign(const TomlStatement& statement) const;
    bool is_twice(const TomlStatement& statement);

    SourceText& text_;
    Problems& problems_;
    TomlStatements found_;
    std::size_t line_{0};
    std::string section_;
    std::string prefix_;
    bool nameless_{false};  ///< below a header without a name
    int mistakes_{0};
    bool repeated_{false};  ///< the section stands twice, which tells why its keys do
    std::set<std::string_view> reported_;
    std::map<std::pair<std::string, std::string>, int> lines_of_keys_;
    std::map<std::string, int> lines_of_sections_;
};

void StatementFinder::read_header(std::size_t begin) {
    std::size_t end = begin;
    while (end < text().size() && plain(end) != U'#') ++end;
    std::u32string_view inside = std::u32string_view(text()).substr(begin + 1, end - begin - 1);
    const bool listed = !inside.empty() && inside.front() == U'[';
    if (listed) inside.remove_prefix(1);
    const auto close = inside.find(U']');
    std::string name = unquoted(write_utf8(trimmed(inside.substr(0, close))));
    if (close == std::u32string_view::npos) name.resize(name.find_last_not_of(" )}>:;,") + 1);
    const std::u32string_view behind = close == std::u32string_view::npos
                                           ? std::u32string_view{}
                                           : trimmed(inside.substr(std::min(inside.size(), close + (listed ? 2 : 1))));
    const std::string wanted = fmt::format("write [{}]", name.empty() ? "parts" : name);
    const std::size_t length = trimmed(std::u32string_view(text()).substr(begin, end - begin)).size();
    if (close == std::u32string_view::npos) {
        error(ProblemCode::bad_header, begin, length, fmt::format("the section header '[{}' is not closed", name),
              wanted);
    } else if (listed) {
        error(ProblemCode::bad_header, begin, length,
              fmt::format("'[[{}]]' is a list of tables; expected a section", name), wanted);
    } else if (name.empty()) {
        error(ProblemCode::bad_header, begin, length, "a section header without a name", wanted);
    } else if (!behind.empty()) {
        error(ProblemCode::bad_header, begin, length,
              fmt::format("'{}' stands behind the section header [{}]", write_utf8(behind), name),
              "put it on a line of its own");
    }
    const auto [first, fresh] = lines_of_sections_.emplace(name, static_cast<int>(line_ + 1));
    const bool repeated = !fresh && !name.empty();
    if (repeated) {
        error(ProblemCode::written_twice, begin, length,
              fmt::format("section [{}] stands twice; the first is in line {}", name, first->second),
              fmt::format("move these lines up to line {}", first->second));
    }
    name_header(begin, length, name);
    repeated_ = repeated;
}

/// `parts`, `parts:`, `(parts)`, `parts]`, `parts =`: a line that is a section's word and nothing else. True when it
/// was one, which is reported.
bool StatementFinder::read_bare_header(std::size_t begin, std::size_t end) {
    constexpr std::u32string_view opening = U"[({<";
    constexpr std::u32string_view closing = U"])}>:;= \t";
    std::u32string_view line = trimmed(std::u32string_view(text()).substr(begin, end - begin));
    const std::size_t length = line.size();
    const bool bracket = !line.empty() && line.back() == U']';
    while (!line.empty() && opening.find(line.front()) != std::u32string_view::npos) line.remove_prefix(1);
    while (!line.empty() && closing.find(line.back()) != std::u32string_view::npos) line.remove_suffix(1);
    if (!is_bare_key(line)) return false;
    const std::string name = write_utf8(line);
    const bool known = section_named(lower(name)).has_value();
    if (!known && !bracket) return false;
    error(ProblemCode::bad_header, begin, length,
          fmt::format("the section header '{}' has no {}", write_utf8(text().substr(begin, length)),
                      bracket ? "opening bracket" : "brackets"),
          fmt::format("write [{}]", known ? lower(name) : name));
    name_header(begin, length, known ? lower(name) : name);
    return true;
}

void StatementFinder::name_header(std::size_t begin, std::size_t length, const std::string& name) {
    lines_of_sections_.emplace(name, static_cast<int>(line_ + 1));
    // `[limits.hi]` is the rest of a key with a point.
    const auto point = name.find('.');
    const bool table = point != std::string::npos && has_dotted_keys(name.substr(0, point));
    repeated_ = false;
    nameless_ = name.empty();
    if (!table && point != std::string::npos && section_named(name.substr(0, point))) {
        error(ProblemCode::bad_header, begin, length, fmt::format("'[{}]' is a table in a section", name),
              fmt::format("write [{}]", name.substr(0, point)));
        section_ = name.substr(0, point);
    } else {
        section_ = table ? name.substr(0, point) : name;
    }
    prefix_ = table ? name.substr(point + 1) + "." : "";
    const SourcePlace place = text_.place(line_, begin, length);
    found_.headers.push_back({section_, prefix_, place, fmt::format("section {}", found_.headers.size() + 1)});
    const std::string repaired = fmt::format("[\"{}\"]", found_.headers.back().written_name);
    source().blank();
    source().replace(0, 0, std::u32string(repaired.begin(), repaired.end()));
}

/// Index of the first '=' outside quotes; npos where the line has none.
std::size_t StatementFinder::find_equals(std::size_t begin) {
    char32_t quote = 0;
    for (std::size_t i = begin; i < text().size(); ++i) {
        const char32_t c = quote ? text()[i] : plain(i);
        if (quote) {
            if (c == quote) quote = 0;
        } else if (c == U'"' || c == U'\'') {
            quote = c;
        } else if (c == U'#') {
            break;
        } else if (c == U'=') {
            return i;
        }
    }
    return std::u32string::npos;
}

void StatementFinder::quote_key(std::size_t begin, TomlStatement& statement) {
    const std::u32string key(trimmed(std::u32string_view(text()).substr(begin, statement.equals - begin)));
    statement.key = prefix_ + unquoted(write_utf8(key));
    if (key.empty() || is_bare_key(key)) return;
    if (key.find_first_of(U"\"'\\") != std::u32string::npos) {
        if (is_written_key(key)) return;
        error(ProblemCode::bad_name, begin, key.size(),
              fmt::format("'{}' is no name that can be read", write_utf8(key)),
              "a name stands in no quotes, or in one pair of them");
        statement.lost = true;
        return;
    }
    source().replace(begin + key.size(), 0, U"\"");
    source().replace(begin, 0, U"\"");
    statement.equals += 2;
}

void StatementFinder::read_statement(std::size_t begin) {
    TomlStatement statement{line_, line_, section_, {}, 0, false, false, {}};
    const std::size_t equals = find_equals(begin);
    // Below a header without a name nobody knows what a line is.
    if (nameless_) return source().blank();
    ValueScan scan;
    const std::size_t note = equals == std::u32string::npos ? text().find(U'#', begin) : equals + 1;
    const bool no_value =
        equals != std::u32string::npos && trimmed(std::u32string_view(text()).substr(equals + 1)).empty();
    if ((equals == std::u32string::npos || no_value) && read_bare_header(begin, std::min(note, text().size()))) return;
    if (equals == std::u32string::npos) {
        statement.key = prefix_ + first_word(text().substr(begin));
        found_.statements.push_back(std::move(statement));
        return;
    }
    statement.equals = equals;
    quote_key(begin, statement);
    scan_line(statement.equals + 1, scan);
    while (!scan.multi_line.empty() || scan.depth > 0) {
        const bool ends = line_ + 1 >= text_.lines.size() ||
                          (scan.multi_line.empty() && starts_statement(text_.lines[line_ + 1].text()));
        if (ends) break;
        ++line_;
        reported_.clear();
        scan_line(0, scan);
    }
    statement.last_line = line_;
    if (scan.open_text && scan.depth == 0) line_ += take_wrapped_line(text_, statement, problems_);
    if (statement.lost) {
        for (std::size_t i = statement.first_line; i <= statement.last_line; ++i) text_.lines[i].blank();
        found_.statements.push_back(std::move(statement));
        return;
    }
    finish(statement, scan);
}

void StatementFinder::finish(TomlStatement& statement, const ValueScan& scan) {
    const auto blank = [&] {
        for (std::size_t i = statement.first_line; i <= statement.last_line; ++i) text_.lines[i].blank();
        statement.lost = true;
    };
    const SourcePlace place =
        text_.place(statement.first_line, text_.lines[statement.first_line].text().find_first_not_of(U" \t"));
    if (!scan.multi_line.empty()) {
        // The rest of the file is in this text: take the first line alone and look at the others again.
        error(ProblemCode::open_quotes, place,
              fmt::format("the text of '{}' opens with three quotes and is never closed", statement.key),
              "close it with three quotes");
        line_ = statement.last_line = statement.first_line;
        blank();
    } else if (scan.deepest > deepest_nesting) {
        error(ProblemCode::nested_too_deep, place,
              fmt::format("'{}' is nested {} deep; at most {} are read", statement.key, scan.deepest, deepest_nesting),
              "write one text in quotes, or one list of texts");
        blank();
    } else if (std::count(statement.key.begin(), statement.key.end(), '.') > deepest_nesting) {
        error(ProblemCode::nested_too_deep, place, fmt::format("a key of more than {} parts", deepest_nesting),
              "write a short name");
        blank();
    } else if (is_twice(statement)) {
        blank();
    } else if (const char32_t sign = opening_sign(statement); scan.depth > 0 && sign != 0) {
        const std::string_view sort = sign == U'{' ? "table" : "list";
        error(ProblemCode::open_list, place,
              fmt::format(
                  "{} '{}' {} not closed",
                  scan.open_text ? fmt::format("the quotes of a text in the {}", sort) : fmt::format("the {}", sort),
                  statement.key, scan.open_text ? "are" : "is"),
              list_advice(statement.key, sign));
        blank();
    }
    found_.statements.push_back(std::move(statement));
}

/// The sign that opens a list or a table; 0 before any other value.
char32_t StatementFinder::opening_sign(const TomlStatement& statement) const {
    const auto value =
        trimmed(std::u32string_view(text_.lines[statement.first_line].text()).substr(statement.equals + 1));
    return !value.empty() && (value.front() == U'[' || value.front() == U'{') ? value.front() : 0;
}

bool StatementFinder::is_twice(const TomlStatement& statement) {
    if (statement.key.empty()) return false;
    const int line = static_cast<int>(statement.first_line + 1);
    const auto [first, fresh] = lines_of_keys_.emplace(std::pair(statement.section, statement.key), line);
    if (fresh) return false;
    if (repeated_) return true;
    const std::u32string& repaired = text_.lines[statement.first_line].text();
    const std::size_t begin = repaired.find_first_not_of(U" \t");
    const auto line_typed = [&](int number) { return trimmed(text_.lines.at(number - 1).text()); };
    const bool free_names = names_are_free(statement.section);
    error(ProblemCode::written_twice,
          text_.place(statement.first_line, begin,
                      trimmed(std::u32string_view(repaired).substr(begin, statement.equals - begin)).size()),
          fmt::format("'{}' stands twice; the first is in line {}", statement.key, first->second),
          free_names && line_typed(line) != line_typed(first->second)
              ? fmt::format("give one of them another name, such as '{}b'", statement.key)
              : "take one of them out");
    return true;
}

/// Walks over the rest of a line of a value: texts, lists, a comment.
void StatementFinder::scan_line(std::size_t at, ValueScan& scan) {
    if (!scan.multi_line.empty()) {
        const auto end = text().find(scan.multi_line);
        if (end == std::u32string::npos) return;
        at = end + 3;
        scan.multi_line.clear();
    }
    while (at < text().size()) {
        const bool curly = look_alike(text()[at]) != nullptr;
        const char32_t c = plain(at);
        if (c == U'#') return;
        if (c == U'"' || c == U'\'') {
            at = scan_text(at, scan, curly);
            continue;
        }
        if (c == U'[' || c == U'{') scan.deepest = std::max(scan.deepest, ++scan.depth);
        if (c == U']' || c == U'}') scan.depth = std::max(0, scan.depth - 1);
        ++at;
    }
}

/// Index behind the text that opens at `at`, or the end of the line where it does not close there.
std::size_t StatementFinder::scan_text(std::size_t at, ValueScan& scan, bool curly) {
    const char32_t quote = text()[at];
    const std::u32string three(3, quote);
    if (!curly && text().compare(at, 3, three) == 0) {
        const auto end = text().find(three, at + 3);
        if (end != std::u32string::npos) return end + 3;
        scan.multi_line = three;
        return text().size();
    }
    for (std::size_t i = at + 1; i < text().size(); ++i) {
        const char32_t c = text()[i];
        if (c == U'\\' && quote == U'"') {
            ++i;
            continue;
        }
        if (curly && stands_for(c, quote)) plain(i);
        if (text()[i] == quote) return i + 1;
    }
    if (!curly) close_with_curly(at, quote);
    scan.open_text = text().find(quote, at + 1) == std::u32string::npos;
    return text().size();
}

/// `"fuse 40A”`: the last curly quote of a text that a plain one opened is meant to close it.
void StatementFinder::close_with_curly(std::size_t begin, char32_t quote) {
    for (std::size_t i = text().size(); i-- > begin + 1;) {
        if (!stands_for(text()[i], quote)) continue;
        plain(i);
        return;
    }
}

}  // namespace

TomlStatements find_statements(SourceText& text, Problems& problems) {
    return StatementFinder(text, problems).find();
}

}  // namespace voltfall
