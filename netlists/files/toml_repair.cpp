#include "netlists/files/toml_repair.hpp"

#include <fmt/format.h>

#include "netlists/files/toml_keys.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr auto nowhere = std::u32string::npos;

class LineRepair {
public:
    LineRepair(SourceText& text, TomlStatement& statement, const TomlRefusal& refusal, Problems& problems)
        : text_(text), statement_(statement), refusal_(refusal), problems_(problems) {}

    void repair() {
        const bool again = statement_.repaired;
        statement_.repaired = true;
        const bool one_line = statement_.first_line == statement_.last_line;
        if (!again && statement_.equals == 0) {
            add_equals();
        } else if (!again && one_line && !value().empty()) {
            repair_value();
        } else if (!again) {
            report_refusal(example());
            give_up();
        } else {
            give_up();
        }
    }

private:
    SourceLine& line() { return text_.lines[statement_.first_line]; }
    const std::u32string& text() { return line().text(); }
    std::u32string_view value() { return trimmed(std::u32string_view(text()).substr(statement_.equals + 1)); }
    std::size_t value_begin() { return text().find_first_not_of(U" \t", statement_.equals + 1); }

    void report(ProblemCode code, std::size_t at, std::string message, std::string suggestion) {
        problems_.error(code, text_.place(statement_.first_line, at), std::move(message), std::move(suggestion));
    }
    /// In the refused line, which need not be the first of the statement.
    void report_refusal(std::string suggestion) {
        const bool own = refusal_.code == ProblemCode::not_toml;
        problems_.error(refusal_.code, text_.place(refusal_.line, refusal_.column),
                        own ? short_reason(refusal_.reason) : refusal_.reason, std::move(suggestion));
    }
    std::string example() {
        const std::string key = statement_.key.empty() ? "F7" : statement_.key;
        return fmt::format("texts stand in double quotes: {} = \"…\"", key);
    }
    void give_up() {
        for (std::size_t i = statement_.first_line; i <= statement_.last_line; ++i) text_.lines[i].blank();
        statement_.lost = true;
    }

    /// How many signs at the end of a key were meant as '='.
    static std::size_t signs_at_end(std::string_view key) {
        const auto last = key.find_last_not_of(":>=-");
        return last == std::string_view::npos ? 0 : key.size() - last - 1;
    }

    /// May a name begin so? A letter or digit of any script, or a sign that names hold.
    static bool begins_name(char32_t first) { return is_letter(first) || first == U'_' || first == U'-'; }

    /// A line that begins as no name can: a note of another language, a bullet, a line that is in quotes as a whole.
    void report_no_line(std::size_t begin) {
        const auto line = trimmed(std::u32string_view(text()).substr(begin));
        constexpr std::size_t longest = 40;
        const std::string typed = write_utf8(line.substr(0, longest)) + (line.size() > longest ? " …" : "");
        const char32_t first = line.front();
        const bool quoted = first == U'"' || first == U'\'';
        const bool note = first == U';' || first == U'%' || line.starts_with(U"//") || line.starts_with(U"/*");
        report(ProblemCode::no_equals, begin,
               fmt::format("no name and '=' begin the line {}", quoted ? typed : "'" + typed + "'"),
               note     ? "a note begins with #"
               : quoted ? "only what stands behind '=' is in quotes: F7 = \"…\""
                        : "a line is NAME = \"…\", a [section] or a # note; take it out if it is none");
    }

    /// `F7 "fuse 40A"`, `F7: "fuse 40A"`, `F7 -> "fuse 40A"`.
    void add_equals() {
        const std::size_t begin = text().find_first_not_of(U" \t");
        if (text()[begin] == U'=') {
            report(ProblemCode::no_name, begin, "expected a name before '='", example());
            return give_up();
        }
        if (!begins_name(text()[begin])) {
            report_no_line(begin);
            return give_up();
        }
        const std::size_t quote = text().find_first_of(U"\"'", begin);
        const std::size_t signs = signs_at_end(statement_.key);
        const std::string sign = statement_.key.substr(statement_.key.size() - signs);
        statement_.key.resize(statement_.key.size() - signs);
        report(ProblemCode::no_equals, begin,
               fmt::format("expected '=' behind '{}'{}", statement_.key,
                           sign.empty() ? "" : fmt::format(", found '{}'", sign)),
               example());
        if (quote == nowhere || quote == begin) return give_up();
        line().replace(quote, 0, U"= ");
        statement_.equals = quote;
        for (std::size_t i = quote; i-- > begin && std::u32string_view(U":>=- \t").find(text()[i]) != nowhere;)
            line().replace(i, 1, U" ");
        const auto key = trimmed(std::u32string_view(text()).substr(begin, quote - begin));
        statement_.key = write_utf8(key);
        if (!is_bare_key(key) && key.find_first_of(U"\"'\\") != nowhere) return give_up();
        if (is_bare_key(key)) return;
        const std::size_t size = key.size();
        line().replace(begin + size, 0, U"\"");
        line().replace(begin, 0, U"\"");
        statement_.equals += 2;
    }

