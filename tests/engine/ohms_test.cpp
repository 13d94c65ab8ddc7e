// Ohms as evidence and as tests: how a reading follows from what is there, and where an ohmmeter is sent.
#include <algorithm>
#include <cmath>

#include "engine/planning/next.hpp"
#include "engine/planning/ohms_offers.hpp"
#include "engine/readings/ohms_evidence.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::shared_ptr<const Circuit> circuit_at(const std::string& path) {
    const CircuitReading read = read_circuit_file(PROJECT_DIR "/scenarios/" + path);
    REQUIRE(read.circuit);
    return read.circuit;
}

ReadValue stretch(double low, double high) {
    ReadValue value;
    value.low = low;
    value.high = high;
    value.unit = Unit::ohm;
    return value;
}

ReadValue reads_open() {
    ReadValue value;
    value.open = true;
    value.unit = Unit::ohm;
    return value;
}

double chance_at(const MatchAnswer& answer, const std::string& place) {
    const auto found = std::find_if(answer.places.begin(), answer.places.end(),
                                    [&](const RepairChance& chance) { return chance.place == place; });
    return found == answer.places.end() ? 0 : found->probability;
}

}  // namespace

TEST_CASE("all that an ohmmeter may show has a sum of 1, whatever is there") {
    for (const double ohms : {0.02, 0.4, 3.6, 75.0, 4.7e4, 1e9}) {
        for (const double spread : {0.1, 0.25}) {
            double sum = ohms_probability(reads_open(), ohms, spread);
            double low = 0;
            for (double high = 0.05; high < 1e6; low = high, high *= 1.3)
                sum += ohms_probability(stretch(low, high), ohms, spread);
            INFO(ohms << " " << spread << " " << sum);
            CHECK(sum == Approx(1).margin(0.06));
        }
    }
    double by_chance = ohms_by_chance(reads_open());
    double low = 0;
    for (double high = 0.1; low < 1e6; low = high, high *= 10) by_chance += ohms_by_chance(stretch(low, high));
    CHECK(by_chance == Approx(1).margin(0.01));
}

TEST_CASE("megohms are read as open") {
    CHECK(ohms_probability(stretch(2.69e6, 2.69e6), 1e9, 0.1) == ohms_probability(reads_open(), 1e9, 0.1));
    CHECK(ohms_by_chance(stretch(2.69e6, 2.69e6)) == ohms_by_chance(reads_open()));
    CHECK(ohms_probability(stretch(4.7e4, 4.7e4), 1e9, 0.1) < 0.01);
}

TEST_CASE("the mean of what leads add to a contact's ohms is a fifth of an ohm") {
    // A closed contact of 10 mohm reads from 0 to 0.4 ohm, each as likely: half of the readings lie below 0.21 ohm.
    CHECK(ohms_probability(stretch(0, 0.21), 0.01, 0.1) == Approx(0.49).margin(0.03));
    CHECK(ohms_probability(stretch(0.6, 1e6), 0.01, 0.1) < 0.02);
}

TEST_CASE("a winding that reads its ohms in the hand is not open") {
    const auto lorry = circuit_at("bookmobile/lorry-fan.toml");
    std::vector<std::string> told{"lo,hi fan dead", "hi, key run F21.2@801 to B1- 28.39V",
                                  "hi, key run C802.1 to C802.2 28.30V"};
    const double before = chance_at(match(solver(), *lorry, job_of(*lorry, told)), "M8");
    told.emplace_back("off, key on, unplug C802 M8.1 to M8.2 1.2ohm");
    const double after = chance_at(match(solver(), *lorry, job_of(*lorry, told)), "M8");
    REQUIRE(before > 0.5);
    CHECK(after < 0.03);
}

TEST_CASE("a coil of another size is told in the hand") {
    // The pack's coil of 0.35 ohm drifted to 0.9 ohm; leads add up to 0.4 ohm.
    const auto at = [&](const std::string& ohms) {
        return chance_at(match(solver(), cab_blower(),
                               job_of(cab_blower(), {"lo,ml,hi blower normal", "mh blower slow",
                                                     "off, unplug C303 R1.3 to R1.4 " + ohms})),
                         "R1");
    };
    CHECK(at("1.2ohm") > 2 * at("0.5ohm"));
}

