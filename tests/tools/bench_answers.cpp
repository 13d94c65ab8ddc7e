// Answers as a person waits for them: whole processes, and what a dictionary saves within one.
#include <thread>

#include "engine/courses/dictionary.hpp"
#include "engine/diagnosis/weighing.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/bench_table.hpp"
#include "tests/tools/process.hpp"

namespace voltfall::bench {

namespace {

struct Command {
    std::string what;
    std::vector<std::string> words;
    double goal;
    std::string input{};
};

double cpu_of_process(const Command& command) {
    std::vector<std::string> words = command.words;
    if (!command.input.empty()) words = {"sh", "-c", "printf '" + command.input + "' | exec \"$@\"", "sh"};
    if (!command.input.empty()) words.insert(words.end(), command.words.begin(), command.words.end());
    return cpu_of([&] { (void)run_process(words); }, RUSAGE_CHILDREN);
}

/// A job weighed once, and again with one reading more while the dictionary stands.
void bench_reweighing(const Options& options) {
    JobReading reading = read_job_file(options.scenarios + "/bookmobile/weak-air.job.toml");
    if (!reading.circuit || !reading.job || reading.job->readings.size() < 2) return;
    MatchOptions match;
    match.workers = 1;
    const Job whole = *reading.job;
    Job shorter = whole;
    shorter.readings.pop_back();
    Dictionary dictionary(testing::solver(), *reading.circuit);
    match.dictionary = &dictionary;
    const auto weighed = [&](const Job& job) {
        return cpu_of([&] { (void)weigh(testing::solver(), *reading.circuit, job, match); });
    };
    row("a job weighed with nothing known", 1e3 * weighed(shorter), "ms");
    (void)weighed(whole);
    row("weighed again while the dictionary stands", 1e3 * median_of(9, [&] { return weighed(whole); }), "ms", 1);
}

}  // namespace

void bench_answers(const Options& options) {
    const std::string circuit = options.scenarios + "/bookmobile/cab-blower.toml";
    const std::string job = options.scenarios + "/bookmobile/weak-air.job.toml";
    const std::string lesson = options.scenarios + "/lessons/full-volts.toml";
    const auto one = [&](std::vector<std::string> words) {
        words.insert(words.begin(), options.voltfall);
        words.insert(words.begin() + 2, {"--workers", "1"});
        return words;
    };
    const std::vector<Command> commands = {
        {"match", one({"match", job}), 0.10},
        {"next", one({"next", job}), 0.12},
        {"plan", one({"plan", job}), 0.15},
        {"match --two", one({"match", "--two", job}), 0.25},
        {"faults", one({"faults", circuit}), 0.05},
        {"protect", one({"protect", circuit}), 0.05},
        {"check of a lesson, with its trial", one({"check", lesson}), 1},
        {"teach: two tests, given up, debriefed", one({"teach", "--no-commit", "--level", "3", lesson}), 0.5,
         "hi\\nM1.1 to B1-\\ngive up\\n"},
    };
    heading("Whole processes on the demo");
    const int rounds = options.short_run ? 3 : 9;
    for (const Command& command : commands) {
        row(command.what, median_of(rounds, [&] { return cpu_of_process(command); }), "s", command.goal);
    }
    const auto seconds_of = [&](const std::string& file, const std::string& reading) {
        const Command command{{}, one({"match", options.scenarios + file, "--read", reading}), 0};
        return median_of(rounds, [&] { return cpu_of_process(command); });
    };
    row("match on the heaviest starter, of the demo's time",
        seconds_of("/starters/module-pwm.toml", "M1 dead") / seconds_of("/bookmobile/cab-blower.toml", "blower dead"),
        "x", 2);
    if (!options.score.empty()) {
        const int vehicles = options.short_run ? 4 : 12;
        const auto seconds = [&](int count) {
            return cpu_of_process(
                {{}, {options.score, "--workers", "1", "--vehicles", std::to_string(count), "--circuit", circuit}, 0});
        };
        row("one vehicle of the score", (seconds(vehicles) - seconds(0 + 1)) / (vehicles - 1), "s", 0.6);
        const auto wall = [&](const std::string& workers) {
            return wall_of([&] {
                (void)run_process({options.score, "--workers", workers, "--vehicles", std::to_string(vehicles),
                                   "--circuit", circuit});
            });
        };
        const double one_alone = wall("1");
        row("two workers against one, wall", one_alone / wall("2"), "times", 1.8, Better::more);
        // What this machine can give: two processes that share nothing.
        const double two_apart = wall_of([&] {
            std::thread other([&] { (void)wall("1"); });
            (void)wall("1");
            other.join();
        });
        row("  two processes side by side against one", 2 * one_alone / two_apart, "times");
    }
    heading("A new reading");
    bench_reweighing(options);
}

}  // namespace voltfall::bench
