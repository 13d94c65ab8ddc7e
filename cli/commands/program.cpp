#include "cli/commands/program.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <new>
#include <ostream>
#include <stdexcept>

#include "cli/commands/case_report.hpp"
#include "cli/commands/command.hpp"
#include "cli/commands/complete.hpp"
#include "cli/commands/help_text.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/settings.hpp"
#include "cli/views/figures.hpp"
#include "netlists/files/toml_file.hpp"
#include "netlists/files/whole_file.hpp"
#include "netlists/platform/file_beside.hpp"
#include "netlists/platform/process.hpp"
#include "netlists/platform/terminal.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// What is wrong with the command line: our text, and one fix.
struct UsageMistake {
    std::string message;
    std::string suggestion;
};

ExitStatus usage(const Console& console, const UsageMistake& mistake) {
    say(console, mistake.message, mistake.suggestion);
    return ExitStatus::usage;
}

bool asks_for(const std::vector<std::string>& args, std::initializer_list<std::string_view> words) {
    for (const std::string& arg : args) {
        if (arg == "--") return false;
        if (std::find(words.begin(), words.end(), arg) != words.end()) return true;
    }
    return false;
}

/// Finds the command word among global options; `args.size()` when there is none.
std::size_t find_command_word(const std::vector<std::string>& args, std::string& unknown_option) {
    CLI::App app;
    GlobalOptions ignored;
    declare_global_options(app, ignored);
    for (std::size_t i = 0; i < args.size(); ++i) {
        if (!args[i].starts_with("-") || args[i] == "-") return i;
        const std::string name = args[i].substr(0, args[i].find('='));
        if (name == "-h" || name == "--help" || name == "-V" || name == "--version") continue;
        const CLI::Option* option = app.get_option_no_throw(name);
        if (option == nullptr) {
            unknown_option = name;
            return args.size();
        }
        if (option->get_items_expected_max() > 0 && name.size() == args[i].size()) ++i;
    }
    return args.size();
}

std::vector<std::string> command_words() {
    std::vector<std::string> words;
    for (const Command* command : commands()) words.emplace_back(command->word);
    return words;
}

const Command* find_command(std::string_view word) {
    for (const Command* command : commands())
        if (command->word == word) return command;
    return nullptr;
}

std::vector<std::string> option_names(const CLI::App& app) {
    std::vector<std::string> names;
    for (const CLI::Option* option : app.get_options())
        if (!option->get_positional()) names.push_back(option->get_name());
    names.insert(names.end(), {"--help", "--version"});
    return names;
}

UsageMistake unknown_option_mistake(const std::string& typed, const std::vector<std::string>& known,
                                    std::string_view help) {
    const std::string name = typed.substr(0, typed.find('='));
    const std::string hint = did_you_mean(name, known);
    return {fmt::format("unknown option '{}'", name), hint.empty() ? fmt::format("{} lists them", help) : hint};
}

/// The parser's own complaint in our words.
UsageMistake mistake_of(const CLI::ParseError& error, const CLI::App& app, const Command& command) {
    const std::string help = fmt::format("voltfall {} --help", command.word);
    const std::string more = help + " shows how";
    if (dynamic_cast<const CLI::ExtrasError*>(&error) != nullptr) {
        const std::vector<std::string> extras = app.remaining();
        for (const std::string& extra : extras)
            if (extra.starts_with("-") && extra != "-") return unknown_option_mistake(extra, option_names(app), help);
        const std::string extra = extras.empty() ? "" : extras.front();
        return {fmt::format("{} takes one file; '{}' is one too many", command.word, extra), more};
    }
    if (dynamic_cast<const CLI::RequiredError*>(&error) != nullptr)
        return {fmt::format("{} needs a file: voltfall {} {}", command.word, command.word, command.usage), more};
    return {fmt::format("{} {}", command.word, error.what()), more};
}

ExitStatus run_command(const Command& command, std::vector<std::string> args, Console& console) {
    CLI::App app;
    app.set_help_flag();
    const CommandWork work = command.declare(app);
    declare_global_options(app, console.options);
    try {
        std::reverse(args.begin(), args.end());  // the parser takes the last one first
        app.parse(args);
    } catch (const CLI::ParseError& error) {
        return usage(console, mistake_of(error, app, command));
    }
    Simulators simulators(console.start, console.options.sweep_by);
    console.simulators = &simulators;
    const ExitStatus status = work(console);
    if (const long cases = simulators.not_confirmed(); cases > 0) {
        say(console,
            fmt::format("the circuit simulator gave no answer for {} shown: not confirmed",
                        counted(static_cast<std::size_t>(cases), "case")),
            "voltfall --version tells which library it is");
    }
    return status;
}

/// The status of a run whose answer has reached its reader, or not.
ExitStatus written(ExitStatus status, const Console& console) {
    if (console.out.flush()) return status;
    say(console, "cannot write the answer", "is the disk full or the output closed?");
    return ExitStatus::cannot;
}

