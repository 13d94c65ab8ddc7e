#include "cli/commands/options.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <charconv>
#include <map>

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
        fmt::format("{}", fmt::join(words, "|")));
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

void declare_global_options(CLI::App& app, GlobalOptions& options) {
    static const std::map<std::string, Format> formats = {
        {"text", Format::text}, {"json", Format::json}, {"plain", Format::plain}};
    static const std::map<std::string, ColourChoice> colours = {
        {"auto", ColourChoice::automatic}, {"always", ColourChoice::always}, {"never", ColourChoice::never}};
    app.add_option_function<std::string>(
           "--format", [&options](const std::string& word) { options.format = formats.at(word); },
           "how to show the answer: text (default), json or plain")
        ->check(one_of({"text", "json", "plain"}))
        ->type_name("FORMAT");
    app.add_option_function<std::string>(
           "--color", [&options](const std::string& word) { options.colour = colours.at(word); },
           "colour: auto (default), always or never")
        ->check(one_of({"auto", "always", "never"}))
        ->type_name("WHEN");
    static const std::map<std::string, SweepBy> solvers = {{"core", SweepBy::core}, {"ngspice", SweepBy::ngspice}};
    app.add_option_function<std::string>(
           "--solver", [&options](const std::string& word) { options.sweep_by = solvers.at(word); },
           "core (default): our own solver, confirmed by ngspice; ngspice: it solves everything")
        ->check(one_of({"core", "ngspice"}))
        ->type_name("WHICH");
    declare_number(app, "--top", "length of long lists", 1, most_top,
                   [&options](long long value) { options.top = static_cast<int>(value); });
    declare_number(app, "--seed", "start of the random numbers", 0, most_seed,
                   [&options](long long value) { options.seed = value; });
    declare_number(app, "--workers", "processes that solve; one a core by default", 1, most_workers,
                   [&options](long long value) { options.workers = static_cast<int>(value); });
    app.add_flag("--all", options.all, "everything, not the first screen alone");
    app.add_flag("--quiet", options.quiet, "no hints and no progress on stderr");
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

void declare_file(CLI::App& app, std::string& file, const std::string& name, const std::string& what) {
    app.add_option_function<std::string>(
           name, [&file](const std::string& typed) { file = typed; }, what)
        ->required()
        ->type_name("");
}

void declare_circuit(CLI::App& app, std::string& file) {
    declare_file(app, file, "CIRCUIT", "a circuit, or a job that names one");
}

void declare_job(CLI::App& app, std::string& file) {
    declare_file(app, file, "FILE", "a job, or a circuit with readings by --read");
}

void declare_faults(CLI::App& app, std::vector<std::string>& faults) {
    declare_repeated(app, "--fault", faults, "a fault, \"R1 limiter open\"; may be repeated", "F");
}

void declare_states(CLI::App& app, std::vector<std::string>& states, const std::string& what) {
    declare_repeated(app, "--state", states, what, "S");
}

void declare_reads(CLI::App& app, TypedReadings& reads) {
    declare_repeated(app, "--read", reads.phrases, "one more reading, \"hi M1.1 to B1- 10.3V\"; may be repeated", "R");
    app.add_option("--read-from", reads.from, "more readings, one a line; - is standard input")->type_name("FILE");
}

void declare_tools(CLI::App& app, std::vector<std::string>& tools) {
    declare_repeated(app, "--tools", tools,
                     "instruments at hand in place of the job's, \"meter,clamp 1%+0.3A,lamp 21W,load 55W\"", "T,..");
}

}  // namespace voltfall
