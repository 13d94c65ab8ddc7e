// Options that take a time.
#include <fmt/format.h>

#include "cli/commands/options.hpp"
#include "netlists/text/quantity.hpp"

namespace voltfall {

namespace {

constexpr double shortest_time = 0.001;
/// A week: nothing here warms up for longer.
constexpr double longest_time = 7 * 24 * 3600.0;

constexpr double usual_start = 3;
constexpr double shortest_start = 0.05;
constexpr double longest_start = 60;

std::string time_mistake(const std::string& typed) {
    const auto measure = parse_measure(typed);
    if (!measure || measure->unit != Unit::second)
        return fmt::format("expected a time with its unit such as 10min or 30s, found '{}'", typed);
    if (measure->value >= shortest_time && measure->value <= longest_time) return {};
    return fmt::format("expected a time from {} to {}, found '{}'", write_measure(shortest_time, Unit::second),
                       write_measure(longest_time, Unit::second), typed);
}

/// `3`, `3s` or `500ms`.
double start_seconds(const std::string& typed) {
    const auto measure = parse_measure(typed);
    const bool time = measure && (measure->unit == Unit::second || measure->unit == Unit::none);
    if (time && measure->value >= shortest_start && measure->value <= longest_start) return measure->value;
    throw CLI::ValidationError(
        "--start", fmt::format("expected seconds from {} to {:.0f}, found '{}'{}", shortest_start, longest_start, typed,
                               measure ? "" : "; the file stands before --start"));
}

}  // namespace

void declare_time(CLI::App& app, std::optional<double>& seconds) {
    app.add_option_function<std::string>(
           "--time", [&seconds](const std::string& typed) { seconds = parse_measure(typed)->value; },
           "follow each state for this time and show what warms up, \"10min\"")
        ->check(CLI::Validator(time_mistake, ""))
        ->type_name("T");
}

void declare_start(CLI::App& app, std::optional<double>& seconds) {
    app.add_option(
           "--start",
           [&seconds](const CLI::results_t& typed) {
               const bool number = !typed.empty() && !typed.back().empty() && typed.back() != "true";
               seconds = number ? start_seconds(typed.back()) : usual_start;
               return true;
           },
           "start the motors from standstill too and follow them, 3 s or so many; stands behind CIRCUIT")
        ->expected(0, 1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeLast)
        ->type_name("[SECONDS]");
}

}  // namespace voltfall
