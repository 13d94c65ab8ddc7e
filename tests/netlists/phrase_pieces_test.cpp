// What readings, states and lines are compared and told by: values, words of loads, forms of a circuit, patterns.
#include <fmt/format.h>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/load_words.hpp"
#include "netlists/phrases/parses.hpp"
#include "netlists/phrases/phrase_forms.hpp"
#include "netlists/phrases/place_pattern.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/state_words.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/phrases/values.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::shared_ptr<const Circuit> circuit_file(const std::string& name) {
    return read_circuit_file(PROJECT_DIR "/tests/files/" + name + ".toml").circuit;
}

bool alike(const std::string& one, const std::string& other) {
    return same_measurement(reading_of(one).measurement, reading_of(other).measurement);
}

/// The forms of a list that the circuit has, with its names.
std::vector<std::string> forms_of(std::span<const PhraseForm> forms, const Circuit& circuit) {
    std::vector<std::string> own;
    for (const PhraseForm& form : forms) {
        if (const auto text = form_of_circuit(form, circuit)) own.push_back(*text);
    }
    return own;
}

bool any_begins(const std::vector<std::string>& forms, std::string_view with) {
    return std::any_of(forms.begin(), forms.end(), [&](const std::string& form) { return form.starts_with(with); });
}

}  // namespace

TEST_CASE("two values are the same where their bounds, unit, last digit and marks are, however they are written") {
    const auto value = [](const std::string& text) { return measured<VoltsReading>("hi M1.1 " + text).value; };
    CHECK(value("10.3V") == value("10.3 V"));
    CHECK(value("10.3V") == value("10,3V"));
    CHECK_FALSE(value("10-12V") == value("11-12V"));
    CHECK_FALSE(value("10-12V") == value("10-13V"));
    CHECK_FALSE(value("10.3V") == value("10.30V"));
    CHECK_FALSE(value("12V") == value("~12V"));
    ReadValue ohms = value("12V");
    ohms.unit = Unit::ohm;
    CHECK_FALSE(value("12V") == ohms);
    ReadValue open = value("12V");
    open.open = true;
    CHECK_FALSE(value("12V") == open);
}

TEST_CASE("two measurements are the same where what was tested and all that was seen are") {
    CHECK(alike("fuse F7 blown at hi after 2min", "fuse F7 blown at hi after 120s"));
    CHECK_FALSE(alike("fuse F7 blown", "fuse F12 blown"));
    CHECK_FALSE(alike("fuse F7 blown", "fuse F7 missing"));
    CHECK_FALSE(alike("fuse F7 blown at hi", "fuse F7 blown at lo"));
    CHECK_FALSE(alike("fuse F7 blown at hi after 2min", "fuse F7 blown at hi after 5min"));
    CHECK_FALSE(alike("M1.1 to B1- 12V", "clamp 542 12A"));
    CHECK(alike("M1.1 duty 35% 400Hz", "M1.1 duty 35% 400Hz"));
    CHECK_FALSE(alike("M1.1 duty 35% 400Hz", "M1.1 duty 40% 400Hz"));
    CHECK_FALSE(alike("M1.1 duty 35% 400Hz", "M1.1 duty 35% 200Hz"));
    CHECK_FALSE(state_of("earlier hi") == state_of("hi"));
    CHECK_FALSE(state_of("sometimes hi") == state_of("hi"));
    CHECK(state_of("hi, after 2min") == state_of("after 120s, hi"));
    CHECK(state_of("").empty());
    for (const char* some : {"hi", "key on", "unplug C303", "pull F7", "after 10min", "earlier", "sometimes", "cold"}) {
        INFO(some);
        CHECK_FALSE(state_of(some).empty());
    }
}

TEST_CASE("ok says that a load does what it should, and a word that no reading keeps has no row") {
    CHECK(load_word_here(LoadKind::motor, "ok", true) == "normal");
    CHECK(load_word_here(LoadKind::motor, "ok", false) == "dead");
    CHECK(load_word_here(LoadKind::motor, "slow", true) == "slow");
    CHECK(load_word_here(LoadKind::motor, "slow", false) == "glows");
    CHECK(find_load_word("ok") == nullptr);
    CHECK(find_load_word("purple") == nullptr);
    REQUIRE(find_load_word("slow"));
    // What is no load of a kind is asked for as any other load is.
    const auto of_none = load_words_of(LoadKind::none);
    const auto of_heater = load_words_of(LoadKind::heater);
    CHECK(std::equal(of_none.begin(), of_none.end(), of_heater.begin(), of_heater.end()));
}

