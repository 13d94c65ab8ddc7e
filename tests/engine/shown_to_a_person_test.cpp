// What instruments show and people notice: accuracies as makers print them, displays, senses, and a technician without
// error at a vehicle with a known fault.
#include <cmath>

#include "engine/readings/care.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "engine/readings/triggers.hpp"
#include "netlists/phrases/load_words.hpp"
#include "tests/support/exercises.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"

using namespace voltfall;
using namespace voltfall::testing;
using voltfall::testing::test_of;

namespace {

/// What the bookmobile's technician finds with that fault in the cab blower.
tl::expected<Measured, CannotMeasure> found_with(const std::string& fault, const std::string& test) {
    Technician technician = voltfall::testing::exact(cab_blower(), faults_named(cab_blower(), fault));
    return technician.measure(test_of(cab_blower(), test));
}

std::string shown_with(const std::string& fault, const std::string& test) {
    const auto measured = found_with(fault, test);
    INFO(fault << ": " << test);
    REQUIRE(measured);
    return measured->shown;
}

LoadState load_at(double volts, double amps, LoadSeen seen = LoadSeen::normal) {
    return {volts, amps, {}, seen};
}

}  // namespace

TEST_CASE("an accuracy is read with blanks too, and what is not understood adds nothing") {
    const struct {
        const char* text;
        double relative, digits, absolute;
    } rows[] = {{"0.8%+3digits", 0.008, 3, 0},
                {"0.8% + 3digits", 0.008, 3, 0},
                {"  0.8% + ", 0.008, 0, 0},
                {"2.5%+0.3A", 0.025, 0, 0.3},
                {"good+3digits", 0, 3, 0},
                {"0.8%+3furlongs", 0.008, 0, 0},
                {"1%+2digits+0.15ohm leads", 0.01, 2, 0.15}};
    for (const auto& [text, relative, digits, absolute] : rows) {
        INFO(text);
        const Accuracy accuracy = read_accuracy(text);
        CHECK(accuracy.relative == Approx(relative));
        CHECK(accuracy.digits == Approx(digits));
        CHECK(accuracy.absolute == Approx(absolute));
    }
}

TEST_CASE("a tool without figures is the usual one, one with figures of its own has those") {
    const Accuracy usual = accuracy_of(Instrument::meter, {});
    CHECK(accuracy_of(Instrument::meter, {{"meter"}}).relative == usual.relative);
    CHECK(accuracy_of(Instrument::meter, {{"clamp", 0.5}}).relative == usual.relative);
    CHECK(accuracy_of(Instrument::meter, {{"meter", 0.02}}).relative == 0.02);
    const Accuracy absolute = accuracy_of(Instrument::clamp, {{"clamp", 0, 0.7}});
    CHECK(absolute.absolute == 0.7);
    CHECK(absolute.relative == 0);
}

TEST_CASE("displays: a hand tells three warmths, a fuse half amperes, and ohms from 400 on have three digits") {
    CHECK(warmth_displayed(1).text == "cold");
    CHECK(warmth_displayed(20).text == "warm");
    CHECK(warmth_displayed(70).text == "hot");
    CHECK(rating_displayed(7.5).text == "7.5A");
    CHECK(rating_displayed(20).text == "20A");
    CHECK(as_words(ohms_displayed(2.24)) == "2.2 ohm");
    CHECK(as_words(ohms_displayed(472)) == ohms_displayed(472).text);
    CHECK(as_words(volts_displayed(10.2, 0.01)) == "10.20 V");
    CHECK(as_words(overload_displayed()) == "OL (open)");
    ReadValue bare;
    bare.text = "12.6";
    CHECK(as_words(bare) == "12.6");
}

TEST_CASE("a minute of running makes nothing hot, a quarter of an hour does; what comes by itself has no word") {
    CHECK(condition_made(state_of("hi, after 20min")) == Trigger::heat);
    CHECK_FALSE(condition_made(state_of("hi, after 30s")));
    CHECK_FALSE(condition_made(state_of("hi")));
    CHECK(condition_made(state_of("cold, hi, after 20min")) == Trigger::cold);
    CHECK(condition_word(Trigger::itself).empty());
    for (const Trigger trigger : all_triggers)
        if (trigger != Trigger::itself)
            CHECK(condition_made(state_of(std::string(condition_word(trigger)) + ", hi")) == trigger);
}

