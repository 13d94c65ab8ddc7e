// Prints how fast circuits are solved, searched and diagnosed, how that grows with the circuit, and how it stands to
// the goals. Fails on nothing: a figure short of its goal says so.
#include <algorithm>
#include <filesystem>
#include <iostream>

#include "tests/tools/bench_table.hpp"

namespace {

int run(const std::vector<std::string>& arguments) {
    voltfall::bench::Options options;
    std::string only;
    for (std::size_t at = 0; at < arguments.size(); ++at) {
        const std::string& word = arguments[at];
        const bool has_value = at + 1 < arguments.size();
        if (word == "--short") {
            options.short_run = true;
        } else if (word == "--only" && has_value) {
            only = arguments[++at];
        } else if (word == "--voltfall" && has_value) {
            options.voltfall = arguments[++at];
        } else if (word == "--score" && has_value) {
            options.score = arguments[++at];
        } else if (word == "--scenarios" && has_value) {
            options.scenarios = arguments[++at];
        } else {
            std::cerr << fmt::format(
                "bench: unknown word '{}'; usage: tests/bench [--short] [--only solving|answers|growth]\n", word);
            return 2;
        }
    }
    const auto one_of = {"", "solving", "answers", "growth"};
    if (std::find(one_of.begin(), one_of.end(), only) == one_of.end()) {
        std::cerr << fmt::format("bench: --only takes solving, answers or growth, not '{}'\n", only);
        return 2;
    }
    if (!std::filesystem::exists(options.scenarios) || !std::filesystem::exists(options.voltfall)) {
        std::cerr << "bench: neither scenarios nor voltfall were found; tests/bench names them\n";
        return 2;
    }
    fmt::print("CPU seconds on one core unless a row says wall; medians of several runs\n");
    if (only.empty() || only == "solving") voltfall::bench::bench_solving(options);
    if (only.empty() || only == "answers") voltfall::bench::bench_answers(options);
    if (only.empty() || only == "growth") voltfall::bench::bench_growth(options);
    return 0;
}

}  // namespace

int main(int argc, char** argv) {
    return run({argv + 1, argv + argc});
}
