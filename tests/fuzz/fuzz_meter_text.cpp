// What a meter shows or logs, of any bytes: what is kept of it is kept again.
#include "netlists/phrases/meter_text.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const MeterText once = without_meter_words(fuzz::text_of(data, size));
    if (once.phrase.size() > size + 400) std::abort();
    return 0;
}
