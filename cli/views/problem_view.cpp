#include "cli/views/problem_view.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/views/figures.hpp"
#include "netlists/text/characters.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

constexpr int source_indent = 2;
constexpr std::string_view cut_mark = "...";

Tone tone_of(Severity severity) {
    switch (severity) {
        case Severity::error:
            return Tone::bad;
        case Severity::warning:
            return Tone::caution;
        case Severity::note:
            return Tone::quiet;
    }
    return Tone::plain;
}

std::string place_text(const SourcePlace& place) {
    const std::string file = shown_name(place.file.str());
    if (place.line <= 0) return file;
    return fmt::format("{}:{}:{}", file, place.line, place.column);
}

/// The line as characters; what a terminal would obey (a tab, above all) becomes a blank so that the caret stands
/// right, and so does a byte that is not UTF-8.
std::vector<std::string> characters_shown(std::string_view line) {
    std::vector<std::string> shown;
    for (const Character& character : characters_of(line)) {
        const bool plain = character.valid && !is_control(character.code);
        shown.emplace_back(plain ? character.bytes : std::string_view(" "));
    }
    return shown;
}

/// Part of a long line around the caret.
struct Window {
    std::string text;
    int caret{};
    int length{};
};

Window window_of(const SourcePlace& place, int width) {
    const std::vector<std::string> characters = characters_shown(place.text.str());
    const int size = static_cast<int>(characters.size());
    const int at = std::clamp(place.column - 1, 0, size);
    int first = 0;
    int last = size;
    const int mark = static_cast<int>(cut_mark.size());
    if (size > width) {
        const int room = std::max(width - 2 * mark, 8);
        first = std::clamp(at - room / 3, 0, std::max(size - room, 0));
        last = std::min(first + room, size);
    }
    Window window;
    if (first > 0) window.text += cut_mark;
    window.caret = at - first + (first > 0 ? mark : 0);
    for (int i = first; i < last; ++i) window.text += characters[static_cast<std::size_t>(i)];
    if (last < size) window.text += cut_mark;
    window.length = std::clamp(place.length, 1, std::max(last - at, 1));
    return window;
}

}  // namespace

std::size_t count_of(const std::vector<Problem>& problems, Severity severity) {
    return static_cast<std::size_t>(std::count_if(problems.begin(), problems.end(), [&](const Problem& problem) {
        return problem.severity == severity && problem.code != ProblemCode::more_problems;
    }));
}

std::string problem_counts(const std::vector<Problem>& problems) {
    std::string text;
    for (const Severity severity : {Severity::error, Severity::warning, Severity::note}) {
        const std::size_t count = count_of(problems, severity);
        if (count > 0) text += (text.empty() ? "" : ", ") + counted(count, severity_name(severity));
    }
    if (!problems.empty() && problems.back().code == ProblemCode::more_problems) text += " " + problems.back().message;
    return text.empty() ? "no problems" : text;
}

namespace {

/// The message without what is quoted in it and without numbers: two with the same rest are one kind of mistake.
std::string kind_of(const Problem& problem) {
    std::string kind;
    bool quoted = false;
    for (const char c : problem.message) {
        if (c == '\'') quoted = !quoted;
        const bool digit = c >= '0' && c <= '9';
        if (!quoted && !digit) kind += c;
    }
    return kind;
}

/// Mistakes of one kind in one file, in the order of the lines.
struct MistakeKind {
    const Problem* first{};
    std::vector<const Problem*> others;
};

/// Errors first, then warnings, then notes; each kind where its first stands.
std::vector<MistakeKind> kinds_of(const std::vector<Problem>& problems) {
    std::vector<MistakeKind> kinds;
    for (const Severity severity : {Severity::error, Severity::warning, Severity::note}) {
        for (const Problem& problem : problems) {
            if (problem.severity != severity) continue;
            const auto known = std::find_if(kinds.begin(), kinds.end(), [&](const MistakeKind& kind) {
                return kind.first->severity == severity && kind.first->place.file == problem.place.file &&
                       kind.first->place.line > 0 && problem.place.line > 0 && kind_of(*kind.first) == kind_of(problem);
            });
            if (known == kinds.end())
                kinds.push_back({&problem, {}});
            else
                known->others.push_back(&problem);
        }
    }
    return kinds;
}

/// "12 (fed)": the line, and what is pointed at there where that is short.
std::string line_and_word(const Problem& problem) {
    const std::vector<Character> characters = characters_of(problem.place.text.str());
    const auto begin = static_cast<std::size_t>(std::max(problem.place.column - 1, 0));
    const std::size_t end = begin + static_cast<std::size_t>(std::max(problem.place.length, 0));
    std::string word;
    for (std::size_t i = begin; i < characters.size() && i < end; ++i) word += characters[i].bytes;
    constexpr int longest = 12;
    const bool told = !word.empty() && text_width(word) <= longest;
    return fmt::format("{}{}", problem.place.line, told ? " (" + word + ")" : "");
}

/// "the same in lines 12 and 14"; a line that wants another mend than the first tells its own.
void write_others(TextPage& page, const MistakeKind& kind) {
    constexpr std::size_t most = 8;
    std::vector<std::string> lines;
    std::vector<const Problem*> otherwise;
    for (const Problem* problem : kind.others) {
        if (problem->suggestion.empty() || problem->suggestion == kind.first->suggestion)
            lines.push_back(line_and_word(*problem));
        else
            otherwise.push_back(problem);
    }
    if (!lines.empty())
        page.paragraph((lines.size() == 1 ? "the same in line " : "the same in lines ") + names_and_more(lines, most),
                       source_indent, 2);
    for (std::size_t i = 0; i < std::min(otherwise.size(), most); ++i)
        page.paragraph(fmt::format("also in line {}: {}", line_and_word(*otherwise[i]), otherwise[i]->suggestion),
                       source_indent, 2);
    lines.clear();
    for (std::size_t i = most; i < otherwise.size(); ++i) lines.push_back(line_and_word(*otherwise[i]));
    if (!lines.empty()) page.paragraph("and in lines " + names_and_more(lines, most), source_indent, 2);
}

}  // namespace

void write_problems(TextPage& page, const std::vector<Problem>& problems) {
    for (const MistakeKind& kind : kinds_of(problems)) {
        const Problem& problem = *kind.first;
        const Tone tone = tone_of(problem.severity);
        page.paragraph(
            fmt::format("{}: {}: {}", place_text(problem.place), severity_name(problem.severity), problem.message), 0,
            2, tone);
        if (problem.place.line > 0 && !problem.place.text.empty()) {
            const Window window = window_of(problem.place, page.style().width - source_indent);
            const std::string margin(source_indent, ' ');
            page.line(margin + window.text);
            const std::string caret = "^" + std::string(static_cast<std::size_t>(window.length - 1), '~');
            page.line(margin + std::string(static_cast<std::size_t>(window.caret), ' ') +
                      painted(caret, tone, page.style().colour));
        }
        if (!problem.suggestion.empty()) page.paragraph(problem.suggestion, source_indent, 2);
        write_others(page, kind);
    }
}

std::string first_problem(const Problems& problems) {
    for (const Problem& problem : problems.list()) {
        if (problem.severity != Severity::error) continue;
        return problem.suggestion.empty() ? problem.message : problem.message + "; " + problem.suggestion;
    }
    return "it cannot be read";
}

}  // namespace voltfall
