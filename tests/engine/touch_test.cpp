// Does a probe touch? All chances are ASSUMED; what is checked is their order, and what a second look is worth.
#include "engine/readings/touch.hpp"

#include "engine/diagnosis/match.hpp"
#include "engine/readings/questions.hpp"
#include "engine/readings/rounding.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/readings.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

const Circuit& circuit() {
    static const auto read = circuit_of(R"(format = 1
[parts]
B1 = "battery 12.6V 8mohm"
F1 = "fuse 10A mini, feed 30"
L1 = "lamp 21W"
L2 = "lamp 5W"
C1 = "connector, 2 way"
C2 = "connector, 2 way"
SP1 = "splice"
G1 = "ground"
[plugs]
L1 = "C3"
[wires]
1 = "F1.2 > C1.A 1.5mm2 RD 1m"
2 = "C1.A > SP1 1.5mm2 RD 1m"
3 = "SP1 > L1.1 1.5mm2 RD 1m"
4 = "L1.2 > G1 1.5mm2 BK 1m"
5 = "SP1 > C2.A 0.35mm2 RD 1m"
6 = "C2.A > L2.1 0.35mm2 RD 1m"
7 = "L2.2 > G1 0.35mm2 BK 1m"
[closed]
C1 = "sealed"
)");
    return *read;
}

double at(const std::string& point, const std::string& state = "") {
    const Reading reading = reading_of(state + (state.empty() ? "" : "  ") + point + " to B1- 0V", circuit());
    const auto& volts = std::get<VoltsReading>(reading.measurement);
    return no_touch_chance(circuit(), states_of(circuit(), reading.state).front(), volts.red.joints.front(),
                           volts.black.joints.front());
}

/// Chance that the first of the job's numbers is wrong, before it is held against anything.
double chance_of_first(const std::vector<std::string>& readings) {
    const Job job = job_of(circuit(), readings);
    return make_questions(solver(), circuit(), job).numbers.front().wrong.chance;
}

}  // namespace

TEST_CASE("a pin in the hand is touched, a plug from behind mostly, behind a seal or at a small terminal less") {
    CHECK(at("C3.1", "unplug C3") == Approx(0.01));
    CHECK(at("C3.1") == Approx(0.05));
    CHECK(at("C1.A@1") == Approx(0.15));
    CHECK(at("C2.A@5") == Approx(0.15));
    CHECK(at("SP1") == Approx(0.15));  // through its wrapping
    CHECK(at("B1+") == Approx(0.01));
    CHECK(at("G1") == Approx(0.01));
    const JointId plug = circuit().find_joint("C3.1");
    const State state = states_of(circuit(), {}).front();
    CHECK(no_touch_chance(circuit(), state, plug, circuit().find_joint("C3.2")) == Approx(1 - 0.95 * 0.95));
}

TEST_CASE("a second look at the same point in the same state checks the contact") {
    const double once = chance_of_first({"C3.1 to B1- 0V"});
    CHECK(once == Approx(0.05));
    // Both miss with 0.05 x 0.3, of which each has the root.
    const double twice = chance_of_first({"C3.1 to B1- 0V", "C3.1 to B1- 0V"});
    CHECK(twice * twice == Approx(0.05 * 0.3));
    CHECK(twice * twice < once);
    // So does one with the leads the other way round: either of two misses with 1 - 0.95 x 0.95.
    const double turned = chance_of_first({"C3.1 to C3.2 0V", "C3.2 to C3.1 0V"});
    CHECK(turned * turned == Approx((1 - 0.95 * 0.95) * 0.3));
    // Another state is another look, not a second one.
    CHECK(chance_of_first({"C3.1 to B1- 0V", "unplug C3  C3.1 to B1- 0V"}) == Approx(once));
    // Where the point has shown volts in the state, it can be touched; the chance is no less than any reading's.
    CHECK(chance_of_first({"C3.1 to C3.2 0V", "C3.1 to B1- 12.5V"}) < chance_of_first({"C3.1 to C3.2 0V"}));
}
