// What single words speak for: looks, good parts, probes that say live, smells, fuses beside other fuses.
#include <array>
#include <stdexcept>

#include "engine/readings/word_evidence.hpp"
#include "engine/readings/word_tables.hpp"
#include "netlists/phrases/load_words.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/word_chances.hpp"

using namespace voltfall;
using namespace voltfall::testing;

TEST_CASE("a burst strip speaks of a short, a slumped or melted one of an overload (reference trade 1.1, step 5)") {
    const auto seen = [](const std::string& word, std::optional<double> opened_after, const char* fault = "nothing") {
        return look_probability(cab_blower(), row_called(cab_blower(), fault), {{"F7"}, {word}}, opened_after, 0);
    };
    constexpr double at_once = 0.05;
    constexpr double after_a_while = 20;
    CHECK(seen("burst", at_once) > 5 * seen("burst", after_a_while));
    for (const char* word : {"slumped", "melted"}) {
        INFO(word);
        CHECK(seen(word, after_a_while) > 4 * seen(word, at_once));
    }
    // Nothing has opened it: no strip is seen to have melted.
    CHECK(seen("slumped", std::nullopt) < 0.05);
    // A hairline is what a fuse has that failed by itself.
    CHECK(seen("hairline", std::nullopt, "F7 blown") > 5 * seen("hairline", at_once));
}

TEST_CASE("of the damage that a fault leaves whole words count: crust is no rust") {
    const auto seen = [](const std::string& word) {
        return look_probability(two_controls(), row_called(two_controls(), "P1 resistance"), {{"P1"}, {word}}, {}, 0);
    };
    CHECK(seen("crust") == Approx(seen("burnt")));
    CHECK(seen("rust") < seen("crust") / 2);
}

TEST_CASE("a part that was tested good clears its own faults, and joints only where it is nothing but joints") {
    const struct {
        const char* good;
        const char* cleared;
        const char* left;
    } rows[] = {{"C101 good", "C101.4 open", "542 open"},
                {"R1 good", "R1 coil 1-2 open", "C303.4 open"},
                {"S1 good", "S1 contact lo open", "C305.1 open"},
                {"K3 good", "K3 coil open", "K3.30 open"},
                {"M1 good", "M1 seized", "C304.1 open"}};
    for (const auto& [good, cleared, left] : rows) {
        INFO(good);
        CHECK(word_chance(cab_blower(), {good}, cleared) < 0.1);
        CHECK(word_chance(cab_blower(), {good}, left) > 0.9);
        CHECK(word_chance(cab_blower(), {good}, "nothing") > 0.9);
    }
}

TEST_CASE("a probe that says live or dead tells whether the volts are there") {
    const auto chance = [](const char* word, const char* fault) {
        return word_chance(cab_blower(), {std::string("key run, hi  M1.1 to B1- ") + word}, fault);
    };
    CHECK(chance("live", "nothing") > 0.9);
    CHECK(chance("live", "542 open") < 0.05);
    CHECK(chance("dead", "542 open") > 0.95);
    for (const char* fault : {"nothing", "542 open", "M1 open"})
        CHECK(chance("live", fault) + chance("dead", fault) == Approx(1));
    // A probe that does not touch says dead of what is live, and never live of what is dead.
    CHECK(live_probability(false, 12, 12, 0.1) > live_probability(false, 12, 12, 0) + 0.09);
    CHECK(live_probability(true, 0, 12, 0.1) <= live_probability(true, 0, 12, 0));
}

TEST_CASE("what was smelt has nothing to do with ohms taken with the plug off") {
    const std::string ohms = "off, unplug C303  R1.1 to R1.4 2.3ohm";
    for (const char* fault : {"C303.4 open", "542 open", "M1 seized"}) {
        INFO(fault);
        CHECK(word_chance(cab_blower(), {ohms, "smell C303"}, fault) ==
              Approx(word_chance(cab_blower(), {"smell C303"}, fault)));
    }
    // Beside a reading on high a motor that holds its current up makes the plug smell.
    CHECK(word_chance(cab_blower(), {"hi blower dead", "smell C304"}, "M1 seized") >
          5 * word_chance(cab_blower(), {ohms, "smell C304"}, "M1 seized"));
}

TEST_CASE("one place hotter than another by less than a figure tells of no fault, by a figure it does") {
    const auto chance = [](const char* by, const char* fault, double size) {
        return word_chance(cab_blower(), {std::string("key run, hi  C101 hotter than C304 ") + by}, fault, size);
    };
    CHECK(chance("<25C", "C101.4 resistance", 0.3) == Approx(chance("<25C", "nothing", 0)));
    CHECK(chance("60C", "C101.4 resistance", 0.02) > 2 * chance("60C", "nothing", 0));
}

TEST_CASE("the air of the first motor is told, not that of another one") {
    const auto weak = [](const char* fault) {
        return word_chance(two_controls(), {"key run, S1=hi  air weak"}, fault, 0.5);
    };
    CHECK(weak("M1 blocked-air") > 5 * weak("M2 blocked-air"));
}

TEST_CASE("gaps on a scope speak of the motor that was looked at") {
    CHECK(word_chance(two_controls(), {"ripple M1 gaps"}, "M1 worn-brushes", 3) >
          5 * word_chance(two_controls(), {"ripple M1 gaps"}, "M2 worn-brushes", 3));
}

TEST_CASE("a fuse seen whole beside another that blew nobody knows when speaks against a short behind it") {
    // Who tells of a blown fuse has used every position: 542 on metal would have opened F7 in each.
    CHECK(word_chance(cab_blower(), {"fuse F12 blown", "fuse F7 good"}, "542 chafe") < 0.1);
    CHECK(word_chance(cab_blower(), {"fuse F12 blown", "fuse F7 good"}, "804 open") > 0.9);
    // A reading in a position says the same of that position.
    CHECK(word_chance(cab_blower(), {"hi blower dead", "fuse F7 good"}, "542 chafe") < 0.1);
}

TEST_CASE("a load that has no speed is told by how much it does; a word that no reading keeps is a mistake") {
    const LoadState sound{12, 2, {}, LoadSeen::normal};
    const auto of = [&](LoadSeen seen, const LoadState& beside) { return perceive({12, 2, {}, seen}, beside); };
    CHECK(of(LoadSeen::fast, sound).fast == 1);
    CHECK(of(LoadSeen::weak, sound).slow == 1);
    CHECK(of(LoadSeen::normal, sound).normal == 1);
    CHECK(of(LoadSeen::dead, sound).dead == 1);
    CHECK(of(LoadSeen::glows, {0, 0, {}, LoadSeen::off}).faint == 1);
    CHECK(of(LoadSeen::runs, {0, 0, {}, LoadSeen::off}).runs == 1);
    CHECK_THROWS_AS(load_word_probability("hops", of(LoadSeen::normal, sound)), std::logic_error);
}
