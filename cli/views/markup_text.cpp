#include "cli/views/markup_text.hpp"

#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";
constexpr std::string_view ellipsis = "\xE2\x80\xA6";

/// Marks and overrides of direction (Unicode's Bidi_Control), controls, and what XML does not know.
bool left_out(char32_t code) {
    const bool direction = code == 0x061C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
                           (code >= 0x2066 && code <= 0x2069);
    const bool control = (code < 0x20 && code != '\t' && code != '\n') || (code >= 0x7F && code < 0xA0);
    return direction || control || code == 0xFFFE || code == 0xFFFF;
}

/// The entity that stands for a character of markup; empty for any other.
std::string_view entity_of(char32_t code) {
    switch (code) {
        case '&':
            return "&amp;";
        case '<':
            return "&lt;";
        case '>':
            return "&gt;";
        case '"':
            return "&quot;";
        case '\'':
            return "&#39;";
        default:
            return {};
    }
}

}  // namespace

std::string markup_text(std::string_view text) {
    std::string out;
    for (const Character& character : characters_of(text)) {
        if (!character.valid) {
            out += replacement;
        } else if (const std::string_view entity = entity_of(character.code); !entity.empty()) {
            out += entity;
        } else if (!left_out(character.code)) {
            out += character.bytes;
        }
    }
    return out;
}

std::string shortened(std::string_view text, std::size_t most) {
    const std::vector<Character> characters = characters_of(text);
    if (characters.size() <= most) return std::string(text);
    std::string out;
    for (std::size_t i = 0; i + 1 < most; ++i) out += characters[i].bytes;
    return out.append(ellipsis);
}

}  // namespace voltfall
