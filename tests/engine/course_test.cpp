// Fuses that open by themselves, and lamps and new fuses in their place.
#include <cmath>

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/tables/fuses.hpp"
#include "tests/support/branch_circuit.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/made_fault.hpp"

namespace voltfall::test {

namespace {

NgspiceSession& session() {
    return NgspiceSession::instance();
}

/// Battery, fuses in two branches and loads that can be shorted.
struct FusedCircuit {
    FusedCircuit() {
        made.source("B1", "plus", "0", 12.6, 0.008);
        first = fuse("F1", "a", 10);
        second = fuse("F2", "b", 20);
        first_load = made.resistor("L1", "a", "0", 10);
        second_load = made.resistor("L2", "b", "0", 10);
    }
    PartId fuse(const std::string& name, const std::string& load_side, double rating) {
        const BranchId element = made.resistor(name, "plus", load_side, fuse_ohms(FuseType::mini, rating));
        Part part;
        part.name = name;
        part.branches = {element};
        part.fuse = FuseAction{element, "mini", rating};
        made.circuit().parts.push_back(part);
        return {static_cast<std::uint32_t>(made.circuit().parts.size() - 1)};
    }
    BranchCircuit made;
    PartId first, second;
    BranchId first_load, second_load;
};

}  // namespace

TEST_CASE("nothing opens in a healthy circuit, and its end is its beginning") {
    FusedCircuit fused;
    const CourseResult course = run_course(session(), fused.made.circuit(), State{}, {});
    REQUIRE(course);
    CHECK(course->aftermath.empty());
    CHECK_FALSE(course->after.has_value());
    CHECK(&course->end() == &course->faulted);
    CHECK_FALSE(opening_seconds(course->faulted, fused.first).has_value());
}

TEST_CASE("the fuse that opens first opens first; the times add up") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}}),
                                    fault_of("L2", "short", {SetLaw{fused.second_load, Resistor{0.2}}})};
    const CourseResult course = run_course(session(), fused.made.circuit(), State{}, faults);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 2);
    CHECK(course->aftermath[0].what == "F1 opens");
    CHECK(course->aftermath[1].what == "F2 opens");
    CHECK(course->aftermath[0].seconds == Approx(*opening_seconds(course->faulted, fused.first)).epsilon(1e-9));
    CHECK(course->aftermath[1].seconds > course->aftermath[0].seconds);
    REQUIRE(course->after.has_value());
    CHECK(std::abs(course->end().point.amps[fused.first_load.index]) < 1e-6);
    CHECK(course->opened == std::vector<PartId>{fused.first, fused.second});
}

TEST_CASE("the second fuse's time counts from the moment at which the first has opened") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}}),
                                    fault_of("L2", "short", {SetLaw{fused.second_load, Resistor{0.2}}})};
    const CourseResult course = run_course(session(), fused.made.circuit(), State{}, faults);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 2);
    // By hand: two branches beside each other behind 8 mohm, then the second alone.
    const double one = fuse_ohms(FuseType::mini, 10) + 0.2;
    const double other = fuse_ohms(FuseType::mini, 20) + 0.2;
    const double both = 12.6 / (1 + 0.008 * (1 / one + 1 / other));
    const auto first = fuse_opening_seconds(FuseType::mini, 10, both / one);
    const auto second = fuse_opening_seconds(FuseType::mini, 20, 12.6 / (0.008 + other));
    REQUIRE(first);
    REQUIRE(second);
    CHECK(course->aftermath[0].seconds == Approx(*first).epsilon(1e-4));
    CHECK(course->aftermath[1].seconds == Approx(*first + *second).epsilon(1e-4));
}

TEST_CASE("fuses within a thousandth open together, and one already open stays open") {
    FusedCircuit fused;
    const PartId twin = fused.fuse("F3", "c", 10);
    const BranchId third_load = fused.made.resistor("L3", "c", "0", 10);
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}}),
                                    fault_of("L3", "short", {SetLaw{third_load, Resistor{0.2}}})};
    CourseResult course = run_course(session(), fused.made.circuit(), State{}, faults);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 2);
    CHECK(course->aftermath[0].seconds == course->aftermath[1].seconds);

    const std::vector<PartId> opened{fused.first};
    course = run_course(session(), fused.made.circuit(), State{}, faults, opened);
    REQUIRE(course);
    REQUIRE(course->aftermath.size() == 1);
    CHECK(course->aftermath[0].part == twin);
    CHECK(std::abs(course->faulted.point.amps[fused.first_load.index]) < 1e-6);
}

TEST_CASE("a fuse just fitted is whole at first and blows again on the same short") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.2}}})};
    State state;
    state.fitted_new = {fused.first};
    const std::vector<PartId> opened{fused.first};
    const CourseResult course = run_course(session(), fused.made.circuit(), state, faults, opened);
    REQUIRE(course);
    CHECK(course->faulted.point.amps[fused.first_load.index] > 40);
    REQUIRE(course->aftermath.size() == 1);
    CHECK(std::abs(course->end().point.amps[fused.first_load.index]) < 1e-6);
}

TEST_CASE("a larger fuse in the holder holds longer") {
    FusedCircuit fused;
    const Fault short_circuit = fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.4}}});
    const std::vector<Fault> alone{short_circuit};
    const std::vector<Fault> with_wrong_fuse{short_circuit, fault_of("F1", "rating", {FitFuse{fused.first, 30}})};
    const SettleResult right = settle(session(), fused.made.circuit(), State{}, alone);
    const SettleResult wrong = settle(session(), fused.made.circuit(), State{}, with_wrong_fuse);
    REQUIRE(right);
    REQUIRE(wrong);
    CHECK(opening_seconds(*right, fused.first).has_value());
    CHECK_FALSE(opening_seconds(*wrong, fused.first).has_value());
}

TEST_CASE("a lamp in the fuse's place carries the lamp's current at most") {
    FusedCircuit fused;
    const std::vector<Fault> faults{fault_of("L1", "short", {SetLaw{fused.first_load, Resistor{0.01}}})};
    State state;
    state.lamp_in = {fused.first};
    const CourseResult course = run_course(session(), fused.made.circuit(), state, faults);
    REQUIRE(course);
    CHECK(course->aftermath.empty());
    const double bulb = 12.0 * 12.0 / 21;
    CHECK(course->faulted.point.amps[fused.first_load.index] == Approx(12.6 / (bulb + 0.018)).epsilon(1e-3));
}

}  // namespace voltfall::test
