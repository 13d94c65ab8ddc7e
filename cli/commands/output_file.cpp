#include "cli/commands/output_file.hpp"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <filesystem>
#include <fstream>
#include <system_error>

namespace voltfall {

void declare_output(CLI::App& app, OutputFile& output, const std::string& what) {
    app.add_option("-o,--output", output.path, what)->type_name("FILE");
    app.add_flag("--force", output.force, "overwrite the file");
}

void declare_picture(CLI::App& app, OutputFile& output, const std::string& what) {
    app.add_option("--svg", output.path, what)->type_name("FILE");
    app.add_flag("--force", output.force, "overwrite the file");
}

ExitStatus write_output(const std::string& text, const OutputFile& output, const Console& console,
                        const std::string& next) {
    if (output.path == "-") {
        write_out(console, text);
        return ExitStatus::done;
    }
    const std::filesystem::path path(output.path);
    std::error_code ignored;
    if (!output.force && std::filesystem::exists(path, ignored)) {
        say(console, fmt::format("{} exists already", output.path), "--force overwrites it");
        return ExitStatus::usage;
    }
    std::ofstream file(path, std::ios::binary | std::ios::trunc);
    file << text;
    if (!file.flush()) {
        say(console, fmt::format("cannot write {}", output.path), "is the folder there, and may you write in it?");
        return ExitStatus::cannot;
    }
    if (!console.options.quiet)
        say(console, fmt::format("wrote {}{}", output.path, next.empty() ? "" : "; next: " + next));
    return ExitStatus::done;
}

}  // namespace voltfall