ExitStatus dispatch(std::vector<std::string> args, Console& console) {
    if (!args.empty() && args.front() == "complete") {
        // For the shells' completions, which put the words behind `--`; it is no command of a person.
        const bool marked = args.size() > 1 && args[1] == "--";
        for (const std::string& word : completions({args.begin() + (marked ? 2 : 1), args.end()}))
            console.out << word << '\n';
        return ExitStatus::done;
    }
    if (asks_for(args, {"-V", "--version"})) {
        console.out << version_text(console.start());
        return ExitStatus::done;
    }
    const int width = console.terminal.columns;
    std::string unknown_option;
    const std::size_t at = find_command_word(args, unknown_option);
    if (!unknown_option.empty()) {
        CLI::App app;
        GlobalOptions ignored;
        declare_global_options(app, ignored);
        return usage(console, unknown_option_mistake(unknown_option, option_names(app), "voltfall --help"));
    }
    if (at == args.size()) {
        const bool wants_help = asks_for(args, {"-h", "--help"});
        console.out << (wants_help ? program_help(width) : short_help(width));
        return ExitStatus::done;
    }
    const Command* command = find_command(args[at]);
    if (command == nullptr) {
        const std::string hint = did_you_mean(args[at], command_words());
        return usage(console, {fmt::format("unknown command '{}'", args[at]),
                               hint.empty() ? "voltfall --help lists the commands" : hint});
    }
    if (asks_for(args, {"-h", "--help"})) {
        console.out << command_help(*command, width);
        return ExitStatus::done;
    }
    args.erase(args.begin() + static_cast<std::ptrdiff_t>(at));
    return run_command(*command, std::move(args), console);
}

int number_of(ExitStatus status) {
    return static_cast<int>(status);
}

/// A person's own settings; options on the command line win over them.
void take_settings(Console& console) {
    const std::string& path = console.terminal.settings;
    if (path.empty()) return;
    const auto text = read_whole_file(path);
    if (!text) return say(console, text.error().message, text.error().suggestion);
    Problems problems;
    console.settings = read_settings(read_toml_text(*text, path, problems), problems);
    if (problems.has_errors()) report_problems(console, problems, path);
    if (console.settings.columns) console.terminal.columns = *console.settings.columns;
    if (console.settings.colour) console.options.colour = *console.settings.colour;
}

int columns_of_environment() {
    const auto typed = environment_text("COLUMNS");
    if (!typed) return 0;
    int columns = 0;
    const auto read = std::from_chars(typed->data(), typed->data() + typed->size(), columns);
    const bool whole = read.ec == std::errc() && read.ptr == typed->data() + typed->size();
    return whole && columns > 0 && columns <= most_columns ? columns : 0;
}

}  // namespace

Terminal Terminal::of_process() {
    Terminal terminal;
    terminal.out_is_terminal = is_terminal(StandardStream::out);
    terminal.err_is_terminal = is_terminal(StandardStream::err);
    terminal.in_is_terminal = is_terminal(StandardStream::in);
    if (const auto columns = terminal_columns())
        terminal.columns = *columns;
    else if (const int columns_said = columns_of_environment(); columns_said > 0)
        terminal.columns = columns_said;
    const bool refused = !environment_text("NO_COLOR").value_or("").empty();
    const bool dumb = environment_text("TERM") == "dumb";
    terminal.wants_colour = !refused && !dumb;
    const std::string settings = settings_path();
    if (!settings.empty() && kind_of_path(settings) != PathKind::nothing) terminal.settings = settings;
    return terminal;
}

int run(std::vector<std::string> args, std::istream& in, std::ostream& out, std::ostream& err, Terminal terminal,
        const StartSimulator& start) {
    Console console{in, out, err, terminal, start, nullptr, {}, {}};
    try {
        take_settings(console);
        return number_of(written(dispatch(args, console), console));
    } catch (const Interrupted&) {
        say(console, "interrupted");
        return number_of(ExitStatus::interrupted);
    } catch (const std::bad_alloc&) {
        say(console, "out of memory");
        return number_of(ExitStatus::cannot);
    } catch (const std::runtime_error& broken) {
        say(console, broken.what());
        return number_of(ExitStatus::cannot);
    } catch (const UnsoundCase& bug) {
        const auto file = write_case_report(args, bug);
        say(console, fmt::format("a bug of ours: {}", bug.what()),
            file ? fmt::format("please report it with the case, which stands in {}", *file)
                 : "please report it with the files and the command");
        return number_of(ExitStatus::bug);
    } catch (const std::exception& bug) {
        say(console, fmt::format("a bug of ours: {}", bug.what()), "please report it with the files and the command");
        return number_of(ExitStatus::bug);
    }
}

}  // namespace voltfall
