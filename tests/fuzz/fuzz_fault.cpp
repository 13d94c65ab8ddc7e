// A fault phrase of any bytes.
#include "netlists/phrases/fault_phrase.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    Problems problems;
    const auto fault = read_fault_phrase(fuzz::phrase_of(data, size), fuzz::bookmobile(), problems);
    fuzz::check_problems(problems);
    // What is not read is never dropped without a word.
    if (!fault && !problems.has_errors()) std::abort();
    if (!fault || problems.has_errors()) return 0;
    Problems again;
    if (!read_fault_phrase(TypedText::argument("again", write_fault(fuzz::bookmobile(), *fault)), fuzz::bookmobile(),
                           again))
        std::abort();
    return 0;
}
