// `prove`: has the repair been proved, and what is still open?
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/rate_option.hpp"
#include "cli/views/proof_view.hpp"

namespace voltfall {

namespace {

struct ProveArguments {
    std::string file;
    std::vector<std::string> after;
    std::vector<std::string> repaired;
    std::string rate;
};

void declare(CLI::App& app, ProveArguments& arguments) {
    declare_file(app, arguments.file, "JOB", "a job file with [repaired] and readings under [after]");
    declare_repeated(app, "--after", arguments.after, "one more reading after the repair; may be repeated", "R");
    declare_repeated(app, "--repaired", arguments.repaired, "one more thing mended, \"C101.4 new terminal\"",
                     "P WORDS");
    declare_rate(app, arguments.rate);
}

bool add_typed(const ProveArguments& arguments, const Console& console, Input& input) {
    Problems problems;
    for (const std::string& phrase : arguments.repaired)
        add_repaired(input.job, *input.circuit, TypedText::argument("--repaired", phrase), problems);
    for (const std::string& phrase : arguments.after)
        add_reading_after(input.job, *input.circuit, TypedText::argument("--after", phrase), problems);
    if (!problems.has_errors()) return true;
    report_problems(console, problems, "the command line");
    return false;
}

ExitStatus run(const ProveArguments& arguments, Console& console) {
    auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    if (!add_typed(arguments, console, *input)) return ExitStatus::usage;
    ProofView view;
    if (!set_typed_rate(arguments.rate, console, view.rate)) return ExitStatus::usage;
    MatchOptions options;
    options.workers = workers_of(console);
    {
        Progress progress(console, "");
        options.progress = progress.report();
        view.answer = prove(console.sweep(), *input->circuit, input->job, options);
    }
    if (arguments.file != "-") view.next = "voltfall read " + arguments.file + " --after \"what you measured\"";
    print(console, view, proof_text, proof_json, proof_plain);
    return view.answer.proved ? ExitStatus::done : ExitStatus::no;
}

}  // namespace

extern const Command prove_command = {
    "prove",
    "has the repair been proved? before and after, what is still open, the words for the order",
    "JOB [--after R]... [--repaired \"PLACE WORDS\"]... [--rate RATE]",
    "voltfall prove weak-air-done.job.toml\n"
    "voltfall prove fuse-blows.job.toml --repaired \"F7 new fuse\" --after \"hi blower normal\"",
    with_arguments<ProveArguments>(declare, run),
};

}  // namespace voltfall
