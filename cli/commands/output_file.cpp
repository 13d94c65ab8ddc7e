#include "cli/commands/output_file.hpp"

#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include "netlists/files/whole_file.hpp"

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
    const auto written = is_stream(output.path) ? write_to_stream(output.path, text)
                         : output.force         ? replace_whole_file(output.path, text)
                                                : write_new_file(output.path, text);
    if (!written && written.error().exists) {
        say(console, written.error().message, "--force overwrites it");
        return ExitStatus::usage;
    }
    if (!written) {
        say(console, written.error().message, written.error().suggestion);
        return ExitStatus::cannot;
    }
    if (!console.options.quiet)
        say(console, fmt::format("wrote {}{}", output.path, next.empty() ? "" : "; next: " + next));
    return ExitStatus::done;
}

}  // namespace voltfall
