#include "netlists/files/wire_tokens.hpp"

#include "netlists/text/characters.hpp"
#include "netlists/text/misread.hpp"

namespace voltfall {

namespace {

/// Length of the arrow at the front of a text: `>`, `->`, `=>`, `→`; 0 where there is none.
std::size_t arrow_at(std::string_view text) {
    for (const std::string_view arrow : {">", "->", "=>", "→"}) {
        if (text.substr(0, arrow.size()) == arrow) return arrow.size();
    }
    return 0;
}

/// `F7.2>C101.4` without blanks is three tokens.
void cut_at_arrows(const Word& word, const WordReader& words, std::vector<WireToken>& tokens) {
    std::string_view rest = word.text;
    int offset = word.offset;
    const auto add = [&](std::string_view text, bool arrow) {
        if (text.empty()) return;
        const int length = character_count(text);
        tokens.push_back({std::string(text), words.phrase().place.shifted(offset, length), arrow, {}});
        offset += length;
    };
    while (!rest.empty()) {
        std::size_t at = 0;
        // `B1->G100`: the sign belongs to the battery's post; `F7.2->C101.4`: it belongs to the arrow.
        while (at < rest.size() &&
               (arrow_at(rest.substr(at)) == 0 ||
                (rest[at] == '-' && at > 0 && rest.substr(0, at).find('.') == std::string_view::npos)))
            ++at;
        add(rest.substr(0, at), false);
        rest.remove_prefix(at);
        const std::size_t arrow = arrow_at(rest);
        add(rest.substr(0, arrow), true);
        rest.remove_prefix(arrow);
    }
}

}  // namespace

std::vector<WireToken> wire_tokens(WordReader& words) {
    std::vector<WireToken> tokens;
    while (!words.at_end()) {
        // `12,3` without a unit is one number to the person who typed it.
        const TypedNumber number = number_as_typed(words.rest());
        const Word word = words.take();
        if (number.words > 1) {
            words.take();
            tokens.push_back({number.text, words.phrase().place.shifted(word.offset, number.length), false, {}});
        } else if (word.measure || word.quoted) {
            tokens.push_back({word.text, words.place(&word), false, word.measure});
        } else {
            cut_at_arrows(word, words, tokens);
        }
    }
    return tokens;
}

}  // namespace voltfall
