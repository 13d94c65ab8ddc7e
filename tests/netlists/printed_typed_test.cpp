// What is printed can be typed: states, tests, readings and faults of circuits whose positions and parts have nasty
// names (a position called `1`, `hot` or `open`, a part called like a position) read as what they were written from.
#include <random>

#include "engine/solve/state.hpp"
#include "netlists/phrases/fault_phrase.hpp"
#include "netlists/phrases/leads.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/loads.hpp"
#include "netlists/phrases/phrase_forms.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/phrase_circuits.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const std::vector<std::string> position_names{"1",    "2",    "hot", "open", "cool", "start", "off",   "on",   "lo",
                                              "hi",   "lamp", "fan", "run",  "dead", "slow",  "wet",   "A",    "V",
                                              "feed", "M1",   "m1",  "key",  "to",   "new",   "after", "look", "OL"};
const std::vector<std::string> part_names{"M1",  "m2",   "hi", "HOT", "Lo",   "L1",
                                          "on1", "Cool", "X",  "1S",  "Open", "FAN2"};

class Drawn {
public:
    explicit Drawn(unsigned seed) : random_(seed) {}

    std::size_t below(std::size_t end) { return std::uniform_int_distribution<std::size_t>(0, end - 1)(random_); }
    std::string one_of(std::vector<std::string>& from) {
        const std::size_t at = below(from.size());
        std::string taken = from[at];
        from.erase(from.begin() + static_cast<std::ptrdiff_t>(at));
        return taken;
    }

private:
    std::mt19937 random_;
};

/// A battery, two switches of nasty positions, a motor and a lamp of nasty names, a relay, a plug and a connector.
std::string nasty_text(unsigned seed) {
    Drawn drawn(seed);
    std::vector<std::string> parts = part_names;
    std::vector<std::string> positions = position_names;
    const std::string motor = drawn.one_of(parts);
    const std::string lamp = drawn.one_of(parts);
    const std::string first = drawn.below(3) == 0 ? drawn.one_of(parts) : "S6";
    const std::string a = drawn.one_of(positions);
    const std::string b = drawn.one_of(positions);
    const std::string c = drawn.one_of(positions);
    const std::string rest = drawn.below(2) == 0 ? "off" : "0";
    const bool two = drawn.below(2) == 0;
    std::string text =
        "format = 1\nname = \"nasty\"\n[parts]\nB1 = \"battery 12.6V 8mohm, charging 14.2V\"\n"
        "F1 = \"fuse 30A regular, feed 30\"\nF2 = \"fuse 10A mini, feed 15\"\n\"" +
        motor + "\" = \"motor 10A @13.5V, 3500rpm, stall 40A\"\n\"" + lamp + "\" = \"lamp 5W\"\n\"" + first +
        "\" = \"switch C: " + rest + " " + a + "=1 " + b + "=2\"\n" +
        (two ? "S7 = \"switch C: off " + c + "=1\"\n" : std::string()) +
        "K1 = \"relay 40A, coil 90ohm\"\nC9 = \"connector, 4 way\"\nG1 = \"ground\"\n[plugs]\n\"" + motor +
        "\" = \"C5\"\n[wires]\n11 = \"F1.2 > K1.30 4mm2 RD 1m\"\n12 = \"K1.87 > C9.1 > " + motor +
        ".1 4mm2 RD 1m 1m\"\n13 = \"" + motor + ".2 > G1 4mm2 BK 1m\"\n14 = \"F2.2 > " + first +
        ".C 1mm2 RD 1m\"\n15 = \"" + first + ".1 > K1.86 1mm2 GN 1m\"\n16 = \"K1.85 > G1 1mm2 BK 1m\"\n17 = \"" +
        first + ".2 > " + lamp + ".1 1mm2 YE 1m\"\n18 = \"" + lamp + ".2 > G1 1mm2 BK 1m\"\n" +
        (two ? "19 = \"F2.2 > S7.C 1mm2 RD 1m\"\n20 = \"S7.1 > " + lamp + ".1 1mm2 RD 1m\"\n" : std::string()) +
        "[controls]\n\"" + first + "\" = \"blower\"\n" + (two ? "S7 = \"lights\"\n" : std::string());
    return text;
}

void check_state(const Circuit& circuit, const State& state) {
    Problems problems;
    const auto read = read_state_phrase(TypedText::argument("state", state.label), circuit, problems);
    INFO(state.label << "\n" << all_problems(problems));
    REQUIRE(read);
    CHECK(states_of(circuit, *read).front() == state);
}

