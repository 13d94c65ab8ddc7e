#include "netlists/text/sealed_text.hpp"

#include <cstdint>

namespace voltfall {

namespace {

constexpr std::string_view mark = "sealed:";
constexpr std::string_view code_letters = "abcdefghijklmnopqrstuvwxyz234567";  // RFC 4648 base 32, small
constexpr unsigned bits_a_letter = 5;
constexpr unsigned bits_a_byte = 8;

/// One byte after the other from the check byte; a linear congruential generator (Knuth's MMIX constants).
class Stream {
public:
    explicit Stream(std::uint8_t start) : state_(start * 0x9e3779b97f4a7c15ULL + 1) {}
    std::uint8_t next() {
        state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
        return static_cast<std::uint8_t>(state_ >> 56);
    }

private:
    std::uint64_t state_;
};

std::uint8_t check_byte(std::string_view text) {
    std::uint32_t hash = 2166136261U;  // FNV-1a
    for (const char c : text) hash = (hash ^ static_cast<std::uint8_t>(c)) * 16777619U;
    return static_cast<std::uint8_t>(hash ^ (hash >> 8) ^ (hash >> 16) ^ (hash >> 24));
}

std::string with_letters(std::string_view bytes) {
    std::string text;
    unsigned held = 0;
    unsigned bits = 0;
    for (const char byte : bytes) {
        held = (held << bits_a_byte) | static_cast<std::uint8_t>(byte);
        bits += bits_a_byte;
        while (bits >= bits_a_letter) {
            bits -= bits_a_letter;
            text += code_letters[(held >> bits) & 31U];
        }
        held &= (1U << bits) - 1;
    }
    if (bits > 0) text += code_letters[(held << (bits_a_letter - bits)) & 31U];
    return text;
}

std::optional<std::string> from_letters(std::string_view text) {
    std::string bytes;
    unsigned held = 0;
    unsigned bits = 0;
    for (const char letter : text) {
        const auto value = code_letters.find(letter);
        if (value == std::string_view::npos) return std::nullopt;
        held = (held << bits_a_letter) | static_cast<unsigned>(value);
        bits += bits_a_letter;
        if (bits < bits_a_byte) continue;
        bits -= bits_a_byte;
        bytes += static_cast<char>((held >> bits) & 255U);
        held &= (1U << bits) - 1;
    }
    return bytes;
}

}  // namespace

std::string seal_text(std::string_view text) {
    const std::uint8_t check = check_byte(text);
    std::string bytes(1, static_cast<char>(check));
    Stream stream(check);
    for (const char c : text) bytes += static_cast<char>(static_cast<std::uint8_t>(c) ^ stream.next());
    return std::string(mark) + with_letters(bytes);
}

bool is_sealed(std::string_view text) {
    return text.starts_with(mark);
}

std::optional<std::string> unseal_text(std::string_view sealed) {
    if (!is_sealed(sealed)) return std::nullopt;
    const auto bytes = from_letters(sealed.substr(mark.size()));
    if (!bytes || bytes->empty()) return std::nullopt;
    const auto check = static_cast<std::uint8_t>(bytes->front());
    Stream stream(check);
    std::string text;
    for (std::size_t i = 1; i < bytes->size(); ++i)
        text += static_cast<char>(static_cast<std::uint8_t>((*bytes)[i]) ^ stream.next());
    return check_byte(text) == check ? std::optional(text) : std::nullopt;
}

}  // namespace voltfall
