#include "cli/commands/case_report.hpp"

#include <fmt/format.h>

#include "netlists/platform/file_bytes.hpp"

namespace voltfall {

namespace {

std::string report_text(const std::vector<std::string>& args, const UnsoundCase& bug) {
    // The first line is the title of the deck below: ngspice reads the whole file.
    std::string text = fmt::format("* voltfall {}: {}\n* command:", VOLTFALL_VERSION, comment_text(bug.what()));
    for (const std::string& arg : args) text += fmt::format(" '{}'", comment_text(arg));
    return text + "\n" + bug.report();
}

}  // namespace

std::optional<std::string> write_case_report(const std::vector<std::string>& args, const UnsoundCase& bug) {
    return write_temporary_file("voltfall-case-", ".txt", report_text(args, bug));
}

}  // namespace voltfall
