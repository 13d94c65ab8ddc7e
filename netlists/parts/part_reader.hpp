// Reads one line of [parts]: words in any order after the kind, options after commas, defaults with their source.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

class PartReader {
public:
    /// `line` is the value of the key; its first word (the kind) is already taken.
    PartReader(WordReader& words, const Circuit& circuit, Problems& problems);

    WordReader& words() { return words_; }
    Problems& problems() { return problems_; }
    const Circuit& circuit() const { return circuit_; }

    /// Finds the first unused number of that unit that no keyword claims, with a tolerance behind it (`10%`), and
    /// stores it as a parameter. Where there is none: a problem that shows the kind's example.
    void required(Part& part, std::string_view name, Unit unit);
    void optional(Part& part, std::string_view name, Unit unit, double fallback, std::string_view source);
    void optional_row(Part& part, std::string_view name, Unit unit, std::string_view default_row);
    /// `keyword NUMBER`, as in `coil 90ohm`, `stall 80A`, `contact 3mohm`; true when it stands there.
    bool after(Part& part, std::string_view keyword, std::string_view name, Unit unit);
    /// The unit of the number after a keyword, for a figure that may have one of two (bar or C).
    std::optional<Unit> unit_after(std::string_view keyword);
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
    std::optional<Parameter> take_number(std::string_view name, Unit unit);
    SourcePlace place_of(const Word& word) const;
    void error(const SourcePlace& place, std::string message, std::string suggestion = {});
    /// Where the line stands, for problems about the whole part.
    SourcePlace place() const;

    /// What is left: words near a known word and numbers are problems with a suggestion, the rest is kept for print.
    void finish(Part& part);

private:
    std::optional<std::size_t> find_unused(Unit unit) const;
    std::optional<std::size_t> find_word(std::string_view word);
    Parameter read_number(std::size_t at, std::string_view name, Unit unit);
    bool claimed(std::size_t at) const;

    WordReader& words_;
    const Circuit& circuit_;
    Problems& problems_;
    std::vector<Word> line_;
    std::vector<bool> used_;
    std::vector<std::string> known_;   ///< words this kind knows, for suggestions
};

/// A default of the table as a parameter.
Parameter default_parameter(std::string_view name, Unit unit, std::string_view row);

}  // namespace voltfall
