// `report`: one self-contained page of a job or a circuit.
#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/commands/output_file.hpp"
#include "cli/commands/rate_option.hpp"
#include "cli/commands/report_view.hpp"
#include "cli/commands/teach.hpp"

namespace voltfall {

namespace {

struct ReportArguments {
    std::string file;
    TypedReadings reads;
    std::vector<std::string> tools;
    OutputFile page;
    std::string rate;
};

void declare(CLI::App& app, ReportArguments& arguments) {
    declare_job(app, arguments.file);
    declare_reads(app, arguments.reads);
    declare_tools(app, arguments.tools);
    declare_rate(app, arguments.rate);
    declare_output(app, arguments.page, "the page to write, HTML; '-' is standard output");
}

ExitStatus run_lesson(const ReportArguments& arguments, const TypedFile& typed, Console& console) {
    const LoadedExercise loaded = load_exercise({}, typed, console);
    if (!loaded.exercise) return loaded.status;
    std::string page;
    {
        const Progress progress(console, "");
        page = report_page(lesson_view(console, *loaded.exercise));
    }
    return write_output(page, arguments.page, console);
}

ExitStatus run(const ReportArguments& arguments, Console& console) {
    if (arguments.page.path.empty()) {
        say(console, "a report needs a file to write", "voltfall report " + arguments.file + " -o report.html");
        return ExitStatus::usage;
    }
    const TypedFile typed = read_typed_file(arguments.file, console.in);
    if (typed.kind == FileKind::lesson) return run_lesson(arguments, typed, console);
    auto input = load_input(typed, console);
    if (!input) return ExitStatus::file_errors;
    if (const auto status = add_typed_readings(arguments.reads, console, *input)) return *status;
    if (!set_typed_tools(arguments.tools, console, *input)) return ExitStatus::usage;
    std::optional<ShopRate> rate;
    if (!set_typed_rate(arguments.rate, console, rate)) return ExitStatus::usage;
    std::string page;
    {
        const Progress progress(console, "");
        ReportView view = report_view(console, *input);
        view.rate = rate;
        page = report_page(view);
    }
    return write_output(page, arguments.page, console);
}

}  // namespace

extern const Command report_command = {
    "report",
    "one self-contained page: workshop sheet, wiring drawing, where the volts fall, speeds, fuses, before and after",
    "FILE -o OUT.html [--read R]... [--tools T,..] [--rate RATE]",
    "voltfall report weak-air.job.toml -o weak-air.html\n"
    "voltfall report cab-blower.toml -o circuit.html\n"
    "voltfall report dark-lamp.toml -o answer.html",
    with_arguments<ReportArguments>(declare, run),
};

}  // namespace voltfall
