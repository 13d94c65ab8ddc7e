#include "cli/commands/console.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ostream>

#include "cli/views/figures.hpp"
#include "cli/views/problem_view.hpp"

namespace voltfall {

namespace {

constexpr int usual_top = 5;
/// Narrower than this no table of ours is readable.
constexpr int least_columns = 30;
constexpr double quiet_seconds = 1.0;

Colour colour_of(ColourChoice choice, bool is_terminal, bool wanted) {
    switch (choice) {
        case ColourChoice::always:
            return Colour::on;
        case ColourChoice::never:
            return Colour::off;
        case ColourChoice::automatic:
            return is_terminal && wanted ? Colour::on : Colour::off;
    }
    return Colour::off;
}

PageStyle style_for(const Arguments& arguments, const Terminal& terminal, bool is_terminal) {
    PageStyle style;
    style.width = std::max(terminal.columns, least_columns);
    style.colour = colour_of(arguments.colour, is_terminal, terminal.wants_colour);
    style.top = static_cast<std::size_t>(arguments.top.value_or(usual_top));
    style.top_given = arguments.top.has_value();
    return style;
}

double now_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

PageStyle answer_style(const Arguments& arguments, const Console& console) {
    return style_for(arguments, console.terminal, console.terminal.out_is_terminal);
}

PageStyle message_style(const Arguments& arguments, const Console& console) {
    return style_for(arguments, console.terminal, console.terminal.err_is_terminal);
}

void say(const Console& console, std::string_view message, std::string_view suggestion) {
    console.err << "voltfall: " << message << '\n';
    if (!suggestion.empty()) console.err << "  " << suggestion << '\n';
}

void report_problems(const Arguments& arguments, const Console& console, const Problems& problems,
                     std::string_view file) {
    if (problems.has_errors()) {
        TextPage page(message_style(arguments, console));
        write_problems(page, problems.list());
        console.err << page.text();
        return;
    }
    const std::size_t warnings = count_of(problems.list(), Severity::warning);
    if (warnings > 0 && !arguments.quiet)
        say(console, fmt::format("{} in {}; voltfall check {} shows them", counted(warnings, "warning"), file, file));
}

Progress::Progress(const Arguments& arguments, const Console& console, std::string_view what)
    : console_(console),
      what_(what),
      enabled_(console.terminal.err_is_terminal && !arguments.quiet),
      started_(now_seconds()) {}

Progress::~Progress() {
    if (shown_percent_ >= 0) console_.err << '\r' << std::string(what_.size() + 8, ' ') << '\r' << std::flush;
}

void Progress::reached(std::size_t done, std::size_t all) {
    if (!enabled_ || all == 0 || now_seconds() - started_ < quiet_seconds) return;
    const int percent = static_cast<int>(100 * done / all);
    if (percent == shown_percent_) return;
    shown_percent_ = percent;
    console_.err << '\r' << what_ << ' ' << percent << " %" << std::flush;
}

}  // namespace voltfall
