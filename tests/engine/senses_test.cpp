// What a person notices, against published figures of hearing, fans and lamps (each read in an excerpt, not in the
// whole work).
#include "engine/readings/senses.hpp"
#include "engine/readings/word_tables.hpp"
#include "tests/support/catch.hpp"

using namespace voltfall;

// Fan laws, as every fan maker's catalogue has them: half the speed is 15 dB less noise, a tenth more 2 dB more.
TEST_CASE("a fan at half its speed is 15 dB quieter") {
    CHECK(fan_noise_change(1500, 3000) == Approx(-15.05).margin(0.01));
    CHECK(fan_noise_change(3300, 3000) == Approx(2.07).margin(0.01));
    CHECK(std::isinf(fan_noise_change(0, 3000)));
}

// Anderson, The fifteen watt tungsten lamp: 5 candle power at 11.1 W, 15 at 17.5 W.
TEST_CASE("a lamp loses two thirds of its light with a third of its watts") {
    const double share_of_watts = 11.1 / 17.5;
    const double share_of_volts = std::pow(share_of_watts, 1 / 1.6);
    CHECK(lamp_light(share_of_volts) == Approx(5.0 / 15.0).epsilon(0.02));
    CHECK(lamp_light(1) == 1);
}

// California DOT, online noise training, module 1: a change of 3 dB is barely perceptible, one of 5 dB readily.
TEST_CASE("nobody calls a blower slow for less than 3 dB, and everybody does for more than 5 dB") {
    LoadState sound;
    sound.rpm = 3000;
    for (std::uint64_t seed = 0; seed < 200; ++seed) {
        const Senses person = drawn_senses(seed);
        const auto word = [&](double db) {
            LoadState now;
            now.rpm = 3000 * std::pow(10.0, db / 50);
            return load_word(person, LoadKind::motor, now, sound);
        };
        CHECK(word(-2.9) == "normal");
        CHECK(word(2.9) == "normal");
        CHECK(word(-5.1) == "slow");
        CHECK(word(5.1) == "fast");
    }
}

TEST_CASE("what should stand runs, what should run is dead") {
    LoadState still;
    still.rpm = 0;
    LoadState turning;
    turning.rpm = 2000;
    CHECK(load_word(usual_senses(), LoadKind::motor, still, turning) == "dead");
    CHECK(load_word(usual_senses(), LoadKind::motor, turning, still) == "runs");
    CHECK(load_word(usual_senses(), LoadKind::motor, still, still) == "dead");
    // A few microvolts across a lamp that nobody has switched on are alike on both vehicles and light nothing.
    LoadState off;
    off.volts = 3e-6;
    CHECK(load_word(usual_senses(), LoadKind::lamp, off, off) == "dead");
    CHECK(load_word(usual_senses(), LoadKind::heater, off, off) == "dead");
    LoadState burnt_out;
    burnt_out.volts = 12;
    LoadState lit = burnt_out;
    lit.amps = 1.75;
    CHECK(load_word(usual_senses(), LoadKind::lamp, burnt_out, lit) == "dead");
    CHECK(load_word(usual_senses(), LoadKind::lamp, lit, lit) == "normal");
    CHECK(lamp_word(usual_senses(), 12, 12) == "bright");
    CHECK(lamp_word(usual_senses(), 7, 12) == "dim");
    CHECK(lamp_word(usual_senses(), 0.5, 12) == "dark");
}

TEST_CASE("a lamp's word tells its volts (common practice, no source)") {
    // A filament is not seen at 5 % of its volts, dim at half, bright at all of them.
    for (const auto& [volts, word] : {std::pair{0.6, "dark"}, {6.0, "dim"}, {12.0, "bright"}}) {
        for (const char* other : {"dark", "dim", "bright"}) {
            INFO(volts << " V: " << word << ", " << other);
            if (std::string(other) == word) continue;
            CHECK(lamp_word_probability(word, volts, 12) > 5 * lamp_word_probability(other, volts, 12));
        }
    }
}
