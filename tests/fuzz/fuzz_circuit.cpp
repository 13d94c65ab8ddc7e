// A circuit file of any bytes is a circuit or problems.
#include "netlists/checks/wiring_sense.hpp"
#include "netlists/circuit/network.hpp"
#include "netlists/spice/deck.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const CircuitReading reading = read_circuit_text(fuzz::text_of(data, size), "fuzz.toml");
    fuzz::check_problems(reading.problems);
    if (!reading.circuit) {
        if (!reading.problems.has_errors()) std::abort();
        return 0;
    }
    fuzz::check_problems(check_wiring(*reading.circuit));
    (void)build_deck(Network(*reading.circuit));
    return 0;
}
