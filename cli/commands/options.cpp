#include "cli/commands/options.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <map>

#include "netlists/text/quantity.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

constexpr long long most_top = 100000;
constexpr long long most_workers = 64;
constexpr long long most_seed = 1LL << 53;  // what every reader of JSON keeps exactly

/// A value that looks like an option means that the value was forgotten.
CLI::Validator a_value() {
    return CLI::Validator(
        [](const std::string& typed) {
            if (typed.empty()) return std::string("found an empty value");
            if (typed.starts_with("--")) return fmt::format("needs a value, found '{}'", typed);
            return std::string();
        },
        "");
}

void declare_number(CLI::App& app, const std::string& name, const std::string& what, long long low, long long high,
                    std::function<void(long long)> keep) {
    app.add_option_function<long long>(name, std::move(keep), what)->check(whole_number(low, high))->type_name("N");
}

}  // namespace

CLI::Validator one_of(std::vector<std::string> words) {
    return CLI::Validator(
        [words](const std::string& typed) {
            for (const std::string& word : words)
                if (word == typed) return std::string();
            const std::string hint = did_you_mean(typed, words);
            return fmt::format("'{}' is none of {}{}{}", typed, fmt::join(words, ", "), hint.empty() ? "" : "; ", hint);
        },
        "");
}

CLI::Validator whole_number(long long low, long long high) {
    return CLI::Validator(
        [low, high](const std::string& typed) {
            long long value = 0;
            const auto read = std::from_chars(typed.data(), typed.data() + typed.size(), value);
            const bool whole = read.ec == std::errc() && read.ptr == typed.data() + typed.size();
            if (whole && value >= low && value <= high) return std::string();
            return fmt::format("expected a whole number from {} to {}, found '{}'", low, high, typed);
        },
        "");
}

CLI::Validator duration(double low, double high) {
    return CLI::Validator(
        [low, high](const std::string& typed) {
            const auto measure = parse_measure(typed);
            if (!measure || measure->unit != Unit::second)
                return fmt::format("expected a time with its unit such as 10min or 30s, found '{}'", typed);
            if (measure->value >= low && measure->value <= high) return std::string();
            return fmt::format("expected a time from {} to {}, found '{}'", write_measure(low, Unit::second),
                               write_measure(high, Unit::second), typed);
        },
        "");
}

void declare_global_options(CLI::App& app, Arguments& arguments) {
    static const std::map<std::string, Format> formats = {
        {"text", Format::text}, {"json", Format::json}, {"plain", Format::plain}};
    static const std::map<std::string, ColourChoice> colours = {
        {"auto", ColourChoice::automatic}, {"always", ColourChoice::always}, {"never", ColourChoice::never}};
    app.add_option_function<std::string>(
           "--format", [&arguments](const std::string& word) { arguments.format = formats.at(word); },
           "how to show the answer: text (default), json or plain")
        ->check(one_of({"text", "json", "plain"}))
        ->type_name("FORMAT");
    app.add_option_function<std::string>(
           "--color", [&arguments](const std::string& word) { arguments.colour = colours.at(word); },
           "colour: auto (default), always or never")
        ->check(one_of({"auto", "always", "never"}))
        ->type_name("WHEN");
    static const std::map<std::string, SweepBy> solvers = {{"core", SweepBy::core}, {"ngspice", SweepBy::ngspice}};
    app.add_option_function<std::string>(
           "--solver", [&arguments](const std::string& word) { arguments.sweep_by = solvers.at(word); },
           "core (default): our own solver, confirmed by ngspice; ngspice: it solves everything")
        ->check(one_of({"core", "ngspice"}))
        ->type_name("WHICH");
    declare_number(app, "--top", "length of long lists", 1, most_top,
                   [&arguments](long long value) { arguments.top = static_cast<int>(value); });
    declare_number(app, "--seed", "start of what is drawn by lot", 0, most_seed,
                   [&arguments](long long value) { arguments.seed = value; });
    declare_number(app, "--workers", "processes that solve; one a core by default", 1, most_workers,
                   [&arguments](long long value) { arguments.workers = static_cast<int>(value); });
    app.add_flag("--quiet", arguments.quiet, "no hints and no progress on stderr");
}

CLI::Option* declare_repeated(CLI::App& app, const std::string& name, std::vector<std::string>& values,
                              const std::string& what, const std::string& value_name) {
    return app
        .add_option(
            name,
            [&values](const CLI::results_t& typed) {
                values = typed;
                return true;
            },
            what)
        ->expected(1)
        ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
        ->allow_extra_args(false)
        ->check(a_value())
        ->type_name(value_name);
}

void declare_file(CLI::App& app, Arguments& arguments, const std::string& name, const std::string& what) {
    app.add_option_function<std::string>(
           name, [&arguments](const std::string& file) { arguments.files = {file}; }, what)
        ->required()
        ->type_name("");
}

void declare_faults(CLI::App& app, Arguments& arguments) {
    declare_repeated(app, "--fault", arguments.faults, "a fault, \"R1 limiter open\"; may be repeated", "F");
}

void declare_states(CLI::App& app, Arguments& arguments, const std::string& what) {
    declare_repeated(app, "--state", arguments.states, what, "S");
}

void declare_reads(CLI::App& app, Arguments& arguments) {
    declare_repeated(app, "--read", arguments.reads, "one more reading, \"hi M1.1 to B1- 10.3V\"; may be repeated",
                     "R");
}

void declare_tools(CLI::App& app, Arguments& arguments) {
    declare_repeated(app, "--tools", arguments.tools,
                     "instruments at hand in place of the job's, \"meter,clamp 1%+0.3A,lamp 21W,load 55W\"", "T,..");
}

}  // namespace voltfall
