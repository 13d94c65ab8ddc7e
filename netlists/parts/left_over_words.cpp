// What no figure and no keyword of a part's line has taken: mistakes, or text of the user's own.
#include <algorithm>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/part_reader.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/misread.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

std::optional<Measure> measure_of(const Word& word) {
    return word.measure ? word.measure : parse_measure(without_marks(word.text));
}

/// The units of the figures that a kind takes.
std::vector<Unit> units_of(const Kind& kind) {
    std::vector<Unit> units;
    for (const FigureBounds& row : kind.figures) units.push_back(row.unit);
    return units;
}

/// Is a word the name of a unit in which a figure of the kind is typed: "way", "rpm"? Letters such as V may be a text.
bool is_unit_of(const Kind& kind, std::string_view word) {
    constexpr std::size_t shortest = 3;
    if (word.size() < shortest || looks_like_number(word)) return false;
    const auto one = parse_measure("1" + std::string(word));
    return one && one->unit != Unit::none && has_figure_in(kind, one->unit);
}

/// What the trade calls a word of a kind (common practice, no source).
struct TradeWord {
    std::string_view kind;
    std::string_view said;
    std::string_view word;
};
constexpr TradeWord trade_words[]{
    {"fuse", "ATC", "regular"},
    {"fuse", "ATO", "regular"},
    {"fuse", "blade", "regular"},
    {"fuse", "standard", "regular"},
    {"fuse", "ATM", "mini"},
    {"pack", "thermal", "limiter"},
    {"pack", "cutout", "limiter"},
    {"pack", "fuse", "limiter"},
    {"relay", "winding", "coil"},
    {"motor", "locked", "stall"},
    {"battery", "alternator", "charging"},
    {"battery", "running", "charging"},
    {"relay", "picks", "pulls"},
    {"clutch", "engages", "pulls"},
};

std::string_view word_of_trade(const Kind& kind, std::string_view typed) {
    const auto row = std::find_if(std::begin(trade_words), std::end(trade_words), [&](const TradeWord& one) {
        return one.kind == kind.word && same_word(one.said, typed);
    });
    return row == std::end(trade_words) ? std::string_view{} : row->word;
}

}  // namespace

PartReader::Segment PartReader::segment_at(std::size_t begin, const Part& part) const {
    Segment segment{begin, begin + 1, is_free(begin, part)};
    while (segment.end < line_.size() && !line_[segment.end].after_comma) ++segment.end;
    // Behind a word that the kind knows, text needs a comma: `stall 80A, left`.
    const bool known = std::any_of(used_.begin() + static_cast<std::ptrdiff_t>(segment.begin),
                                   used_.begin() + static_cast<std::ptrdiff_t>(segment.end), [](bool u) { return u; });
    if (known && part.kind->free_text != FreeText::anywhere) segment.free = false;
    return segment;
}

/// Is a number meant as a figure? In free text it is where it begins the text or has a unit that the kind knows:
/// `below fuse 8` and `8mm stud` of a ground are text, `, 36ohn` of a clutch is not.
bool PartReader::is_figure_here(std::size_t at, const Segment& segment, const Part& part) const {
    if (!looks_like_number(line_[at].text)) return false;
    if (!segment.free) return true;
    // With a sign too: `-8 way`.
    std::string_view number = without_marks(line_[at].text);
    if (!number.empty() && (number.front() == '-' || number.front() == '+')) number.remove_prefix(1);
    const auto measure = line_[at].measure ? line_[at].measure : parse_measure(number);
    if (measure && measure->unit != Unit::none && has_figure_in(*part.kind, measure->unit)) return true;
    return at == segment.begin && part.kind->free_text == FreeText::after_comma;
}

void PartReader::report_number(std::size_t at, const Part& part) {
    const TypedNumber typed = number_as_typed(std::span(line_).subspan(at));
    const SourcePlace where = words_.phrase().place.shifted(line_[at].offset, typed.length);
    for (std::size_t i = at; i < at + static_cast<std::size_t>(typed.words); ++i) used_[i] = true;
    const auto measure = measure_of(line_[at]);
    if (typed.words == 1 && measure && measure->unit != Unit::none) {
        const std::string line = "' is not understood in the line of '" + part.name + "', a ";
        const bool coils = part.kind == find_kind("resistor") && measure->unit == Unit::ohm;
        const std::string pack = coils ? "several coils in one housing are a pack: " : "";
        return error(ProblemCode::extra_word, where, "'" + typed.text + line + std::string(part.kind->word),
                     coils ? pack + std::string(find_kind("pack")->example) : example(part));
    }
    Misread misread = explain_misread(typed.text, units_of(*part.kind));
    if (misread.suggestion.empty()) misread.suggestion = example(part);
    error(misread.code, where, std::move(misread.message), std::move(misread.suggestion));
}

