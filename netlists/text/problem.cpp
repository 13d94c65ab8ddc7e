#include "netlists/text/problem.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "netlists/text/problem_code.hpp"

namespace voltfall {

std::string_view severity_name(Severity severity) {
    switch (severity) {
        case Severity::error:
            return "error";
        case Severity::warning:
            return "warning";
        case Severity::note:
            return "note";
    }
    return "error";
}

SourcePlace SourcePlace::shifted(int by, int new_length) const {
    SourcePlace moved = *this;
    moved.offset = offset + by;
    moved.column = column + by;
    moved.length = std::max(1, new_length);
    if (!runs || runs->empty()) return moved;
    const auto behind = std::upper_bound(runs->begin(), runs->end(), moved.offset,
                                         [](int at, const TypedRun& run) { return at < run.offset; });
    const TypedRun& run = behind == runs->begin() ? *behind : *std::prev(behind);
    moved.line = run.line;
    moved.column = run.column + moved.offset - run.offset;
    moved.text = run.text;
    return moved;
}

namespace {

/// A word of a message that is longer than anyone types, cut: a megabyte without a blank is quoted by its beginning.
std::string with_short_words(std::string text) {
    constexpr std::size_t longest_word = 160;
    constexpr std::size_t kept = 40;
    if (text.size() <= longest_word) return text;
    std::string shortened;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        std::size_t shown = end - at;
        if (shown > longest_word) {
            shown = kept;
            // Not in the middle of a character.
            while (shown > 0 && (static_cast<unsigned char>(text[at + shown]) & 0xC0U) == 0x80U) --shown;
        }
        shortened.append(text, at, shown);
        if (shown < end - at) shortened += text[end - 1] == '\'' ? "…'" : "…";
        if (end < text.size()) shortened += ' ';
        at = end + 1;
    }
    return shortened;
}

}  // namespace

Problem::Problem(ProblemCode of, Severity how_bad, SourcePlace where, std::string what, std::string fix)
    : code(of),
      severity(how_bad),
      place(std::move(where)),
      message(with_short_words(std::move(what))),
      suggestion(with_short_words(std::move(fix))) {}

void Problems::error(ProblemCode code, SourcePlace place, std::string message, std::string suggestion) {
    add({code, Severity::error, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::warning(ProblemCode code, SourcePlace place, std::string message, std::string suggestion) {
    add({code, Severity::warning, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::note(ProblemCode code, SourcePlace place, std::string message, std::string suggestion) {
    add({code, Severity::note, std::move(place), std::move(message), std::move(suggestion)});
}

void Problems::add(Problem problem) {
    const bool is_error = problem.severity == Severity::error;
    const std::size_t kept = is_error ? errors_ : list_.size() - errors_;
    if (kept >= most_kept) {
        ++untold_;
        untold_errors_ = untold_errors_ || is_error;
        return;
    }
    if (is_error) ++errors_;
    // A typed text over several lines may be quoted in it.
    std::replace_if(
        problem.message.begin(), problem.message.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
    list_.push_back(std::move(problem));
}

void Problems::add_all(const Problems& others) {
    if (&others == this) return;
    for (const Problem& problem : others.list_) add(problem);
    untold_ += others.untold_;
    untold_errors_ = untold_errors_ || others.untold_errors_;
}

std::vector<Problem> Problems::told() const {
    std::vector<Problem> all = list_;
    if (untold_ == 0) return all;
    SourcePlace whole;
    if (!all.empty()) whole.file = all.back().place.file;
    all.emplace_back(ProblemCode::more_problems, untold_errors_ ? Severity::error : Severity::note, std::move(whole),
                     "and " + std::to_string(untold_) + " more", "the first ones tell what to look for");
    return all;
}

void Problems::sort() {
    const auto place = [](const Problem& problem) { return std::pair(problem.place.line, problem.place.column); };
    std::stable_sort(list_.begin(), list_.end(), [&](const Problem& a, const Problem& b) {
        return a.place.file == b.place.file ? place(a) < place(b) : a.place.file < b.place.file;
    });
}

}  // namespace voltfall
