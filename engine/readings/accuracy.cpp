#include "engine/readings/accuracy.hpp"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "netlists/tables/defaults.hpp"
#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

void add_term(Accuracy& accuracy, std::string_view term) {
    while (!term.empty() && term.front() == ' ') term.remove_prefix(1);
    double number = 0;
    const auto [end, error] = std::from_chars(term.data(), term.data() + term.size(), number);
    if (error != std::errc{}) return;
    const std::string_view unit = term.substr(static_cast<std::size_t>(end - term.data()));
    if (unit.starts_with("%")) {
        accuracy.relative += number / 100;
    } else if (unit.starts_with("digit")) {
        accuracy.digits += number;
    } else if (const auto measure = parse_measure(term.substr(0, term.find(' ')))) {
        accuracy.absolute += measure->value;
    }
}

/// `about` as a share of the value (ASSUMED).
constexpr double about_share = 0.05;

}  // namespace

double Accuracy::limit(double value, double last_digit) const {
    return relative * std::abs(value) + digits * last_digit + absolute;
}

Accuracy read_accuracy(std::string_view text) {
    Accuracy accuracy;
    while (!text.empty()) {
        const auto plus = text.find('+');
        add_term(accuracy, text.substr(0, plus));
        text = plus == std::string_view::npos ? std::string_view{} : text.substr(plus + 1);
    }
    return accuracy;
}

Accuracy accuracy_of(Instrument instrument, const std::vector<Tool>& tools) {
    const bool is_meter = instrument == Instrument::meter;
    static const Accuracy usual_meter = read_accuracy(default_row("meter_volts").text);
    static const Accuracy usual_clamp = read_accuracy(default_row("clamp_amps").text);
    const Accuracy& usual = is_meter ? usual_meter : usual_clamp;
    for (const Tool& tool : tools) {
        if (!same_word(tool.name, is_meter ? "meter" : "clamp")) continue;
        if (tool.relative <= 0 && tool.absolute <= 0) continue;
        return {tool.relative, is_meter ? usual.digits : 0, tool.absolute};
    }
    return usual;
}

double scale_sigma(const Accuracy& accuracy, double value) {
    return accuracy.relative * std::abs(value) / sigmas_in_limit;
}

double instrument_sigma(const Accuracy& accuracy, const ReadValue& value) {
    const double rounding = value.last_digit / std::sqrt(12.0);
    const double shown = std::isfinite(value.low) ? value.low : value.high;
    double sigma = std::max(accuracy.limit(shown, value.last_digit) / sigmas_in_limit, rounding);
    if (value.about) sigma = std::hypot(sigma, about_share * std::abs(shown) + value.last_digit);
    return sigma;
}

}  // namespace voltfall
