// A typed quantity of any bytes: a number of a unit, or none.
#include <cmath>

#include "netlists/text/quantity.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const auto measure = parse_measure(fuzz::text_of(data, size));
    if (!measure) return 0;
    if (!std::isfinite(measure->value)) std::abort();
    (void)write_measure(measure->value, measure->unit);
    return 0;
}
