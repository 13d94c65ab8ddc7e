// What meters show and log, as it is pasted into a reading.
#include <utility>

#include "netlists/phrases/meter_text.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/short_answer.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/support/answers.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/scenario.hpp"

using namespace voltfall;

namespace {

std::string without(const std::string& phrase) {
    return without_meter_words(phrase).phrase;
}

}  // namespace

TEST_CASE("what a display adds to its number is left out") {
    const std::pair<std::string, std::string> shown[] = {
        {"hi  M1.1 to B1-  12.34 V DC", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  12.34VDC", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  12.34 V DC AUTO HOLD", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  12.34 V HOLD", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  120.4 mV DC", "hi  M1.1 to B1-  120.4mV"},
        {"hi  clamp 542  12.1 A dc ?", "hi  clamp 542  12.1A ?"},
        {"unplug C303  R1.1 to R1.4  0L", "unplug C303  R1.1 to R1.4  OL"},
        {"unplug C303  R1.1 to R1.4  0.L", "unplug C303  R1.1 to R1.4  OL"},
        {"unplug C303  R1.1 to R1.4  OL MΩ  # at noon", "unplug C303  R1.1 to R1.4  OL  # at noon"},
    };
    for (const auto& [typed, kept] : shown) CHECK(without(typed) == kept);
}

TEST_CASE("of a line of a log the first number with its unit is kept") {
    const std::pair<std::string, std::string> logged[] = {
        {"hi  M1.1 to B1-  2026-11-29,10:12:03,12.34,V,DC,AUTO", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  17,2026-11-29 10:12:03,12.34,V,DC", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  29.11.2026;10:12:03;12,34;V;DC", "hi  M1.1 to B1-  12.34V"},
        {"hi  M1.1 to B1-  10:12:03\t1.2340E+01\tVDC", "hi  M1.1 to B1-  12.340V"},
        {"hi  clamp 542  12.4,A,DC", "hi  clamp 542  12.4A"},
        {"unplug C303  R1.1 to R1.4  2026-11-29,10:12:03,OL,MOhm", "unplug C303  R1.1 to R1.4  OL"},
    };
    for (const auto& [typed, kept] : logged) CHECK(without(typed) == kept);
}

TEST_CASE("a reading as the tool writes it stays as it is") {
    for (const char* phrase :
         {"hi, key run  M1.1 to B1-  10.3V", "lo,ml,mh  blower slow", "hi  clamp 542, 12.4 A",
          "fuse F7 blown at hi after 2min", "hi  clamp 840:1  12A", "hi  M1.1 to ?  12V", "C101 rise  60C",
          "look  C101.4 green crust", "fuse F7 is a 20A", "\"door open, 3 V DC\"  M1 dead", "", "?", ",", "#"})
        CHECK(without(phrase) == phrase);
}

TEST_CASE("pasted readings read as the typed ones do, and alternating volts are refused") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto value = [&](const std::string& phrase) {
        Problems problems;
        const auto reading = read_reading_phrase(TypedText::argument("reading", phrase), "1", *circuit, problems);
        return reading && !problems.has_errors() ? write_value(*circuit, reading->measurement) : "none";
    };
    CHECK(value("hi  M1.1 to B1-  12.34 V DC") == value("hi  M1.1 to B1-  12.34V"));
    CHECK(value("hi  M1.1 to B1-  2026-11-29,10:12:03,12.34,V,DC") == value("hi  M1.1 to B1-  12.34V"));
    CHECK(value("unplug C303  R1.1 to R1.4  0L") == value("unplug C303  R1.1 to R1.4  OL"));
    CHECK(value("hi  M1.1 to B1-  0.12 V AC") == "none");
    CHECK(value("hi  M1.1 to B1-  0.12VAC") == "none");
}

TEST_CASE("an answer pasted from a meter is kept as its number") {
    const auto circuit = scenario_circuit("cab-blower.toml");
    const auto answer = [&](const std::string& asked, const std::string& line) {
        return testing::kept_answer(*circuit, asked, line);
    };
    CHECK(answer("hi, key run  M1.1 to B1-", "12.34 V DC") == "hi, key run  M1.1 to B1-  12.34V");
    CHECK(answer("hi, key run  M1.1 to B1-", "3,2026-11-29,10:12:03,12.34,V,DC") == "hi, key run  M1.1 to B1-  12.34V");
    CHECK(answer("unplug C303  ohms R1.1 to R1.4", "0L") == "unplug C303  R1.1 to R1.4  OL");
}

TEST_CASE("text of any length and kind is looked through and left as it is") {
    for (const std::string& part : {std::string(200000, '1'), std::string(200000, ','), std::string(200000, '.'),
                                    std::string(100000, ':') + "V DC", std::string("\xff\xfe 1 V\0DC", 10)})
        CHECK(without(part) == part);
}
