#include "cli/commands/case_report.hpp"

#include <fmt/format.h>
#include <stdlib.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>

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
    std::error_code failed;
    const std::filesystem::path folder = std::filesystem::temp_directory_path(failed);
    if (failed) return std::nullopt;
    const std::string ending = ".txt";
    std::string path = (folder / ("voltfall-case-XXXXXX" + ending)).string();
    const int file = mkstemps(path.data(), static_cast<int>(ending.size()));
    if (file < 0) return std::nullopt;
    const std::string text = report_text(args, bug);
    const bool whole = write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size());
    if (close(file) != 0 || !whole) {
        std::filesystem::remove(path, failed);
        return std::nullopt;
    }
    return path;
}

}  // namespace voltfall
