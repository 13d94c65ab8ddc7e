// A wire list of any bytes is a circuit's text or problems.
#include "netlists/files/wire_list.hpp"
#include "tests/fuzz/fuzzed.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace voltfall;
    const WireList list = read_wire_list("fuzz.csv", fuzz::text_of(data, size));
    fuzz::check_problems(list.problems);
    (void)read_circuit_text(list.text, "fuzz.toml");
    return 0;
}
