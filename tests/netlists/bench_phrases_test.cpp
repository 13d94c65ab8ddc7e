// Tests, faults and readings as they are typed of a circuit that has every kind of part, each with what it means as the
// program writes it, or what is told where it is none.
#include <fmt/format.h>

#include <filesystem>
#include <map>

#include "netlists/phrases/action_phrase.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/reading_order.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/several_readings.hpp"
#include "netlists/phrases/state_phrase.hpp"
#include "netlists/phrases/test_order.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/answers.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

struct Row {
    std::string circuit;  ///< one of tests/files, a starter's name, or a folder and a name among the scenarios
    std::string what;     ///< what it is read as: "test", "fault", "typed fault" (in no other order), "reading" …
    std::string typed;    ///< of an answer: "the test|the answer"
    std::string meant;    ///< several readings are parted by " ;; "; "? words" where it is refused
};

const std::vector<Row> rows{
#include "tests/netlists/bench_phrases.inc"
#include "tests/netlists/odd_phrases.inc"
};

const Circuit& circuit_named(const std::string& name) {
    static std::map<std::string, std::shared_ptr<const Circuit>> read;
    auto& circuit = read[name];
    const std::string own = PROJECT_DIR "/tests/files/" + name + ".toml";
    const std::string folder = name.find('/') == std::string::npos ? "/scenarios/starters/" : "/scenarios/";
    if (!circuit)
        circuit = read_circuit_file(std::filesystem::exists(own) ? own : PROJECT_DIR + folder + name + ".toml").circuit;
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

std::string typed_fault_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    const auto fault = read_fault_phrase(TypedText::argument("fault", typed), circuit, problems);
    return fault && !problems.has_errors() ? write_fault(circuit, *fault) : "? " + all_problems(problems);
}

std::string fault_of(const std::string& typed, const Circuit& circuit) {
    return typed_fault_of(in_fault_order(typed, circuit), circuit);
}

std::string state_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    const auto state = read_state_phrase(TypedText::argument("state", typed), circuit, problems);
    return state ? write_state(circuit, *state) : "? " + all_problems(problems);
}

struct ActionWords {
    const Circuit& circuit;
    std::string operator()(const Test& test) const { return "test " + write_test(circuit, test); }
    std::string operator()(const TurnControls& turn) const { return "turn " + write_state(circuit, turn.state); }
    std::string operator()(const FitPart& fit) const {
        return "fit " + circuit.part(fit.part).name + (fit.amps ? fmt::format(" {}", *fit.amps) : "");
    }
    std::string operator()(const RepairPlace& repair) const { return "repair " + repair.place; }
    std::string operator()(const SayNothing&) const { return "nothing"; }
};

std::string action_of(const std::string& typed, const Circuit& circuit) {
    Problems problems;
    const auto action = read_action_phrase(TypedText::argument("line", typed), circuit, problems);
    return action ? std::visit(ActionWords{circuit}, action->what) : "? " + all_problems(problems);
}

std::string answer_of(const std::string& typed, const Circuit& circuit) {
    const auto bar = typed.find('|');
    return kept_answer(circuit, typed.substr(0, bar), typed.substr(bar + 1));
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
    CHECK(count >= 10);
}

}  // namespace

TEST_CASE("a test that is asked for is what it means, or its message says what it lacks") {
    check_all("test", test_of);
}

TEST_CASE("a fault of any kind of part is the catalogue's, or its message says what may be") {
    check_all("fault", fault_of);
    check_all("typed fault", typed_fault_of);
}

TEST_CASE("a state, an action of a bench and an answer to a test are what they mean, or their message says why not") {
    check_all("state", state_of);
    check_all("action", action_of);
    check_all("answer", answer_of);
}

TEST_CASE("a reading of any kind of part is what it means, or its message says what it lacks") {
    check_all("reading", readings_of);
}