TEST_CASE("the forms that a circuit is told have its names, and leave out what it does not have") {
    const auto key_only = circuit_file("key-only");
    REQUIRE(key_only);
    const auto readings = forms_of(reading_forms(), *key_only);
    CHECK(any_begins(readings, "L1.1 to B1- 10.3V"));
    CHECK(any_begins(readings, "fuse F1 good"));
    CHECK_FALSE(any_begins(readings, "relay"));
    CHECK_FALSE(any_begins(readings, "command"));
    // The key is set by its own phrase, and nothing else is set here.
    const auto states = forms_of(state_forms(), *key_only);
    CHECK(any_begins(states, "key off"));
    CHECK_FALSE(any_begins(states, "KEY1"));
    CHECK_FALSE(any_begins(forms_of(fault_forms(), *key_only), "KEY1 stuck"));

    const auto sensor = circuit_file("sensor");
    REQUIRE(sensor);
    CHECK_FALSE(any_begins(forms_of(reading_forms(), *sensor), "M1"));
    CHECK_FALSE(any_begins(forms_of(reading_forms(), *sensor), "clamp 1 12.1A; clamp 1 inrush 78A; M"));
    const auto twins = circuit_file("twins");
    REQUIRE(twins);
    CHECK(any_begins(forms_of(reading_forms(), *twins), "command Z1 2.3V"));
    const PhraseForm unknown{"{purple}", "", ""};
    CHECK_FALSE(form_of_circuit(unknown, *twins));
}

TEST_CASE("a position that may be a unit nobody reads in, or a number, is a position without a note") {
    for (const char* name : {"odd-names", "key-only", "twins"}) {
        const auto circuit = circuit_file(name);
        REQUIRE(circuit);
        Problems problems;
        note_doubtful_positions(*circuit, problems);
        INFO(name << all_problems(problems));
        CHECK(problems.list().empty());
    }
    // `V` stands behind a number as its unit.
    const auto doubtful = cab_blower_with("off lo=1 ml=2 mh=3 hi=4", "off lo=1 V=2 mh=3 hi=4");
    Problems problems;
    note_doubtful_positions(*doubtful, problems);
    REQUIRE(problems.list().size() == 1);
    CHECK(problems.list().front().message.starts_with("position 'V'"));
}

TEST_CASE("an empty pattern means no fault, and one that looks with the nose is no test of a bench") {
    const Circuit& circuit = cab_blower();
    for (const ModePtr& mode : circuit.modes) {
        CHECK_FALSE(matches_place_pattern(circuit, "", *mode));
        CHECK_FALSE(matches_place_pattern(circuit, "  ", *mode));
    }
    CHECK_FALSE(is_bench_test(SmellTest{"M1"}));
    CHECK_FALSE(is_bench_test(AirTest{}));
    CHECK(is_bench_test(FuseTest{circuit.find_part("F7")}));
    CHECK(is_bare_answer(" 12.3 "));
    CHECK_FALSE(is_bare_answer(""));
    CHECK_FALSE(is_bare_answer("12.3 V"));
}

TEST_CASE("a missing value is told behind the words before it, and only where the phrase ends there") {
    Problems problems;
    const TypedText phrase = typed("hi clamp 542");
    WordReader words(phrase, problems);
    CHECK(behind_last_words(words).empty());
    words.take();
    CHECK(behind_last_words(words).empty());
    while (!words.at_end()) words.take();
    CHECK(behind_last_words(words) == " behind 'hi clamp 542'");
    const TypedText nothing = typed("");
    CHECK(behind_last_words(WordReader(nothing, problems)).empty());
    CHECK(begins_measurement(phrase, 1));
    CHECK_FALSE(begins_measurement(phrase, 2));
    CHECK_FALSE(begins_measurement(phrase, 3));
}

TEST_CASE("what reads two ways is written with the control where a setting is in it, else as the file names things") {
    CHECK(way_out(state_of("hi"), cab_blower()) == "write S1=hi for the setting");
    CHECK(way_out(state_of("key on"), cab_blower()) == "write the names as the file does");
}
