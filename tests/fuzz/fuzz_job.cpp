// A job file of any bytes, beside the bookmobile's circuits.
#include "netlists/files/job_file.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    Problems problems;
    const TomlFile file =
        read_toml_text(fuzz::text_of(data, size), PROJECT_DIR "/scenarios/bookmobile/fuzz.job.toml", problems);
    const JobReading reading = read_job(file, problems, fuzz::kept_circuit);
    fuzz::check_problems(reading.problems);
    if (!reading.job && !reading.problems.has_errors()) std::abort();
    return 0;
}