void check_test(const Circuit& circuit, const Test& test) {
    const std::string phrase = write_test(circuit, test);
    Problems problems;
    const auto read = read_test_phrase(TypedText::argument("test", phrase), circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(read);
    CHECK(*read == test);
}

void check_reading(const Circuit& circuit, const StatePhrase& state, Measurement measurement) {
    Reading reading;
    reading.state = state;
    reading.measurement = std::move(measurement);
    const std::string phrase = write_reading(circuit, reading);
    Problems problems;
    const auto read = read_reading_phrase(TypedText::argument("reading", phrase), "1", circuit, problems);
    INFO(phrase << "\n" << all_problems(problems));
    REQUIRE(read);
    CHECK(read->state == reading.state);
    CHECK(same_measurement(read->measurement, reading.measurement));
}

void check_loads(const Circuit& circuit, const StatePhrase& state) {
    for (const PartId load : loads_of(circuit)) {
        const LoadKind kind = load_kind_of(circuit.part(load));
        check_test(circuit, {state, LoadTest{load, {}}});
        for (const std::string_view word : load_words_of(kind))
            check_reading(circuit, state, LoadReading{{load, {}}, std::string(word)});
        const JointId pin = circuit.part(load).pins.begin()->second;
        check_test(circuit, {state, VoltsTest{{point_at(circuit, pin), point_at(circuit, circuit.reference)}, {}}});
        check_test(circuit, {state, LampTest{{point_at(circuit, pin), point_at(circuit, circuit.reference)}}});
    }
}

void check_forms(const Circuit& circuit) {
    for (const PhraseForm& form : reading_forms()) {
        const auto typed = form_of_circuit(form, circuit);
        if (!typed) continue;
        for (const std::string& phrase : choices_of(*typed)) {
            Problems problems;
            INFO(phrase);
            const auto read = read_reading_phrase(TypedText::argument("reading", phrase), "1", circuit, problems);
            INFO(all_problems(problems));
            CHECK(read);
        }
    }
    for (const PhraseForm& form : state_forms()) {
        const auto typed = form_of_circuit(form, circuit);
        if (!typed) continue;
        for (const std::string& phrase : choices_of(*typed)) {
            Problems problems;
            INFO(phrase);
            CHECK(read_state_phrase(TypedText::argument("state", phrase), circuit, problems));
            INFO(all_problems(problems));
        }
    }
    for (const PhraseForm& form : fault_forms()) {
        const auto typed = form_of_circuit(form, circuit);
        if (!typed) continue;
        for (const std::string& phrase : choices_of(*typed)) {
            Problems problems;
            INFO(phrase);
            CHECK(read_fault_phrase(TypedText::argument("fault", phrase), circuit, problems));
        }
    }
}

}  // namespace

TEST_CASE("states, tests, readings and faults of circuits with nasty names read as what they were written from") {
    std::size_t circuits = 0;
    for (unsigned seed = 1; circuits < 300; ++seed) {
        REQUIRE(seed < 2000);
        const std::string text = nasty_text(seed);
        const CircuitReading reading = read_circuit_text(text, "nasty.toml");
        if (!reading.circuit || reading.problems.has_errors()) continue;
        INFO(text);
        const Circuit& circuit = *reading.circuit;
        ++circuits;
        for (const State& state : default_states(circuit)) check_state(circuit, state);
        for (const StatePhrase& state : default_phrases(circuit)) check_loads(circuit, state);
        for (const ModePtr& mode : circuit.modes) {
            if (!mode->catalogued) continue;
            Problems problems;
            const auto read = read_fault_phrase(TypedText::argument("fault", mode->phrase()), circuit, problems);
            INFO(mode->phrase() << "\n" << all_problems(problems));
            REQUIRE(read);
            CHECK(read->mode->phrase() == mode->phrase());
        }
    }
}

TEST_CASE("every form that the help shows reads, with the names of the circuit at hand") {
    check_forms(cab_blower());
    check_forms(two_controls());
    for (unsigned seed = 1; seed < 40; ++seed) {
        const CircuitReading reading = read_circuit_text(nasty_text(seed), "nasty.toml");
        if (!reading.circuit || reading.problems.has_errors()) continue;
        INFO(nasty_text(seed));
        check_forms(*reading.circuit);
    }
}

TEST_CASE("a position stands alone only where its word is nothing else") {
    const auto state_of_position = [](const std::string& position) {
        const auto circuit = circuit_of(
            "format = 1\n[parts]\nB1 = \"battery 12.6V\"\nF1 = \"fuse 10A, feed 30\"\n"
            "S6 = \"switch C: off " +
            position +
            "=1\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n"
            "11 = \"F1.2 > S6.C 1mm2 RD 1m\"\n12 = \"S6.1 > L1.1 1mm2 RD 1m\"\n"
            "13 = \"L1.2 > G1 1mm2 BK 1m\"\n[controls]\nS6 = \"lights\"\n");
        return default_states(*circuit).back().label;
    };
    CHECK(state_of_position("high") == "high");
    for (const std::string nasty : {"hot", "1", "2", "open", "cool", "start", "L1", "lamp"})
        CHECK(state_of_position(nasty) == (nasty == "start" ? "start" : "S6=" + nasty));
}
