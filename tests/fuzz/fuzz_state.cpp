// A state phrase of any bytes; what is written of it reads as itself.
#include "netlists/phrases/state_phrase.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    Problems problems;
    const auto state = read_state_phrase(fuzz::phrase_of(data, size), fuzz::bookmobile(), problems);
    fuzz::check_problems(problems);
    if (state && !problems.has_errors()) (void)write_state(fuzz::bookmobile(), *state);
    return 0;
}
