// Reads one line of [parts]: words in any order after the kind, options after commas, defaults with their source.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/tables/figure_bounds.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Every figure that is read is held against its row of the table of bounds ("battery", "rest volts"); one outside is
/// reported and replaced by the nearest that can be, so that reading goes on.
class PartReader {
public:
    /// `line` is the value of the key; its first word (the kind) is already taken.
    PartReader(WordReader& words, const Circuit& circuit, Problems& problems);

    WordReader& words() { return words_; }
    Problems& problems() { return problems_; }
    const Circuit& circuit() const { return circuit_; }

    /// The trade's word for some of the kind's: `N.O.` for `normally open`; for none, where it says nothing here.
    void put_for(std::string_view said, std::string_view meant);
    /// `85ohm coil` for `coil 85ohm`.
    void number_may_lead(std::string_view keyword, Unit unit);
    /// `20A at 13.5V` for `20A @13.5V`.
    void at_may_mark(Unit unit);

    /// Finds the first unused number of that unit that no keyword claims, with a tolerance behind it (`10%`), and
    /// stores it as a parameter. Where there is none: a problem that names the number that does not read, or shows the
    /// kind's example.
    void required(Part& part, std::string_view name, Unit unit);
    void optional(Part& part, std::string_view name, Unit unit, double fallback, std::string_view source);
    /// What its contacts carry without end, where the line names amperes: "rated amps". Else the part has no such
    /// figure.
    void rating(Part& part);
    void optional_row(Part& part, std::string_view name, Unit unit, std::string_view default_row);
    /// `keyword NUMBER`, as in `coil 90ohm`, `stall 80A`, `contact 3mohm`; true when it stands there. A keyword without
    /// its number is a problem, unless it stands in free text (`ground contact plate`).
    bool after(Part& part, std::string_view keyword, std::string_view name, Unit unit);
    /// The unit of the number after a keyword, for a figure that may have one of two (bar or C).
    std::optional<Unit> unit_after(std::string_view keyword);
    /// The word behind a keyword, as in `command 0.5V-7V`, and its place; both are taken. Nothing where the keyword
    /// does not stand; a keyword with nothing behind it is a problem that shows `example`.
    std::optional<Word> word_after(const Part& part, std::string_view keyword, std::string_view example);
    void after_or(Part& part, std::string_view keyword, std::string_view name, Unit unit, double fallback,
                  std::string_view source);
    void after_or_row(Part& part, std::string_view keyword, std::string_view name, Unit unit,
                      std::string_view default_row);
    /// Takes the first of the words that stands anywhere unused, stores it as a flag and returns it, or empty.
    std::string flag(Part& part, std::initializer_list<std::string_view> words);
    /// `feed 30` or `feed 15`.
    void feed(Part& part);

    /// Words in order: the first unused one, or null; with `before_comma` only while no comma has been passed.
    const Word* peek() const;
    Word take();
    /// Takes a number of that unit if it is the next unused word, with a tolerance behind it.
    std::optional<Parameter> take_number(const Part& part, std::string_view name, Unit unit);
    /// Reports the next unused word where it is meant as a number with a unit and does not read as one; true then.
    bool report_misread(const Part& part);
    SourcePlace place_of(const Word& word) const;
    void error(ProblemCode code, const SourcePlace& place, std::string message, std::string suggestion = {});
    /// Where the line stands, for problems about the whole part.
    SourcePlace place() const;
    /// A problem of the whole line, told only where nothing in the line tells more.
    void error_of_line(ProblemCode code, std::string message, std::string suggestion);
    bool has_errors() const { return problems_.has_errors(); }

    /// A word that the kind reads by itself, for suggestions.
    void knows(std::string_view word) { known_.emplace_back(word); }

    /// What is left: numbers, words near a known word and words that stand where no free text may are problems with a
    /// suggestion, the rest is kept for print.
    void finish(Part& part);

private:
    /// The words between two commas, [begin, end).
    struct Segment {
        std::size_t begin{};
        std::size_t end{};
        bool free{};  ///< words of the user's own may stand in it
    };

    bool is_marked(std::size_t at) const;
    std::optional<std::size_t> find_unused(const Part& part, Unit unit) const;
    std::optional<std::size_t> find_word(std::string_view word);
    std::optional<std::size_t> find_keyword(std::string_view keyword);
    std::optional<std::size_t> find_misread(const Part& part) const;
    Parameter read_number(std::size_t at, const Part& part, std::string_view name, Unit unit);
    double within(const FigureBounds& bounds, double value, std::size_t at, const Part& part);
    bool claimed(std::size_t at, const Part& part) const;
    bool is_next_number(std::size_t at) const;
    bool is_free(std::size_t at, const Part& part) const;
    bool is_text(std::size_t at, const Part& part) const;
    Segment segment_at(std::size_t begin, const Part& part) const;
    bool is_figure_here(std::size_t at, const Segment& segment, const Part& part) const;
    void finish_word(std::size_t at, const Segment& segment, Part& part);
    void report_number(std::size_t at, const Part& part);
    void report_known_again(std::size_t at, const Part& part);
    std::string words_of(const Part& part) const;
    std::string example(const Part& part) const;

    WordReader& words_;
    const Circuit& circuit_;
    Problems& problems_;
    Problems of_line_;
    std::vector<Word> line_;
    std::vector<bool> used_;
    std::vector<std::string> known_;  ///< words this kind knows, for suggestions
};

/// A default of the table as a parameter.
Parameter default_parameter(std::string_view name, Unit unit, std::string_view row);

}  // namespace voltfall
