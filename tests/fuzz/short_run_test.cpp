// A short run of every fuzz target in any build: seeds of the scenarios, changed in ways that are the same each time.
// An input at which a target aborts stands in the file that is named on stderr; `fuzz_TARGET FILE` shows it again.
#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <cstdint>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "tests/support/catch.hpp"

#define VOLTFALL_TARGET(name) extern "C" int fuzz_##name(const std::uint8_t* data, std::size_t size)
VOLTFALL_TARGET(circuit);
VOLTFALL_TARGET(job);
VOLTFALL_TARGET(lesson);
VOLTFALL_TARGET(wire_list);
VOLTFALL_TARGET(state);
VOLTFALL_TARGET(reading);
VOLTFALL_TARGET(fault);
VOLTFALL_TARGET(measurement);
VOLTFALL_TARGET(meter_text);
VOLTFALL_TARGET(progress);
VOLTFALL_TARGET(match);

namespace {

using Target = int (*)(const std::uint8_t*, std::size_t);
using Texts = std::vector<std::string>;

std::string running;  ///< the input that a target has now

/// Only calls that a signal's handler may make.
extern "C" void keep_input(int signal) {
    const char name[] = "fuzz_found";
    const int file = open(name, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    if (file >= 0) {
        (void)!write(file, running.data(), running.size());
        close(file);
    }
    const char told[] = "fuzz: the input stands in fuzz_found\n";
    (void)!write(STDERR_FILENO, told, sizeof told - 1);
    std::signal(signal, SIG_DFL);
    std::raise(signal);
}

Texts files_of(const std::string& folder, const std::string& ending) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry : std::filesystem::directory_iterator(std::string(PROJECT_DIR) + "/scenarios/" + folder))
        if (entry.path().string().ends_with(ending)) paths.push_back(entry.path());
    std::sort(paths.begin(), paths.end());
    Texts texts;
    for (const auto& path : paths) {
        std::ifstream file(path, std::ios::binary);
        texts.emplace_back(std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>());
    }
    return texts;
}

/// Texts that are changed, the same ones in each run.
class Changes {
public:
    explicit Changes(Texts seeds) : seeds_(std::move(seeds)) {
        for (const std::string& seed : seeds_) {
            std::istringstream stream(seed);
            for (std::string word; stream >> word;) words_.push_back(word);
        }
        for (const char* odd : {"\"",
                                "'",
                                "[",
                                "]",
                                "[[",
                                "=",
                                "\n",
                                " ",
                                "  ",
                                ">",
                                "+",
                                "@",
                                ",",
                                ".",
                                "-",
                                "#",
                                "{",
                                "}",
                                "\\",
                                "0",
                                "1e400",
                                "-1",
                                "9999999999999999999",
                                "0x7f",
                                "1_000",
                                "nan",
                                "inf",
                                "2024-05-01 1",
                                "\"\"\"",
                                "\xff",
                                "\xc3",
                                "\xc3\xa9",
                                "\xe2\x84\xa6",
                                "\xe2\x80\xae",
                                "\xef\xbb\xbf",
                                "\x1b[31m",
                                "=1+1"})
            words_.emplace_back(odd);
        words_.emplace_back(1, '\0');
    }

    std::string next() {
        std::string text = seeds_[below(seeds_.size())];
        for (std::size_t steps = 1 + below(5); steps > 0; --steps) change(text);
        constexpr std::size_t longest = 20000;
        if (text.size() > longest) text.resize(longest);
        return text;
    }

private:
    std::size_t below(std::size_t count) { return count == 0 ? 0 : random_() % count; }

    void change(std::string& text) {
        constexpr std::size_t longest_piece = 40;
        const std::size_t at = below(text.size() + 1);
        const std::size_t length = std::min(text.size() - at, 1 + below(longest_piece));
        switch (below(7)) {
            case 0:
                text.erase(at, length);
                break;
            case 1:
                text.insert(at, text.substr(at, length));
                break;
            case 2:
                text.insert(at, words_[below(words_.size())]);
                break;
            case 3:
                text.replace(at, length, words_[below(words_.size())]);
                break;
            case 4:
                if (at < text.size()) text[at] = static_cast<char>(random_() & 0xff);
                break;
            case 5: {
                const std::string& other = seeds_[below(seeds_.size())];
                text = text.substr(0, at) + other.substr(below(other.size() + 1));
                break;
            }
            default: {
                const std::size_t to = below(text.size() + 1);
                const std::string piece = text.substr(at, length);
                text.erase(at, length);
                text.insert(std::min(to, text.size()), piece);
            }
        }
    }

