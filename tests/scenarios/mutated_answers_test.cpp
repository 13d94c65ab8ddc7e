// Numbers of the scenarios typed wrong, followed through whole answers: what the reader lets through must be answered
// or refused, never a crash, a bug of ours, a number that is none, or work without end. A sample, spread evenly over
// all numbers of all files, so that the test ends in some seconds; another start of it is another sample.
#include <chrono>
#include <filesystem>

#include "netlists/files/circuit_file.hpp"
#include "netlists/files/job_file.hpp"
#include "tests/cli/command_line.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/mutated_numbers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

constexpr double longest_answer_seconds = 60;  // of a loaded machine; usually well below one

/// A file with one number typed wrong that still reads.
struct Mutant {
    std::filesystem::path file;
    std::string text;
    std::string line;  ///< as it is now
};

bool still_reads(const std::filesystem::path& file, const std::string& text) {
    if (!file.string().ends_with(".job.toml")) return read_circuit_text(text, file.string()).circuit != nullptr;
    const ScratchFile scratch("x.job.toml", with_circuit_beside(text, file));
    const JobReading reading = read_job_file(scratch.path());
    return reading.job && !reading.problems.has_errors();
}

/// `wanted` mutants, evenly over all that there are.
std::vector<Mutant> sampled(bool jobs, std::size_t wanted) {
    std::vector<Mutant> all;
    for (const std::filesystem::path& file : scenario_files(jobs)) {
        if (jobs && file.parent_path().filename() == "cases") continue;
        const std::string text = file_text(file);
        for (const TypedNumber& number : numbers_of(text)) {
            for (const std::string& wrong : mutations(text, number)) {
                const std::size_t line = text.rfind('\n', number.begin) + 1;
                all.push_back({file, wrong, wrong.substr(line, wrong.find('\n', line) - line)});
            }
        }
    }
    // Numbers and their mutations come in cycles: a stride that shares no factor with them meets each kind.
    constexpr std::size_t stride = 7919;
    std::vector<Mutant> sample;
    for (std::size_t i = 0; i < all.size() && sample.size() < wanted; ++i) {
        const Mutant& mutant = all[i * stride % all.size()];
        if (still_reads(mutant.file, mutant.text)) sample.push_back(mutant);
    }
    REQUIRE(sample.size() == wanted);
    return sample;
}

bool has_no_number(const std::string& text) {
    for (const std::string word : {"nan", "-nan", "inf"}) {
        for (std::size_t at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
            const auto letter = [&](std::size_t i) { return i < text.size() && std::isalpha(text[i]) != 0; };
            if (!letter(at + word.size()) && (at == 0 || !letter(at - 1))) return true;
        }
    }
    return false;
}

void check_answer(const Mutant& mutant, std::vector<std::string> words) {
    const auto start = std::chrono::steady_clock::now();
    const Said said = command_line(words);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
    INFO(mutant.file.filename().string() << ": " << mutant.line << "\n"
                                         << words.front() << ": status " << said.status << "\n"
                                         << said.err << said.out);
    CHECK((said.status == 0 || said.status == 1 || said.status == 3 || said.status == 4));
    CHECK_FALSE(contains(said.err, "bug of ours"));
    CHECK_FALSE(has_no_number(said.out));
    CHECK(seconds < longest_answer_seconds);
}

}  // namespace

TEST_CASE("a circuit with a number typed wrong is answered or refused") {
    for (const Mutant& mutant : sampled(false, 40)) {
        const ScratchFile circuit("x.toml", mutant.text);
        check_answer(mutant, {"whatif", circuit.path()});
        check_answer(mutant, {"check", circuit.path()});
    }
    for (const Mutant& mutant : sampled(false, 6)) {
        const ScratchFile circuit("x.toml", mutant.text);
        check_answer(mutant, {"protect", circuit.path()});
        check_answer(mutant, {"match", circuit.path(), "--read", "key on B1+ to B1- 12.4V"});
    }
}

TEST_CASE("a job with a number typed wrong is answered or refused") {
    for (const Mutant& mutant : sampled(true, 12)) {
        const ScratchFile job("x.job.toml", with_circuit_beside(mutant.text, mutant.file));
        check_answer(mutant, {"match", job.path()});
    }
}