    void repair_value() {
        const std::size_t key_begin = text().find_first_not_of(U" \t");
        const char32_t first = value().front();
        if (key_begin == statement_.equals) {
            report(ProblemCode::no_name, key_begin, "expected a name before '='", example());
            give_up();
        } else if (first == U'#') {
            report(ProblemCode::no_value, statement_.equals, fmt::format("'{}' has no value", statement_.key),
                   example());
            give_up();
        } else if (first == U'=') {
            report(ProblemCode::words_behind, value_begin(), fmt::format("a second '=' behind '{}'", statement_.key),
                   example());
            line().replace(value_begin(), 1, U" ");
        } else if (first == U'"' || first == U'\'') {
            repair_text(first);
        } else if (first == U'[' || first == U'{') {
            if (first == U'[' || !report_key_again()) report_refusal(list_advice(statement_.key, first));
            give_up();
        } else {
            add_quotes();
        }
    }

    /// A key that stands twice in a table on one line; the parser names it in quotes.
    bool report_key_again() {
        if (refusal_.reason.find("redefine") == std::string::npos) return false;
        const auto open = refusal_.reason.find('\'');
        const auto close = refusal_.reason.find('\'', open + 1);
        if (open == std::string::npos || close == std::string::npos) return false;
        problems_.error(
            ProblemCode::written_twice, text_.place(refusal_.line, refusal_.column),
            fmt::format("{} stands twice in '{}'", refusal_.reason.substr(open, close - open + 1), statement_.key),
            "give each a name of its own");
        return true;
    }

    /// `F7 = fuse 40A maxi   # note`.
    void add_quotes() {
        const std::size_t begin = value_begin();
        std::size_t end = std::min(text().find(U'#', begin), text().size());
        const auto bare = trimmed(std::u32string_view(text()).substr(begin, end - begin));
        end = begin + bare.size();
        if (bare.find_first_not_of(U"+-0123456789_") == nowhere && bare.find_first_of(U"0123456789") != nowhere) {
            report(ProblemCode::no_figure, begin,
                   fmt::format("'{}' is no number that can be read", write_utf8(bare.substr(0, 60))), example());
            return give_up();
        }
        auto inside = bare.substr(0, bare.find_last_not_of(U"\"'`") + 1);
        while (!inside.empty() && inside.front() == U'`') inside.remove_prefix(1);
        std::string shown = write_utf8(inside);
        std::erase(shown, '"');
        if (inside.size() > 60) shown = write_utf8(inside.substr(0, 20)) + " …";
        report(ProblemCode::no_quotes, begin, fmt::format("the text of '{}' is not in quotes", statement_.key),
               fmt::format("texts stand in double quotes: {} = \"{}\"", statement_.key, shown));
        wrap(begin, end);
    }

    /// Quotes around what stands from `begin` to `end`; quotes inside become blanks.
    void wrap(std::size_t begin, std::size_t end) {
        const auto drop_quotes = [&](std::size_t at) {
            if (at >= end || std::u32string_view(U"\"'`").find(text()[at]) == nowhere) return;
            line().replace(at, 1, U"");
            --end;
        };
        drop_quotes(begin);
        drop_quotes(end - 1);
        for (std::size_t i = begin; i < end; ++i) {
            if (text()[i] == U'"' || text()[i] == U'\\') line().replace(i, 1, U" ");
        }
        line().replace(end, 0, U"\"");
        line().replace(begin, 0, U"\"");
    }

    /// A text in quotes that the parser refuses: not closed, more behind it, or a backslash in it.
    void repair_text(char32_t quote) {
        const std::size_t begin = value_begin();
        const std::size_t close = closing_quote(begin, quote);
        if (close == nowhere) {
            report(ProblemCode::open_quotes, begin, fmt::format("the quotes of '{}' are not closed", statement_.key),
                   "close the quotes");
            const std::u32string_view open = trimmed(std::u32string_view(text()).substr(begin));
            line().replace(begin + open.size(), 0, std::u32string_view(&quote, 1));
            return;
        }
        const auto behind = trimmed(std::u32string_view(text()).substr(close + 1));
        if (!behind.empty() && behind.front() != U'#') {
            if (starts_statement(behind)) return split_off(close + 1);
            const auto tail = trimmed(behind.substr(0, behind.find(U'#')));
            report(ProblemCode::words_behind, text().find_first_not_of(U" \t", close + 1),
                   fmt::format("'{}' stands behind the closing quotes", write_utf8(tail.substr(0, 40))),
                   "put it inside the quotes, or behind # as a note");
            const std::size_t end = text().find_first_not_of(U" \t", close + 1) + tail.size();
            return wrap(begin, end);
        }
        const std::size_t backslash = text().find(U'\\', begin);
        if (quote == U'"' && backslash < close) {
            const std::size_t bad = bad_escape(backslash, close);
            report(
                ProblemCode::backslash, bad,
                fmt::format("a backslash in a text: '{}' stands for no character",
                            write_utf8(std::u32string_view(text()).substr(bad, std::min<std::size_t>(2, close - bad)))),
                "write / or leave it out");
            return give_up();  // what was meant is not known: no second problem of the same backslash
        }
        report_refusal(example());
        give_up();
    }

