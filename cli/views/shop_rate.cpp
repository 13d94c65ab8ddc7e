#include "cli/views/shop_rate.hpp"

#include <fmt/format.h>

#include <charconv>

#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// An hour of nobody costs more, in any currency that is likely; a slip of the keys does (ASSUMED).
constexpr double most_an_hour = 1e7;

void take_out(std::string& text, std::string_view piece) {
    if (const auto at = lower(text).find(piece); at != std::string::npos) text.erase(at, piece.size());
}

}  // namespace

std::optional<ShopRate> read_shop_rate(std::string_view typed) {
    constexpr std::size_t longest = 40;
    if (typed.size() > longest) return std::nullopt;
    std::string text(typed);
    for (const std::string_view hour : {"per hour", "an hour", "/hour", "/hr", "/h"}) take_out(text, hour);
    std::string number;
    std::string currency;
    bool ended = false;
    for (const char c : text) {
        const bool digit = c >= '0' && c <= '9';
        const bool point = (c == '.' || c == ',') && !number.empty() && !ended;
        if ((digit && ended) || c == '-') return std::nullopt;
        if (digit || point) {
            number += c == ',' ? '.' : c;
            continue;
        }
        ended = !number.empty();
        if (c != ' ') currency += c;
    }
    ShopRate rate;
    const auto read = std::from_chars(number.data(), number.data() + number.size(), rate.per_hour);
    const bool whole = read.ec == std::errc() && read.ptr == number.data() + number.size();
    if (!whole || rate.per_hour <= 0 || rate.per_hour > most_an_hour) return std::nullopt;
    rate.currency = currency;
    return rate;
}

std::string time_text(const JobMinutes& minutes, const std::optional<ShopRate>& rate) {
    std::string text = fmt::format("about {:.0f} min: tests {:.0f}, repair {:.0f}, proof {:.0f}", minutes.all(),
                                   minutes.tests, minutes.repairs, minutes.proof);
    if (!rate) return text;
    const std::string unit = rate->currency.empty() ? "" : " " + rate->currency;
    return text +
           fmt::format("; at {:g}{} an hour {:.0f}{}", rate->per_hour, unit, rate->per_hour * minutes.all() / 60, unit);
}

}  // namespace voltfall
