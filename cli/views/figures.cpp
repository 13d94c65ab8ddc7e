#include "cli/views/figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>

#include "netlists/text/lists.hpp"

namespace voltfall {

namespace {

std::string number_and_unit(const std::string& written) {
    std::size_t end = 0;
    while (end < written.size() && (std::isdigit(static_cast<unsigned char>(written[end])) != 0 ||
                                    std::string_view("+-.e").find(written[end]) != std::string_view::npos))
        ++end;
    if (end == 0 || end == written.size() || written[end] == '%') return written;
    return written.substr(0, end) + " " + written.substr(end);
}

/// Splits "20 mohm" into number and unit.
std::pair<std::string, std::string> split_unit(const std::string& shown) {
    const auto blank = shown.find(' ');
    if (blank == std::string::npos) return {shown, ""};
    return {shown.substr(0, blank), shown.substr(blank + 1)};
}

}  // namespace

std::string shown_volts(double volts) {
    return write_fixed(volts, 2);
}
std::string shown_amps(double amps) {
    return write_fixed(amps, 1);
}
std::string shown_rpm(double rpm) {
    return write_fixed(rpm, 0);
}

std::string shown_seconds(double seconds) {
    constexpr double minute = 60;
    constexpr double hour = 3600;
    if (seconds < 0.01) return write_fixed(seconds, 3) + " s";
    if (seconds < 1) return write_fixed(seconds, 2) + " s";
    if (seconds < 10) return write_fixed(seconds, 1) + " s";
    if (seconds < 2 * minute) return write_fixed(seconds, 0) + " s";
    if (seconds < 2 * hour) return write_fixed(seconds / minute, seconds < 10 * minute ? 1 : 0) + " min";
    return write_fixed(seconds / hour, 1) + " h";
}

std::string shown_minutes(double minutes) {
    const bool whole = std::abs(minutes - std::round(minutes)) < 0.05;
    return write_fixed(minutes, whole ? 0 : 1) + " min";
}

std::string shown_size(double value, Unit unit) {
    return number_and_unit(write_measure(significant(value, 2), unit));
}

std::string shown_range(double low, double high, Unit unit) {
    const auto [low_number, low_unit] = split_unit(shown_size(low, unit));
    const auto [high_number, high_unit] = split_unit(shown_size(high, unit));
    const std::string tail = high_unit.empty() ? "" : " " + high_unit;
    if (low_number == high_number && low_unit == high_unit) return high_number + tail;
    if (low_unit == high_unit || low_unit.empty()) return low_number + " to " + high_number + tail;
    return low_number + " " + low_unit + " to " + high_number + tail;
}

std::string probability_words(double probability) {
    if (!(probability >= 0.01)) return "less than 1 in 100";
    if (probability > 0.99) return "more than 99 in 100";
    if (probability < 0.095 || probability > 0.945) return "about " + write_fixed(probability * 100, 0) + " in 100";
    return "about " + write_fixed(probability * 10, 0) + " in 10";
}

std::string shown_name(const std::string& file) {
    return file.empty() ? "''" : file;
}

std::string counted(std::size_t count, std::string_view noun) {
    std::string plural(noun);
    if (count != 1) plural += noun.ends_with("ch") ? "es" : "s";
    return fmt::format("{} {}", count, plural);
}

std::string names_and_more(const std::vector<std::string>& names, std::size_t most) {
    if (names.size() <= most) return joined(names, ", ");
    const std::vector<std::string> first(names.begin(), names.begin() + static_cast<std::ptrdiff_t>(most));
    return fmt::format("{} and {} more", joined(first, ", "), names.size() - most);
}

std::string more_line(std::size_t left, std::size_t all) {
    return fmt::format("{} more: --top {}", left, all);
}

std::string name_list(const std::vector<std::string>& names, std::size_t most) {
    std::string text = joined(std::span(names).first(std::min(names.size(), most)), ", ");
    if (names.size() > most) text += (most > 0 ? " and " : "") + more_line(names.size() - most, names.size());
    return text;
}

}  // namespace voltfall
