#include "cli/commands/output_file.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <system_error>

namespace voltfall {

ExitStatus write_output(const std::string& text, const Arguments& arguments, const Console& console,
                        const std::string& next) {
    const std::filesystem::path path(arguments.output);
    std::error_code ignored;
    if (!arguments.force && std::filesystem::exists(path, ignored)) {
        say(console, fmt::format("{} exists already", arguments.output), "--force overwrites it");
        return ExitStatus::usage;
    }
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    file << text;
    if (!file.flush()) {
        say(console, fmt::format("cannot write {}", arguments.output), "is the folder there, and may you write in it?");
        return ExitStatus::cannot;
    }
    if (!arguments.quiet)
        say(console, fmt::format("wrote {}{}", arguments.output, next.empty() ? "" : "; next: " + next));
    return ExitStatus::done;
}

}  // namespace voltfall