TEST_CASE("what a person says of lamps, heaters and clutches") {
    const auto said = [](LoadKind kind, const LoadState& now, const LoadState& sound) {
        return load_word(usual_senses(), kind, now, sound);
    };
    const LoadState off = load_at(0, 0, LoadSeen::off);
    // A lamp that is lit though nobody switched it on is "lit", which tells that it runs unwanted.
    const std::string lit = said(LoadKind::lamp, load_at(12, 1.7), off);
    CHECK(load_word_said(LoadKind::lamp, lit) == "lit");
    CHECK(load_word_here(LoadKind::lamp, lit, false) == "runs");
    // A third of the volts is a twentieth of a lamp's light and a ninth of a heater's watts.
    CHECK(said(LoadKind::lamp, load_at(4, 0.8), load_at(12, 1.7)) == "weak");
    CHECK(said(LoadKind::heater, load_at(4, 1), load_at(12, 3)) == "weak");
    CHECK(said(LoadKind::heater, load_at(11, 2.8), load_at(12, 3)) == "normal");
    CHECK(said(LoadKind::heater, load_at(12, 3), off) == "runs");
    CHECK(said(LoadKind::heater, off, load_at(12, 3)) == "dead");
    CHECK(said(LoadKind::none, load_at(4, 1), load_at(12, 3)) == "weak");
    for (const LoadKind kind : {LoadKind::lamp, LoadKind::motor, LoadKind::heater})
        CHECK(said(kind, load_at(3, 0.2, kind == LoadKind::motor ? LoadSeen::creeps : LoadSeen::glows), off) ==
              "glows");
    CHECK(said(LoadKind::clutch, load_at(12, 3.3), load_at(12, 3.3)) == "normal");
    CHECK(said(LoadKind::clutch, load_at(5, 1.4, LoadSeen::dead), load_at(12, 3.3)) == "dead");
}

TEST_CASE("a new fuse is watched: a short takes it at once, a held rotor after seconds, a sound circuit not at all") {
    CHECK(shown_with("542 chafe 5mohm", "new F7, key run, hi  fuse F7") == "blown at once");
    const auto held = found_with("M1 seized", "new F7, key run, hi  fuse F7");
    REQUIRE(held);
    // As the course of the same fault has it.
    const CourseResult course =
        run_course(solver(), cab_blower(), state_named(cab_blower(), "hi"), faults_named(cab_blower(), "M1 seized"));
    REQUIRE(course);
    REQUIRE_FALSE(course->aftermath.empty());
    const double seconds = course->aftermath.front().seconds;
    REQUIRE(seconds > 2);
    CHECK(held->shown == "blown after " + std::to_string(std::lround(seconds)) + " s");
    CHECK(shown_with("M1 open", "new F7, key run, hi  fuse F7") == "holds");
    CHECK(shown_with("542 chafe 5mohm", "new F12, key run, hi  fuse F12") == "holds");
    // The second new one goes as the first did.
    Technician technician = voltfall::testing::exact(cab_blower(), faults_named(cab_blower(), "542 chafe 5mohm"));
    for (int i = 0; i < 2; ++i) {
        const auto again = technician.measure(test_of(cab_blower(), "new F7, key run, hi  fuse F7"));
        REQUIRE(again);
        CHECK(again->shown == "blown at once");
    }
    CHECK(technician.vehicle().opened.size() == 1);
}

TEST_CASE("an empty seat, a lamp between dead wires, an open part and a warm plug are found as they are") {
    CHECK(shown_with("F7 missing", "fuse F7") == "missing: its seat is empty");
    CHECK(shown_with("M1 open", "off, unplug C304  ohms M1.1 to M1.2") == "OL (open)");
    CHECK(found_with("M1 open", "off, unplug C304  ohms M1.1 to M1.2")->is_open());
    CHECK_FALSE(found_with("M1 open", "off, unplug C303  ohms R1.1 to R1.4")->is_open());
    CHECK_FALSE(found_with("M1 open", "fuse F7")->is_open());
    CHECK(shown_with("M1 open", "hi, unplug C101, unplug C304  lamp C101.4@542 to C304.1@542") == "dark");
    CHECK(found_with("M1 open", "hi, unplug C101, unplug C304  clamp 542")->truth == Approx(0).margin(1e-6));
    // 0.3 ohm in C101.4 make some 47 W on high.
    CHECK(shown_with("C101.4 resistance 0.3ohm", "key run, hi  C101 feels") == "hot");
    CHECK(shown_with("M1 open", "key run, hi  C101 feels") == "cold");
    for (std::uint64_t seed = 1; seed < 5; ++seed) {
        // A hand that is wrong by half or twice feels the same there.
        Technician hand(solver(), Vehicle{&cab_blower(), faults_named(cab_blower(), "C101.4 resistance 0.3ohm"), {}},
                        drawn_meters(seed), usual_tools());
        const auto felt = hand.measure(test_of(cab_blower(), "key run, hi  C101 feels"));
        REQUIRE(felt);
        CHECK(felt->shown == "hot");
    }
}

