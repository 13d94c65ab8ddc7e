#include "cli/commands/console.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <ostream>

#include "cli/views/figures.hpp"
#include "cli/views/problem_view.hpp"
#include "netlists/text/characters.hpp"

namespace voltfall {

namespace {

constexpr int usual_top = 5;
/// More than any list has.
constexpr std::size_t everything = 100000;
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

PageStyle style_for(const GlobalOptions& options, const Terminal& terminal, bool is_terminal) {
    PageStyle style;
    style.width = std::max(terminal.columns, least_columns);
    style.colour = colour_of(options.colour, is_terminal, terminal.wants_colour);
    style.top = static_cast<std::size_t>(options.top.value_or(usual_top));
    style.top_given = options.top.has_value();
    style.all = options.all;
    if (options.all && !options.top) style.top = everything;
    return style;
}

double now_seconds() {
    return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

void write_out(const Console& console, std::string_view text) {
    console.out << text;
}

PageStyle answer_style(const Console& console) {
    return style_for(console.options, console.terminal, console.terminal.out_is_terminal);
}

PageStyle message_style(const Console& console) {
    return style_for(console.options, console.terminal, console.terminal.err_is_terminal);
}

void say(const Console& console, std::string_view message, std::string_view suggestion) {
    // What was typed may stand in both, with bytes that a terminal would obey.
    console.err << "voltfall: " << visible(message) << '\n';
    if (!suggestion.empty()) console.err << "  " << visible(suggestion) << '\n';
}

void report_problems(const Console& console, const Problems& problems, std::string_view file) {
    if (problems.has_errors()) {
        TextPage page(message_style(console));
        write_problems(page, problems.told());
        console.err << page.text();
        return;
    }
    const std::size_t warnings = count_of(problems.list(), Severity::warning);
    if (warnings > 0 && !console.options.quiet)
        say(console, fmt::format("{} in {}; voltfall check {} shows them", counted(warnings, "warning"), file, file));
}

Progress::Progress(const Console& console, std::string about)
    : console_(console),
      about_(std::move(about)),
      enabled_(console.terminal.err_is_terminal && !console.options.quiet),
      started_(now_seconds()) {
    interrupt_requested() = false;
    caught_.emplace({Sent::interrupt}, [](int) { interrupt_requested() = true; });
}

Progress::~Progress() {
    caught_.reset();
    if (!shown_.empty()) console_.err << '\r' << std::string(shown_.size(), ' ') << '\r' << std::flush;
}

void Progress::reached(std::string_view stage, std::size_t done, std::size_t all) {
    if (!enabled_ || all == 0 || now_seconds() - started_ < quiet_seconds) return;
    constexpr std::size_t bar_width = 20;
    const std::size_t filled = std::min(bar_width * done / all, bar_width);
    std::string line = fmt::format("{}{}{} [{}{}] {} %", about_, about_.empty() ? "" : ": ", stage,
                                   std::string(filled, '#'), std::string(bar_width - filled, '.'), 100 * done / all);
    if (line == shown_) return;
    const std::size_t left_over = shown_.size() > line.size() ? shown_.size() - line.size() : 0;
    console_.err << '\r' << line << std::string(left_over, ' ') << std::flush;
    shown_ = std::move(line);
}

void say_cost(const Console& console, const Circuit& circuit, std::size_t readings) {
    // Seconds a fault, branch and reading, with the readings of one state solved together (measured by tests/bench).
    constexpr double each = 1.5e-7;
    constexpr double most_states = 6;
    constexpr double worth_saying = 5;
    const auto states = std::clamp(static_cast<double>(readings), 1.0, most_states);
    const double seconds =
        each * static_cast<double>(circuit.modes.size()) * static_cast<double>(circuit.branches.size()) * states;
    if (seconds < worth_saying || console.options.quiet) return;
    const std::string time = seconds < 90 ? fmt::format("{:.0f} s", seconds) : fmt::format("{:.0f} min", seconds / 60);
    say(console,
        fmt::format("{} parts with {} faults are to be weighed: expect about {}", circuit.parts.size(),
                    circuit.modes.size(), time),
        "a circuit with only the load in question, its feed and its ground is quicker");
}

}  // namespace voltfall
