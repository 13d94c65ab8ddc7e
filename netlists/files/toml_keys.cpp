#include "netlists/files/toml_keys.hpp"

#include <algorithm>

#include "netlists/files/source_lines.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

std::string unquoted(std::string text) {
    const bool quoted =
        text.size() >= 2 && (text.front() == '"' || text.front() == '\'') && text.back() == text.front();
    if (!quoted || text.find(text.front(), 1) != text.size() - 1) return text;
    return text.substr(1, text.size() - 2);
}

bool is_bare_key(std::u32string_view key) {
    const auto bare = [](char32_t c) {
        return (c >= U'a' && c <= U'z') || (c >= U'A' && c <= U'Z') || (c >= U'0' && c <= U'9') || c == U'_' ||
               c == U'-';
    };
    return !key.empty() && std::all_of(key.begin(), key.end(), bare);
}

bool is_written_key(std::u32string_view key) {
    while (true) {
        key = trimmed(key);
        if (key.empty()) return false;
        if (key.front() == U'"' || key.front() == U'\'') {
            const auto close = key.find(key.front(), 1);
            const bool escapes = key.substr(0, close).find(U'\\') != std::u32string_view::npos;
            if (close == std::u32string_view::npos || escapes) return false;
            key = trimmed(key.substr(close + 1));
        } else {
            const auto point = std::min(key.find(U'.'), key.size());
            if (!is_bare_key(trimmed(key.substr(0, point)))) return false;
            key = key.substr(point);
        }
        if (key.empty()) return true;
        if (key.front() != U'.') return false;
        key.remove_prefix(1);
    }
}

bool starts_statement(std::u32string_view line) {
    std::u32string_view text = trimmed(line);
    if (text.empty()) return false;
    if (text.front() == U'[') {
        const auto close = text.find(U']');
        if (close == std::u32string_view::npos ||
            text.substr(0, close).find_first_of(U"\"',[", 1) != std::u32string_view::npos) {
            return false;
        }
        const auto behind = trimmed(text.substr(close + 1));
        return behind.empty() || behind.front() == U'#';
    }
    if (text.front() == U'"' || text.front() == U'\'') {
        const auto close = text.find(text.front(), 1);
        if (close == std::u32string_view::npos) return false;
        const auto behind = trimmed(text.substr(close + 1));
        return !behind.empty() && behind.front() == U'=';
    }
    const auto sign = text.find_first_of(U"=\"'#");
    return sign != std::u32string_view::npos && sign > 0 && text[sign] == U'=';
}

std::string first_word(std::u32string_view text) {
    text = trimmed(text);
    return write_utf8(text.substr(0, text.find_first_of(U" \t\"'")));
}

char32_t plain_of(const LookAlike& alike) {
    return alike.plain == 0 ? U' ' : static_cast<char32_t>(alike.plain);
}

bool stands_for(char32_t character, char32_t quote) {
    const LookAlike* alike = look_alike(character);
    return alike && plain_of(*alike) == quote;
}

}  // namespace voltfall
