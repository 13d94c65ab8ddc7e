// A file of results of any bytes behind its first line.
#include "engine/lessons/progress_file.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    if (!read_progress_text(progress_header() + fuzz::text_of(data, size))) std::abort();
    (void)read_progress_text(fuzz::text_of(data, size));
    return 0;
}
