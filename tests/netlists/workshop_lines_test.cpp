// Lines as technicians of several schools type them, written down before the program had seen one: readings and faults
// of circuits that stand among the scenarios, each with what it means as the program writes it.
#include <fstream>
#include <map>

#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

struct Row {
    const char* circuit;  ///< its file among the scenarios
    const char* typed;
    const char* meant;  ///< as the program writes it, several readings parted by " ;; "; "? words" where it is refused
};

const std::vector<Row> readings{
#include "tests/netlists/workshop_readings.inc"
};
const std::vector<Row> faults{
#include "tests/netlists/workshop_faults.inc"
};

const Circuit& scenario(const std::string& name) {
    static std::map<std::string, std::shared_ptr<const Circuit>> read;
    auto& circuit = read[name];
    if (!circuit) circuit = read_circuit_file(std::string(PROJECT_DIR) + "/scenarios/" + name + ".toml").circuit;
    INFO(name);
    REQUIRE(circuit);
    return *circuit;
}

/// What was read; "? " and what was told where nothing was.
std::string reading_of(const Row& row) {
    const Circuit& circuit = scenario(row.circuit);
    std::string text;
    for (const std::string& line : readings_in_line(row.typed, circuit)) {
        Problems problems;
        const auto reading = read_reading_phrase(TypedText::argument("reading", line), "1", circuit, problems);
        if (!reading || problems.has_errors()) return "? " + all_problems(problems);
        text += (text.empty() ? "" : " ;; ") + write_reading(circuit, *reading);
    }
    return text;
}

std::string fault_of(const Row& row) {
    const Circuit& circuit = scenario(row.circuit);
    Problems problems;
    const auto fault =
        read_fault_phrase(TypedText::argument("fault", in_fault_order(row.typed, circuit)), circuit, problems);
    return fault ? write_fault(circuit, *fault) : "? " + all_problems(problems);
}

void check(const Row& row, const std::string& found) {
    const std::string meant = row.meant;
    INFO(row.circuit << ": " << row.typed << "\n" << found);
    if (meant.starts_with("? "))
        CHECK((found.starts_with("? ") && found.find(meant.substr(2)) != std::string::npos));
    else
        CHECK(found == meant);
}

}  // namespace

TEST_CASE("a reading in a technician's own words is taken as what it means, or its message names what is not read") {
    for (const Row& row : readings) check(row, reading_of(row));
}

TEST_CASE("a fault in the trade's words is the catalogue's, or its message names those that it may be") {
    for (const Row& row : faults) check(row, fault_of(row));
}

TEST_CASE("a file's fault is not turned about: its message says how to write it") {
    const auto told = [](const std::string& typed) {
        Problems problems;
        CHECK_FALSE(read_fault_phrase(TypedText::argument("fault", typed), cab_blower(), problems));
        return all_problems(problems);
    };
    CHECK(told("542 broken").find("| write 542 open") != std::string::npos);
    CHECK(told("relay K3 won't pull in").find("write K3 coil open, or K3 contact open") != std::string::npos);
    // A number without a unit may be ohms or thousandths: never guessed.
    CHECK(told("high resistance in 542, 0.2").find("write 0.2ohm or 0.2mohm") != std::string::npos);
}
