// The scanner behind `cut_words`: characters in, raw words out.
#pragma once

#include <vector>

#include "netlists/text/characters.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

/// Cuts one phrase at blanks and commas. Numbers typed apart from their unit are still two words.
class WordCutter {
public:
    WordCutter(const TypedText& phrase, Problems& problems);

    std::vector<Word> cut();

private:
    /// One character as it is read; `report` says that it was typed as something else.
    struct Symbol {
        std::string_view bytes;
        char plain{};  ///< ASCII, or 0 for any other character
        bool left_out{false};
        bool report{false};
    };

    /// Whether a unit may stand one blank away from its number.
    enum class Apart { allowed, refused };

    void read_symbols();
    char plain_at(std::size_t at) const { return at < symbols_.size() ? symbols_[at].plain : '\0'; }
    bool digit_at(std::size_t at) const { return plain_at(at) >= '0' && plain_at(at) <= '9'; }
    bool blank_at(std::size_t at) const { return plain_at(at) == ' ' || plain_at(at) == '\t'; }
    std::string text_between(std::size_t from, std::size_t to) const;
    std::size_t token_end(std::size_t from) const;

    void cut_quoted();
    std::size_t before_glued_mark(std::size_t from, std::size_t to) const;
    void cut_plain();
    void add(std::size_t from, std::size_t to, std::string text, bool quoted);
    bool decimal_comma(std::size_t from, std::size_t at) const;
    bool starts_number(std::size_t from, std::size_t at) const;
    bool unit_follows(std::size_t after, Apart apart) const;
    void report_look_alike(std::size_t at);
    void report_thousands(std::size_t from, std::size_t to, const std::string& text);

    const TypedText& phrase_;
    Problems& problems_;
    std::vector<Character> characters_;
    std::vector<Symbol> symbols_;
    std::vector<Word> words_;
    std::size_t next_{0};
    bool comma_{false};        ///< a comma was passed since the last word
    bool tight_comma_{false};  ///< … and nothing but it
};

}  // namespace voltfall
