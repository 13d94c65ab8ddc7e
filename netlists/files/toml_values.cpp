#include "netlists/files/toml_values.hpp"

#include <algorithm>

#include "netlists/files/toml_keys.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

constexpr auto no_place = std::u32string::npos;

bool is_digit(char32_t c) {
    return c >= U'0' && c <= U'9';
}

/// Digits, single underscores between them; at least one digit.
bool are_digits(std::u32string_view text) {
    if (text.empty() || !is_digit(text.front()) || !is_digit(text.back())) return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (!is_digit(text[i]) && (text[i] != U'_' || text[i + 1] == U'_')) return false;
    }
    return true;
}

/// `0x1F`, `0o17`, `0b11`.
bool is_number_of_base(std::u32string_view text) {
    constexpr std::u32string_view digits = U"0123456789abcdef";
    constexpr std::size_t longest = 12;
    if (text.size() < 3 || text.size() > longest || text.front() != U'0') return false;
    const std::size_t base = text[1] == U'x' ? 16 : text[1] == U'o' ? 8 : text[1] == U'b' ? 2 : 0;
    return base != 0 && std::all_of(text.begin() + 2, text.end(), [&](char32_t c) {
               return digits.substr(0, base).find(c >= U'A' && c <= U'F' ? c - U'A' + U'a' : c) != no_place;
           });
}

/// A whole or decimal number as TOML writes it; anything else, dates above all, is meant as a text.
bool is_number(std::u32string_view text) {
    constexpr std::size_t longest = 40;
    if (text.size() > longest) return false;
    if (is_number_of_base(text)) return true;
    if (!text.empty() && (text.front() == U'+' || text.front() == U'-')) text.remove_prefix(1);
    if (text == U"inf" || text == U"nan") return true;
    const auto exponent = text.find_first_of(U"eE");
    if (exponent != no_place) {
        auto power = text.substr(exponent + 1);
        if (!power.empty() && (power.front() == U'+' || power.front() == U'-')) power.remove_prefix(1);
        if (!are_digits(power)) return false;
        text = text.substr(0, exponent);
    }
    const auto point = text.find(U'.');
    if (point != no_place && !are_digits(text.substr(point + 1))) return false;
    const auto whole = text.substr(0, point);
    return are_digits(whole) && (whole.size() == 1 || whole.front() != U'0');
}

class ValueWalk {
public:
    ValueWalk(const SourceText& text, const TomlStatement& statement) : text_(text), statement_(statement) {}

    std::optional<StrangeValue> find() {
        for (line_ = statement_.first_line; line_ <= statement_.last_line && !open_; ++line_) {
            at_ = line_ == statement_.first_line ? statement_.equals + 1 : 0;
            if (!multi_line_.empty() && !leave_multi_line()) continue;
            while (at_ < line().size()) {
                const char32_t c = line()[at_];
                if (c == U'#') break;
                if (auto strange = step(c)) return strange;
                if (open_) return std::nullopt;
            }
        }
        return std::nullopt;
    }

private:
    const std::u32string& line() const { return text_.lines[line_].text(); }

    std::optional<StrangeValue> step(char32_t c) {
        if (c == U' ' || c == U'\t') {
            ++at_;
        } else if (c == U'[' || c == U'{') {
            if (depth_ == 0 && values_++ > 0) return strange(1);
            braces_ += c == U'{' ? 1 : 0;
            ++depth_;
            ++at_;
        } else if (c == U']' || c == U'}') {
            braces_ -= c == U'}' && braces_ > 0 ? 1 : 0;
            depth_ -= depth_ > 0 ? 1 : 0;
            ++at_;
        } else if (c == U',' || (c == U'=' && braces_ > 0)) {
            if (depth_ == 0) return strange(1);
            ++at_;
        } else if (c == U'"' || c == U'\'') {
            return take_text(c);
        } else {
            return take_word();
        }
        return std::nullopt;
    }

    StrangeValue strange(std::size_t length) const { return {line_, at_, line().substr(at_, length)}; }

    bool leave_multi_line() {
        const auto end = line().find(multi_line_, at_);
        if (end == no_place) return false;
        at_ = end + 3;
        multi_line_.clear();
        return true;
    }

    std::optional<StrangeValue> take_text(char32_t quote) {
        if (depth_ == 0 && values_++ > 0) return strange(line().size() - at_);
        const std::u32string three(3, quote);
        if (line().compare(at_, 3, three) == 0) {
            multi_line_ = three;
            at_ += 3;
            if (!leave_multi_line()) at_ = line().size();
            return std::nullopt;
        }
        for (++at_; at_ < line().size(); ++at_) {
            if (line()[at_] == U'\\' && quote == U'"') {
                ++at_;
            } else if (line()[at_] == quote) {
                ++at_;
                return std::nullopt;
            }
        }
        open_ = true;
        return std::nullopt;
    }

    std::optional<StrangeValue> take_word() {
        const auto end = std::min(line().find_first_of(U" \t,[]{}=#\"'", at_ + 1), line().size());
        const std::u32string_view word = std::u32string_view(line()).substr(at_, end - at_);
        const bool known = word == U"true" || word == U"false" || is_number(word);
        const auto behind = line().find_first_not_of(U" \t", end);
        const bool key = braces_ > 0 && behind != no_place && line()[behind] == U'=' && is_written_key(word);
        if (!known && !key) return strange(word.size());
        if (depth_ == 0 && values_++ > 0) return strange(word.size());
        at_ = end;
        return std::nullopt;
    }

    const SourceText& text_;
    const TomlStatement& statement_;
    std::size_t line_{0};
    std::size_t at_{0};
    int depth_{0};
    int braces_{0};
    int values_{0};
    bool open_{false};
    std::u32string multi_line_;
};

}  // namespace

std::optional<StrangeValue> strange_in(const SourceText& text, const TomlStatement& statement) {
    return ValueWalk(text, statement).find();
}

}  // namespace voltfall