TEST_CASE("an ohmmeter is sent only where the sound circuit feeds nothing") {
    const std::vector<std::pair<std::string, std::vector<std::string>>> jobs{
        {"bookmobile/clutch.toml", {"ac clutch dead", "fuse F5 blown"}},
        {"bookmobile/cab-blower.toml", {"lo,ml,mh,hi blower dead", "fuse F7 blown"}},
        {"bookmobile/lorry-fan.toml", {"lo,hi fan dead", "fuse F21 blown"}},
        {"bookmobile/roof-fan.toml", {"on fan dead", "fuse F3 blown"}}};
    std::size_t of_harness = 0;
    for (const auto& [path, told] : jobs) {
        const auto circuit = circuit_at(path);
        const Job job = job_of(*circuit, told);
        const auto weighed = weigh(solver(), *circuit, job, {});
        for (const OhmsOffer& offer : ohms_offers(solver(), *circuit, job, *weighed)) {
            const State state = states_of(*circuit, offer.phrase).front();
            INFO(path << " " << offer.place);
            CHECK((!state.unplugged.empty() || !state.pulled.empty()));
            if (!offer.phrase.key) continue;  // a part in the hand
            ++of_harness;
            const SettleResult settled = settle(solver(), *circuit, state, {});
            REQUIRE(settled);
            for (const Point* point : {&offer.tested.red, &offer.tested.black}) {
                const JointId joint = point->joints.front();
                CHECK((settled->floats(joint) || std::abs(settled->point.volts[joint.index]) < 0.05));
            }
        }
    }
    CHECK(of_harness > 8);
}

TEST_CASE("two wires with the relay's own feed between them are told apart by ohms at the bulkhead") {
    // With C120 off the relay's coil has no feed, so that a lamp in the fuse's seat goes dark for either wire.
    const auto clutch = circuit_at("bookmobile/clutch.toml");
    const NextAnswer answer =
        next_tests(solver(), *clutch,
                   job_of(*clutch, {"off clutch dead", "ac clutch dead", "ac, key run K7.86 to B1- 14.05V",
                                    "ac, key run K7.87@711 to B1- 0V", "ac, key run K7.30@710 to B1- 0V",
                                    "ac, key run, lamp in F5 F5.1 to F5.2 14.05V",
                                    "ac, key run, unplug C130, lamp in F5 F5.1 to F5.2 13.98V",
                                    "off, key on F5.1 to F5.2 19mV", "look 711 clean", "look 712 clean"}));
    INFO(all_tests(answer, *clutch));
    const std::size_t at = position_of(answer, "off, key off, unplug C120  ohms C120.3@711 to B1-", *clutch);
    REQUIRE(at < 2);
    for (const Expectation& expectation : answer.tests[at].expect) {
        if (expectation.fault == "712 chafe") CHECK(expectation.word == "open");
        if (expectation.fault == "711 chafe") CHECK(expectation.word.starts_with("below"));
    }
}

TEST_CASE("a switch that may hang is measured in the hand where it should be open") {
    const auto clutch = circuit_at("bookmobile/clutch.toml");
    const std::vector<std::string> told{"off, key run clutch runs", "ac, key run clutch runs",
                                        "off, key on, pull K7 K7.30 to K7.87 open", "off, key on K7.86 to B1- 12.1V"};
    const NextAnswer answer = next_tests(solver(), *clutch, job_of(*clutch, told));
    INFO(all_tests(answer, *clutch));
    CHECK(position_of(answer, "off, unplug C143  ohms S4.C to S4.1", *clutch) < answer.tests.size());
    std::vector<std::string> measured = told;
    measured.emplace_back("off, key on, unplug C143 S4.C to S4.1 0.2ohm");
    CHECK(chance_at(match(solver(), *clutch, job_of(*clutch, measured)), "S4") > 0.9);
    measured.back() = "off, key on, unplug C143 S4.C to S4.1 open";
    CHECK(chance_at(match(solver(), *clutch, job_of(*clutch, measured)), "S4") < 0.1);
}
