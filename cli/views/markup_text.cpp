#include "cli/views/markup_text.hpp"

#include <cstdint>

namespace voltfall {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";

struct DecodedCharacter {
    std::uint32_t code{};
    std::size_t length{1};
    bool valid{false};
};

/// The character that the text begins with. Overlong forms, surrogates and what lies beyond U+10FFFF are not valid.
DecodedCharacter first_character(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    if (lead < 0x80) return {lead, 1, true};
    const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || text.size() < length) return {};
    std::uint32_t code = lead & (0xFFU >> (length + 1));
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) return {};
        code = (code << 6U) | (byte(i) & 0x3FU);
    }
    const bool overlong = (length == 3 && code < 0x800) || (length == 4 && code < 0x10000);
    const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
    if (overlong || surrogate || code > 0x10FFFF) return {};
    return {code, length, true};
}

/// Marks and overrides of direction (Unicode's Bidi_Control), controls, and what XML does not know.
bool left_out(std::uint32_t code) {
    const bool direction = code == 0x061C || code == 0x200E || code == 0x200F || (code >= 0x202A && code <= 0x202E) ||
                           (code >= 0x2066 && code <= 0x2069);
    const bool control = (code < 0x20 && code != '\t' && code != '\n') || (code >= 0x7F && code < 0xA0);
    return direction || control || code == 0xFFFE || code == 0xFFFF;
}

}  // namespace

std::string markup_text(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        const DecodedCharacter character = first_character(text);
        if (!character.valid)
            out += replacement;
        else if (character.code == '&')
            out += "&amp;";
        else if (character.code == '<')
            out += "&lt;";
        else if (character.code == '>')
            out += "&gt;";
        else if (character.code == '"')
            out += "&quot;";
        else if (character.code == '\'')
            out += "&#39;";
        else if (!left_out(character.code))
            out += text.substr(0, character.length);
        text.remove_prefix(character.length);
    }
    return out;
}

std::string shortened(std::string_view text, std::size_t most) {
    std::size_t at = 0;
    for (std::size_t count = 0; at < text.size(); ++count) {
        if (count + 1 == most && at + first_character(text.substr(at)).length < text.size())
            return std::string(text.substr(0, at)) + "\xE2\x80\xA6";
        at += first_character(text.substr(at)).length;
    }
    return std::string(text);
}

}  // namespace voltfall
