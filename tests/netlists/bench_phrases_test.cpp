// Tests, faults and readings as they are typed of a circuit that has every kind of part, each with what it means as the
// program writes it, or what is told where it is none.
#include <map>

#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_order.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

struct Row {
    std::string circuit;  ///< "bench", or the name of a starter
    std::string what;     ///< "test", "fault" or "reading"
    std::string typed;
    std::string meant;  ///< several readings are parted by " ;; "; "? words" where it is refused
};

const std::vector<Row> rows{
#include "tests/netlists/bench_phrases.inc"
};

const Circuit& circuit_named(const std::string& name) {
    static std::map<std::string, std::shared_ptr<const Circuit>> read;
    auto& circuit = read[name];
    const std::string folder = name == "bench" ? "/tests/files/" : "/scenarios/starters/";
    if (!circuit) circuit = read_circuit_file(PROJECT_DIR + folder + name + ".toml").circuit;
    INFO(name);
    REQUIRE(circuit);
    return *circuit;
}

std::string test_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    const auto test = read_test_phrase(TypedText::argument("test", in_test_order(typed, circuit)), circuit, problems);
    if (!test || problems.has_errors()) return "? " + all_problems(problems);
    // What is written reads as the same test.
    const std::string written = write_test(circuit, *test);
    Problems none;
    const auto again = read_test_phrase(TypedText::argument("test", written), circuit, none);
    CHECK((again && again->tested == test->tested));
    return written;
}

std::string fault_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    const auto fault =
        read_fault_phrase(TypedText::argument("fault", in_fault_order(typed, circuit)), circuit, problems);
    return fault && !problems.has_errors() ? write_fault(circuit, *fault) : "? " + all_problems(problems);
}

std::string readings_of(const std::string& typed, const Circuit& circuit) {
    std::string text;
    for (const std::string& line : readings_in_line(typed, circuit)) {
        Problems problems;
        const auto reading = read_reading_phrase(TypedText::argument("reading", line), "1", circuit, problems);
        if (!reading || problems.has_errors()) return "? " + all_problems(problems);
        text += (text.empty() ? "" : " ;; ") + write_reading(circuit, *reading);
    }
    return text;
}

void check_all(const std::string& what, std::string (*meaning)(const std::string&, const Circuit&)) {
    std::size_t count = 0;
    for (const Row& row : rows) {
        if (row.what != what) continue;
        ++count;
        INFO(row.circuit << ": " << row.typed);
        const std::string found = meaning(row.typed, circuit_named(row.circuit));
        INFO(found);
        if (row.meant.starts_with("? "))
            CHECK((found.starts_with("? ") && found.find(row.meant.substr(2)) != std::string::npos));
        else
            CHECK(found == row.meant);
    }
    CHECK(count > 50);
}

}  // namespace

TEST_CASE("a test that is asked for is what it means, or its message says what it lacks") {
    check_all("test", test_of);
}

TEST_CASE("a fault of any kind of part is the catalogue's, or its message says what may be") {
    check_all("fault", fault_of);
}

TEST_CASE("a reading of any kind of part is what it means, or its message says what it lacks") {
    check_all("reading", readings_of);
}
