// A command that the program does not have, added as a command is: this file, and its row in the table.
#include <fmt/format.h>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"

namespace voltfall {

namespace {

struct RatingsArguments {
    std::string file;
    bool sum{false};
};

struct FuseRatings {
    std::vector<std::pair<std::string, double>> fuses;  ///< by name, amperes
    bool sum{false};
};

std::string text(const FuseRatings& answer, PageStyle) {
    std::string lines;
    double all = 0;
    for (const auto& [name, amps] : answer.fuses) {
        lines += fmt::format("{} {:g} A\n", name, amps);
        all += amps;
    }
    return answer.sum ? fmt::format("{:g} A\n", all) : lines;
}

std::string json(const FuseRatings& answer) {
    return fmt::format("{{\"schema\":1,\"command\":\"ratings\",\"fuses\":{}}}\n", answer.fuses.size());
}

std::string plain(const FuseRatings& answer) {
    return fmt::format("ratings\t{}\n", answer.fuses.size());
}

void declare(CLI::App& app, RatingsArguments& arguments) {
    declare_circuit(app, arguments.file);
    app.add_flag("--sum", arguments.sum, "all of them together");
}

ExitStatus run(const RatingsArguments& arguments, Console& console) {
    const auto input = load_input(arguments.file, console);
    if (!input) return ExitStatus::file_errors;
    FuseRatings answer{{}, arguments.sum};
    for (const Part& part : input->circuit->parts)
        if (part.fuse) answer.fuses.emplace_back(part.name, part.fuse->rating_amps);
    print(console, answer, text, json, plain);
    return ExitStatus::done;
}

}  // namespace

extern const Command ratings_command = {
    "ratings",
    "the amperes on every fuse",
    "CIRCUIT [--sum]",
    "voltfall ratings cab-blower.toml",
    with_arguments<RatingsArguments>(declare, run),
};

}  // namespace voltfall