TEST_CASE("what cannot be measured is said why") {
    const auto why = [](const std::string& test) {
        const auto measured = found_with("M1 open", test);
        REQUIRE_FALSE(measured);
        return measured.error().why;
    };
    CHECK(why("hi  C101 temp") == "this bench has no instrument for it");
    CHECK(why("hi  M1.1 to ?") == "both leads must stand somewhere");
}

TEST_CASE("a test lamp of few watts is lit where a greater one is not") {
    // Through the 90 ohm of a relay's coil 14 V leave a lamp of 1 W most of its volts, one of 21 W nearly none.
    const auto lamp = [](double watts) {
        std::vector<Tool> tools{{"meter"}, {"lamp", 0, 0, 0, watts}};
        Technician technician(solver(), Vehicle{&cab_blower(), faults_named(cab_blower(), "804 open"), {}},
                              exact_meters(), tools);
        const auto measured = technician.measure(test_of(cab_blower(), "key run, hi  lamp K3.85 to B1-"));
        REQUIRE(measured);
        return measured->truth;
    };
    CHECK(lamp(0.5) > 3 * lamp(21));
    CHECK(lamp(0) < lamp(0.5));
}

TEST_CASE("a lead on the battery's post always touches") {
    MeterErrors errors = exact_meters();
    errors.untouched_share = 1;
    for (const char* test : {"key run, hi  B1+ to B1-", "key run, hi  B1- to M1.1"}) {
        INFO(test);
        Technician technician(solver(), Vehicle{&cab_blower(), {}, {}}, errors, usual_tools());
        const auto measured = technician.measure(test_of(cab_blower(), test));
        REQUIRE(measured);
        CHECK_FALSE(measured->untouched);
        CHECK(std::abs(measured->truth) > 13);
    }
}

TEST_CASE("a system without a healthy figure is well where its contacts rest, half as far again or 20 K off") {
    const auto well = [](const std::string& contact, const std::string& read) {
        const auto circuit = circuit_of(
            "format = 1\n[parts]\nB1 = \"battery 12.6V 8mohm\"\nF1 = \"fuse 10A mini, feed "
            "30\"\nP1 = \"contact " +
            contact +
            "\"\nL1 = \"lamp 21W\"\nG1 = \"ground\"\n[wires]\n1 = \"F1.2 > P1.1 1mm2 RD "
            "1m\"\n2 = \"P1.2 > L1.1 1mm2 RD 1m\"\n3 = \"L1.2 > G1 1mm2 BK 1m\"\n");
        return quantity_found(*circuit, measured<QuantityReading>("P1 " + read, *circuit), {});
    };
    CHECK(well("opens 2.0bar, closes 2.2bar, low pressure", "pressure 1bar") == Approx(1.5 * 2.2e5));
    CHECK(well("opens 30bar, closes 22bar, high pressure", "pressure 1bar") == Approx(0.5 * 22e5));
    CHECK(well("opens 110C, closes 100C", "temp 20C") == Approx(80));
    CHECK(well("opens 5C, closes 10C", "temp 20C") == Approx(30));
    CHECK(well("opens 2.0bar, closes 2.2bar, healthy 5bar, low pressure", "pressure 1bar") == Approx(5e5));
}

TEST_CASE("a line of the history speaks of the place that it names, not of one whose name holds it") {
    const auto words = [](const std::string& line) {
        Job job;
        job.history = {line};
        return care_words(cab_blower(), job, "F7");
    };
    CHECK(words("f7 got wet last week") == std::vector<std::string>{"wet"});
    CHECK(words("the box with F7, wet") == std::vector<std::string>{"wet"});
    CHECK(words("F70 got wet").empty());
    CHECK(words("XF7 got wet").empty());
    CHECK(words("F12 got wet").empty());
}
