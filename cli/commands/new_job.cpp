#include "cli/commands/new_job.hpp"

#include <filesystem>

#include "cli/commands/inputs.hpp"
#include "cli/commands/line_input.hpp"
#include "netlists/files/job_draft.hpp"
#include "netlists/platform/paths.hpp"

namespace voltfall {

namespace {

/// The circuit's path as the job names it: from the job's own folder where both are on one disk.
std::string path_from_job(const std::string& circuit, const std::string& job) {
    namespace fs = std::filesystem;
    if (job.empty() || job == "-") return circuit;
    std::error_code failed;
    const fs::path folder = fs::absolute(path_of(job), failed).parent_path();
    const fs::path relative = failed ? fs::path() : fs::relative(path_of(circuit), folder, failed);
    return failed || relative.empty() ? circuit : path_text(relative);
}

}  // namespace

ExitStatus begin_job(Console& console, const NewJob& wanted) {
    if (wanted.circuit == "-") {
        say(console, "a job names its circuit by a file; '-' is none");
        return ExitStatus::usage;
    }
    const auto input = load_input(wanted.circuit, console);
    if (!input) return ExitStatus::file_errors;
    if (input->job.path != input->job.circuit_path) {
        say(console, wanted.circuit + " is a job already", "voltfall read " + wanted.circuit);
        return ExitStatus::usage;
    }
    std::string concern = wanted.concern;
    if (concern.empty())
        concern = LineInput(console, wanted.output.path != "-").next("concern, in the customer's words: ").value_or("");
    if (concern.empty()) {
        say(console, "a job begins with what the customer says", "--concern \"weak air on every speed\"");
        return ExitStatus::usage;
    }
    OutputFile output = wanted.output;
    if (output.path.empty()) output.path = "-";
    const std::string text =
        job_draft(*input->circuit, {path_from_job(wanted.circuit, wanted.output.path), concern, wanted.number});
    return write_output(text, output, console, output.path == "-" ? "" : "voltfall read " + output.path);
}

}  // namespace voltfall
