#include "netlists/files/toml_texts.hpp"

#include <algorithm>
#include <memory>
#include <vector>

#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

/// Walks over a text as TOML reads it (TOML 1.0, "String"): line ends, trimmed line ends and escapes.
class TextWalk {
public:
    TextWalk(const SourceText& source, std::size_t line, std::size_t at) : source_(source), line_(line), at_(at) {
        quote_ = text().at(at_);
        multi_line_ = text().compare(at_, 3, std::u32string(3, quote_)) == 0;
        at_ += multi_line_ ? 3 : 1;
        if (multi_line_ && at_ >= text().size()) next_line();
    }

    /// The runs of the first `count` characters.
    std::vector<TypedRun> runs(int count) {
        std::vector<TypedRun> runs;
        for (int offset = 0; offset < count && line_ < source_.lines.size(); ++offset) {
            skip_trimmed_line_ends();
            if (line_ >= source_.lines.size()) break;
            const SourcePlace place = source_.place(line_, at_);
            const bool goes_on = !runs.empty() && runs.back().line == place.line &&
                                 runs.back().column + offset - runs.back().offset == place.column;
            if (!goes_on) runs.push_back({offset, place.line, place.column, place.text});
            step();
        }
        return runs;
    }

private:
    const std::u32string& text() const { return source_.lines[line_].text(); }
    bool escaped() const { return quote_ == U'"' && at_ < text().size() && text()[at_] == U'\\'; }

    void next_line() {
        ++line_;
        at_ = 0;
    }

    /// A backslash at the end of a line takes all blanks up to the next character.
    void skip_trimmed_line_ends() {
        if (!multi_line_ || !escaped() || text().find_first_not_of(U" \t", at_ + 1) != std::u32string::npos) return;
        do next_line();
        while (line_ < source_.lines.size() && text().find_first_not_of(U" \t") == std::u32string::npos);
        if (line_ < source_.lines.size()) at_ = text().find_first_not_of(U" \t");
    }

    void step() {
        if (at_ >= text().size()) {
            next_line();
        } else if (escaped()) {
            const char32_t kind = at_ + 1 < text().size() ? text()[at_ + 1] : U' ';
            at_ += kind == U'u' ? 6 : kind == U'U' ? 10 : 2;
        } else {
            ++at_;
        }
    }

    const SourceText& source_;
    std::size_t line_;
    std::size_t at_;
    char32_t quote_{};
    bool multi_line_{false};
};

}  // namespace

TypedText located_text(const SourceText& source, std::size_t line, std::size_t at, std::string decoded) {
    TypedText typed{std::move(decoded), {}};
    if (line >= source.lines.size() || at >= source.lines[line].text().size()) return typed;
    const int count = std::max(character_count(typed.text), 1);
    const std::u32string& first = source.lines[line].text();
    const bool plain =
        first.compare(at, 3, std::u32string(3, first[at])) != 0 && first.find(U'\\', at) == std::u32string::npos;
    std::replace(typed.text.begin(), typed.text.end(), '\n', ' ');
    if (plain || typed.text.empty()) {
        typed.place = source.place(line, at + 1, static_cast<std::size_t>(count));
        return typed;
    }
    std::vector<TypedRun> runs = TextWalk(source, line, at).runs(count);
    typed.place = source.place(line, at + 1, static_cast<std::size_t>(count));
    if (runs.empty()) return typed;
    typed.place.line = runs.front().line;
    typed.place.column = runs.front().column;
    typed.place.text = runs.front().text;
    if (runs.size() > 1) typed.place.runs = std::make_shared<const std::vector<TypedRun>>(std::move(runs));
    return typed;
}

}  // namespace voltfall
