// A reading of any bytes; what is written of it reads again, to the same measurement.
#include "netlists/phrases/reading_phrase.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    Problems problems;
    const auto reading = read_reading_phrase(fuzz::phrase_of(data, size), "1", fuzz::bookmobile(), problems);
    fuzz::check_problems(problems);
    // What is not read is never dropped without a word.
    if (!reading && !problems.has_errors()) std::abort();
    if (!reading || problems.has_errors()) return 0;
    const std::string written = write_reading(fuzz::bookmobile(), *reading);
    Problems again_problems;
    const auto again =
        read_reading_phrase(TypedText::argument("again", written), "1", fuzz::bookmobile(), again_problems);
    if (!again || !same_measurement(again->measurement, reading->measurement)) std::abort();
    return 0;
}