    /// The first backslash from `at` on that begins no escape of TOML 1.0; `at` where all do.
    std::size_t bad_escape(std::size_t at, std::size_t end) {
        for (std::size_t i = at; i < end; i += 2) {
            while (i < end && text()[i] != U'\\') ++i;
            if (i >= end) break;
            const char32_t kind = text()[i + 1];
            const std::size_t digits = kind == U'u' ? 4 : kind == U'U' ? 8 : 0;
            if (digits == 0 && std::u32string_view(U"btnfr\"\\").find(kind) == nowhere) return i;
            const auto hex = std::u32string_view(text()).substr(i + 2, digits);
            const bool whole = hex.size() == digits && hex.find_first_not_of(U"0123456789abcdefABCDEF") == nowhere;
            const bool surrogate = digits == 4 && whole && (hex[0] == U'd' || hex[0] == U'D') && hex[1] >= U'8';
            if (digits > 0 && (!whole || surrogate)) return i;
        }
        return at;
    }

    /// `R1 = "C303" M1 = "C304"`: two statements on a line; the first is kept.
    void split_off(std::size_t from) {
        const std::size_t begin = text().find_first_not_of(U" \t", from);
        const std::u32string_view second = std::u32string_view(text()).substr(begin);
        const bool header = second.front() == U'[';
        statement_.swallowed =
            header ? std::string() : unquoted(write_utf8(trimmed(second.substr(0, second.find(U'=')))));
        report(ProblemCode::bad_header, begin,
               header ? fmt::format("a section header stands behind the text of '{}'", statement_.key)
                      : fmt::format("'{}' stands behind the text of '{}'", statement_.swallowed, statement_.key),
               "put it on a line of its own");
        line().replace(begin, text().size() - begin, U"");
    }

    std::size_t closing_quote(std::size_t begin, char32_t quote) {
        for (std::size_t i = begin + 1; i < text().size(); ++i) {
            if (text()[i] == U'\\' && quote == U'"') {
                ++i;
            } else if (text()[i] == quote) {
                return i;
            }
        }
        return nowhere;
    }

    SourceText& text_;
    TomlStatement& statement_;
    const TomlRefusal& refusal_;
    Problems& problems_;
};

}  // namespace

void repair_statement(SourceText& text, TomlStatement& statement, const TomlRefusal& refusal, Problems& problems) {
    LineRepair(text, statement, refusal, problems).repair();
}

std::size_t take_wrapped_line(SourceText& text, TomlStatement& statement, Problems& problems) {
    const std::size_t next = statement.last_line + 1;
    if (statement.lost || next >= text.lines.size()) return 0;
    const std::u32string& first = text.lines[statement.first_line].text();
    const auto value = trimmed(std::u32string_view(first).substr(statement.equals + 1));
    const std::u32string& second = text.lines[next].text();
    const auto rest = trimmed(std::u32string_view(second).substr(0, second.find(U'#')));
    const bool closes = !value.empty() && rest.size() > 1 && rest.find(value.front()) == rest.size() - 1;
    if (!closes || starts_statement(second)) return 0;
    problems.error(ProblemCode::open_quotes,
                   text.place(statement.first_line, first.find(value.front(), statement.equals)),
                   fmt::format("the text of '{}' goes on in the next line", statement.key),
                   "write it on one line, or between three quotes");
    text.lines[next].blank();
    statement.last_line = next;
    statement.lost = true;
    return 1;
}

std::string list_advice(std::string_view key, char32_t sign) {
    if (sign == U'[') return fmt::format("a list of texts is written {} = [\"…\", \"…\"]", key);
    return fmt::format("a table is written {0} = {{ F7 = \"…\", M1 = \"…\" }}, or [{0}] and a line each", key);
}

std::string short_reason(std::string reason) {
    constexpr std::string_view preamble = "Error while parsing ";
    if (reason.compare(0, preamble.size(), preamble) == 0) {
        const auto colon = reason.find(": ");
        reason.erase(0, colon == std::string::npos ? preamble.size() : colon + 2);
    }
    for (char& c : reason) {
        if (static_cast<unsigned char>(c) < 0x20) c = ' ';
    }
    if (!reason.empty() && reason[0] >= 'A' && reason[0] <= 'Z') reason[0] = static_cast<char>(reason[0] - 'A' + 'a');
    return "not TOML: " + reason;
}

}  // namespace voltfall
