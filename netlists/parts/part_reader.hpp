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
    /// stores it as a parameter. Where there is none: the default, or (no default) a problem that shows the kind's example.
    void required(Part& part, std::string_view name, Unit unit);
    void optional(Part& part, std::string_view name, Unit unit, double fallback, std::string_view source);
    void optional_row(Part& part, std::string_view name, Unit unit, std::string_view default_row);
    /// `keyword NUMBER`, as in `coil 90ohm`, `stall 80A`, `contact 3mohm`.
    bool after(Part& part, std::string_view keyword, std::string_view name, Unit unit);
    void after_or(Part& part, std::string_view keyword, std::string_view name, Unit unit, double fallback, std::string_view source);
    void after_or_row(Part& part, std::string_view keyword, std::string_view name, Unit unit, std::string_view default_row);
    /// Takes one of the words if it stands anywhere unused; which one.
    std::string flag(Part& part, std::initializer_list<std::string_view> words);
    /// `feed 30` or `feed 15`.
    void feed(Part& part);
    /// Positions: `NAME` or `NAME=contact+contact`, from the current word to the end.
    void positions(Part& part);
    /// What is left: words near a known word are problems with a suggestion, numbers are problems, the rest is kept
    /// for print.
    void finish(Part& part);

private:
    struct Use { bool used{false}; };
    std::optional<std::size_t> find_unused(Unit unit) const;
    std::optional<std::size_t> find_word(std::string_view word) const;
    Parameter take_number(std::size_t at, std::string_view name, Unit unit);

    WordReader& words_;
    const Circuit& circuit_;
    Problems& problems_;
    std::vector<Word> line_;
    std::vector<bool> used_;
    std::vector<std::string> known_;   ///< words this kind knows, for suggestions
};

}  // namespace voltfall