    Texts seeds_;
    Texts words_;
    std::mt19937 random_{11};
};

int times() {
    const char* const typed = std::getenv("VOLTFALL_FUZZ_TIMES");
    return typed != nullptr ? std::max(1, std::atoi(typed)) : 1;
}

void run(Target target, const Texts& seeds, int count) {
    REQUIRE_FALSE(seeds.empty());
    const long tries = static_cast<long>(count) * times();
    const auto feed = [&](const std::string& text) {
        running = text;
        target(reinterpret_cast<const std::uint8_t*>(running.data()), running.size());
    };
    for (const int signal : {SIGABRT, SIGSEGV, SIGFPE}) std::signal(signal, keep_input);
    feed({});
    for (const std::string& seed : seeds) feed(seed);
    Changes changes(seeds);
    for (long number = 0; number < tries; ++number) feed(changes.next());
    for (const int signal : {SIGABRT, SIGSEGV, SIGFPE}) std::signal(signal, SIG_DFL);
}

/// Phrases in quotes of the bookmobile's jobs.
Texts readings() {
    Texts found;
    for (const std::string& job : files_of("bookmobile", ".job.toml")) {
        std::istringstream stream(job);
        for (std::string line; std::getline(stream, line);) {
            const std::size_t from = line.find("= \"");
            if (from != std::string::npos && !line.empty() && line.front() >= '0' && line.front() <= '9')
                found.push_back(line.substr(from + 3, line.rfind('"') - from - 3));
        }
    }
    return found;
}

}  // namespace

TEST_CASE("changed circuit files are circuits or problems") {
    run(fuzz_circuit, files_of("starters", ".toml"), 1200);
}

TEST_CASE("changed job files are jobs or problems") {
    run(fuzz_job, files_of("bookmobile", ".job.toml"), 400);
}

TEST_CASE("changed lesson files are lessons or problems") {
    run(fuzz_lesson, files_of("lessons", ".toml"), 400);
}

TEST_CASE("changed wire lists are circuits or problems") {
    run(fuzz_wire_list, {"from,pin,to,pin,size,colour,length\nF1,2,C1,1,2.5mm2,RD,1m\nC1,1,M1,1,2.5mm2,RD,1m\n"}, 3000);
}

TEST_CASE("changed readings are readings or problems, and read again as they are written") {
    run(fuzz_reading, readings(), 8000);
}

TEST_CASE("changed states are states or problems") {
    run(fuzz_state,
        {"kcy \"\"\".\nr9999999999999999999", "hi", "key run, lo", "unplug C303  hi", "pull F7",
         "engine off, key run, S1=mh", "off, 3 min"},
        8000);
}

TEST_CASE("changed faults are faults or problems") {
    run(fuzz_fault,
        {"R1 limiter open", "C101.4 resistance 0.3ohm", "542 chafe 20mohm at 60%", "M1 drag 1.4", "541 open when hot"},
        8000);
}

TEST_CASE("changed quantities are quantities or none") {
    run(fuzz_measurement,
        {"12.6V", "8mohm", "2,5mm2", "16AWG",
         "121\xc2\xb0"
         "C",
         "25min", "60%", "1e3V", "4.7kohm"},
        30000);
}

TEST_CASE("what a meter logs is kept or dropped") {
    run(fuzz_meter_text, {"12.34 V DC", "0L", "2026-11-29,10:12:03,12.34,V,DC,AUTO", "29.11.2026;10:12:03;12,34;V;DC"},
        20000);
}

TEST_CASE("changed results are counted or broken") {
    run(fuzz_progress, {"2026-11-29,AB,x.toml,title,skill,1,1,SOLVED,1,1,1,0,0,0,1,0,0,yes\n"}, 8000);
}

TEST_CASE("a whole match of a small circuit of any choices is sound") {
    run(fuzz_match,
        {"\001\002\003\004\005\006\007\010\011\012",
         "\003\001\004\001\005\011\002\006\005\003\005\010\011\007\011\003\002"},
        60);
}
