// A file of results of any bytes behind its first line.
#include <cmath>

#include "engine/lessons/progress_file.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const auto progress = read_progress_text(progress_header() + fuzz::text_of(data, size));
    if (!progress) std::abort();
    for (const SkillRecord& record : progress->records)
        if (!std::isfinite(record.minutes) || record.minutes < 0 || record.tests < 0 || record.runs <= 0) std::abort();
    (void)read_progress_text(fuzz::text_of(data, size));
    return 0;
}