/// A word of the kind that stands where it can say nothing: twice, beside another of its set, `@` before no volts.
void PartReader::report_known_again(std::size_t at, const Part& part) {
    error(ProblemCode::extra_word, place_of(line_[at]),
          "'" + line_[at].text + "' is one word too many in the line of '" + part.name + "'",
          "say it once; " + example(part));
    if (is_next_number(at)) used_[at + 1] = true;
}

/// "words of a breaker are resets, manual and feed, for example breaker 30A resets; put words of your own …".
std::string PartReader::words_of(const Part& part) const {
    const std::string own = "put words of your own behind a comma";
    if (known_.empty()) return own;
    return "words of a " + std::string(part.kind->word) + " are " + joined(known_) + ", " + example(part) + "; " + own;
}

void PartReader::finish_word(std::size_t at, const Segment& segment, Part& part) {
    const Word& word = line_[at];
    used_[at] = true;
    const auto keep = [&] { part.print += (part.print.empty() ? "" : " ") + word.text; };
    if (word.quoted) return keep();
    if (word.text == "@") {
        return error(ProblemCode::missing_figure, place_of(word), "'@' has no volts behind it", "for example @13.5V");
    }
    if (is_figure_here(at, segment, part)) return report_number(at, part);
    const bool alone = segment.end - segment.begin == 1;
    if (alone && is_unit_of(*part.kind, word.text)) {
        return error(ProblemCode::missing_figure, place_of(word), "no number stands before '" + word.text + "'",
                     example(part));
    }
    const bool number_next = is_next_number(at);
    const bool known =
        std::any_of(known_.begin(), known_.end(), [&](const auto& k) { return same_word(k, word.text); });
    // `pulls up, pulls down`: a word of the kind with one behind it, said once already.
    const bool in_two = at == segment.begin && segment.end - segment.begin == 2;
    const bool said_before = in_two && std::any_of(line_.begin(), line_.begin() + static_cast<std::ptrdiff_t>(at),
                                                   [&](const Word& w) { return same_word(w.text, word.text); });
    const bool again = (alone && part.has_flag(word.text)) || said_before;
    if (known && (!segment.free || number_next || again)) return report_known_again(at, part);
    // A near miss is a mistake where a word of the kind would stand: not in the middle of a text.
    const bool expected = !segment.free || at == segment.begin || number_next;
    constexpr std::size_t shortest = 3;
    const bool long_enough = word.text.size() > shortest || (number_next && word.text.size() == shortest);
    const std::string_view trade = known ? std::string_view{} : word_of_trade(*part.kind, word.text);
    const std::string near = !trade.empty() && (!segment.free || number_next) ? std::string(trade)
                             : expected && !known && long_enough              ? nearest(word.text, known_)
                                                                              : "";
    const std::string line = "' is not known in the line of a " + std::string(part.kind->word);
    if (!near.empty()) {
        error(ProblemCode::unknown_word, place_of(word), "'" + word.text + line, "did you mean '" + near + "'?");
        if (number_next) used_[at + 1] = true;
    } else if (const Kind* other = at == 0 ? find_kind(word.text) : nullptr; other && !segment.free) {
        error(ProblemCode::unknown_word, place_of(word), "'" + word.text + line,
              "where it is a " + std::string(other->word) + " its line begins so: " + std::string(other->example));
        std::fill(used_.begin(), used_.end(), true);
    } else if (!segment.free || (number_next && is_figure_here(at + 1, segment, part))) {
        error(ProblemCode::unknown_word, place_of(word), "'" + word.text + line, words_of(part));
        std::fill(used_.begin() + static_cast<std::ptrdiff_t>(at),
                  used_.begin() + static_cast<std::ptrdiff_t>(segment.end), true);
    } else {
        keep();
    }
}

bool PartReader::report_misread(const Part& part) {
    for (std::size_t i = 0; i < line_.size(); ++i) {
        if (used_[i]) continue;
        const std::string& text = line_[i].text;
        const bool whole = std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
        if (line_[i].quoted || whole || !looks_like_number(text)) return false;
        report_number(i, part);
        return true;
    }
    return false;
}

void PartReader::finish(Part& part) {
    for (std::size_t begin = 0; begin < line_.size();) {
        const Segment segment = segment_at(begin, part);
        for (std::size_t i = segment.begin; i < segment.end; ++i) {
            if (!used_[i]) finish_word(i, segment, part);
        }
        begin = segment.end;
    }
    if (!problems_.has_errors()) problems_.add_all(of_line_);
}

}  // namespace voltfall
