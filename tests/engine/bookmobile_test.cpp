// The demo's circuit from its file through states, faults and fuses; the whole catalogue against the independent
// solver.
#include <algorithm>
#include <cmath>

#include "engine/ngspice/ngspice_session.hpp"
#include "engine/solve/settled.hpp"
#include "netlists/files/circuit_file.hpp"
#include "tests/support/batch_run.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/dense_oracle.hpp"

namespace voltfall::test {

namespace {

const std::string scenario = std::string(PROJECT_DIR) + "/scenarios/bookmobile/";

NgspiceSession& session() {
    return NgspiceSession::instance();
}

std::shared_ptr<const Circuit> read(const std::string& file) {
    const CircuitReading reading = read_circuit_file(scenario + file);
    REQUIRE(reading.circuit);
    return reading.circuit;
}

Fault fault(const Circuit& circuit, const std::string& phrase, double size = 0, double where = 0.5) {
    const auto found = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                    [&](const ModePtr& mode) { return mode->phrase() == phrase; });
    INFO(phrase);
    REQUIRE(found != circuit.modes.end());
    Fault made;
    made.mode = *found;
    made.size = size;
    made.where = where;
    return made;
}

State state_named(const Circuit& circuit, const std::string& label) {
    for (const State& state : default_states(circuit)) {
        if (state.label == label) return state;
    }
    FAIL("no state " << label);
    return {};
}

Course course_of(const Circuit& circuit, const std::string& label, const std::vector<Fault>& faults = {}) {
    CourseResult course = run_course(session(), circuit, state_named(circuit, label), faults);
    REQUIRE(course);
    return *course;
}

double volts(const Circuit& circuit, const Settled& settled, const std::string& joint) {
    const JointId id = circuit.find_joint(joint);
    INFO(joint);
    REQUIRE(id.valid());
    return settled.point.volts[id.index];
}

double worst_difference(const OperatingPoint& one, const OperatingPoint& other) {
    double worst = 0;
    for (std::size_t i = 0; i < one.volts.size(); ++i) worst = std::max(worst, std::abs(one.volts[i] - other.volts[i]));
    return worst;
}

/// Every mode at its usual size in every state, both solvers.
void hold_catalogue_against_oracle(const std::string& file) {
    const auto circuit = read(file);
    DenseOracle oracle;
    for (const State& state : default_states(*circuit)) {
        for (const ModePtr& mode : circuit->modes) {
            INFO(file << ": " << mode->phrase() << " in " << state.label);
            Fault one;
            one.mode = mode;
            one.size = mode->size ? mode->size->usual : 0;
            const std::vector<Fault> faults{one};
            const SettleResult ours = settle(session(), *circuit, state, faults);
            const SettleResult theirs = settle(oracle, *circuit, state, faults);
            REQUIRE(ours);
            REQUIRE(theirs);
            CHECK(worst_difference(ours->point, theirs->point) < 1e-6);
        }
    }
}

}  // namespace

TEST_CASE("the cab blower on high has the figures of the command page") {
    const auto circuit = read("cab-blower.toml");
    const Settled hi = course_of(*circuit, "hi").end();
    const LoadState blower = load_state(hi, circuit->find_part("M1"), nullptr);
    CHECK(blower.volts == Approx(13.57).margin(0.005));
    CHECK(blower.amps == Approx(20.16).margin(0.005));
    CHECK(*blower.rpm == Approx(3515).margin(0.5));
    CHECK(blower.seen == LoadSeen::normal);
    CHECK(volts(*circuit, hi, "M1.1") == Approx(13.76).margin(0.005));
    CHECK(volts(*circuit, hi, "M1.2") == Approx(0.20).margin(0.005));
    CHECK(volts(*circuit, hi, "C101.4@541") == Approx(13.93).margin(0.005));
    CHECK(volts(*circuit, hi, "C101.4@542") == Approx(13.89).margin(0.005));
    CHECK(hi.relay_pulled[circuit->find_part("K3").index]);
    CHECK(hi.floating.empty());
    const WireAmps feed = wire_amps(hi, circuit->find_wire("542"));
    CHECK(feed.from == Approx(20.16).margin(0.005));
    CHECK(feed.to == Approx(feed.from).epsilon(1e-6));
}

TEST_CASE("an open limiter kills the lower positions and leaves high alone") {
    const auto circuit = read("cab-blower.toml");
    const PartId motor = circuit->find_part("M1");
    const std::vector<Fault> faults{fault(*circuit, "R1 limiter open")};
    for (const char* label : {"lo", "ml", "mh"}) {
        INFO(label);
        const Settled healthy = course_of(*circuit, label).end();
        CHECK(load_state(course_of(*circuit, label, faults).end(), motor, &healthy).seen == LoadSeen::dead);
    }
    const Settled healthy = course_of(*circuit, "hi").end();
    const Settled faulty = course_of(*circuit, "hi", faults).end();
    CHECK(load_state(faulty, motor, &healthy).seen == LoadSeen::normal);
    CHECK(faulty.point.amps[circuit->part(motor).load_branch.index] ==
          Approx(healthy.point.amps[circuit->part(motor).load_branch.index]).epsilon(1e-6));
}

TEST_CASE("a feed wire chafed through to metal blows its fuse in every position") {
    // Common practice, no source: the metal is ground, and a new fuse alone blows again.
    const auto circuit = read("cab-blower.toml");
    const std::vector<Fault> faults{fault(*circuit, "542 chafe", 0.02, 0.6)};
    for (const State& state : default_states(*circuit)) {
        INFO(state.label);
        CourseResult course = run_course(session(), *circuit, state, faults);
        REQUIRE(course);
        REQUIRE(course->aftermath.size() == 1);
        CHECK(course->aftermath[0].what == "F7 opens");
        CHECK(std::abs(volts(*circuit, course->end(), "M1.1")) < 1e-3);
        State renewed = state;
        renewed.fitted_new = {circuit->find_part("F7")};
        course = run_course(session(), *circuit, renewed, faults, course->opened);
        REQUIRE(course);
        CHECK(course->aftermath.size() == 1);
    }
}

TEST_CASE("a chafe between motor and pack runs the blower at full speed on low with the fuse whole") {
    const auto circuit = read("cab-blower.toml");
    const PartId motor = circuit->find_part("M1");
    const std::vector<Fault> faults{fault(*circuit, "556 chafe", 0.02, 0.5)};
    const Settled high = course_of(*circuit, "hi").end();
    const Settled low = course_of(*circuit, "lo").end();
    const Course course = course_of(*circuit, "lo", faults);
    CHECK(course.aftermath.empty());
    const LoadState state = load_state(course.end(), motor, &low);
    CHECK(state.seen == LoadSeen::fast);
    CHECK(*state.rpm == Approx(*load_state(high, motor, nullptr).rpm).epsilon(0.05));
}

TEST_CASE("a seized blower on a low position burns no fuse, on high it does") {
    const auto circuit = read("cab-blower.toml");
    const std::vector<Fault> faults{fault(*circuit, "M1 seized")};
    CHECK(course_of(*circuit, "lo", faults).aftermath.empty());
    CHECK(course_of(*circuit, "ml", faults).aftermath.empty());
    CHECK(course_of(*circuit, "hi", faults).aftermath.size() == 1);
}

TEST_CASE("a fault taken back leaves the healthy circuit, for every mode of the catalogue") {
    const auto circuit = read("cab-blower.toml");
    const State hi = state_named(*circuit, "hi");
    const SettleResult before = settle(session(), *circuit, hi, {});
    REQUIRE(before);
    for (const ModePtr& mode : circuit->modes) {
        INFO(mode->phrase());
        Fault one;
        one.mode = mode;
        one.size = mode->size ? mode->size->usual : 0;
        const std::vector<Fault> faults{one};
        REQUIRE(settle(session(), *circuit, hi, faults));
        const SettleResult after = settle(session(), *circuit, hi, {});
        REQUIRE(after);
        CHECK(worst_difference(before->point, after->point) < 1e-9);
    }
}

TEST_CASE("two faults do the same in either order") {
    const auto circuit = read("cab-blower.toml");
    const State low = state_named(*circuit, "lo");
    const Fault one = fault(*circuit, "C101.4 resistance", 0.3);
    const Fault other = fault(*circuit, "R1 coil 1-2 drift", 1.5);
    const std::vector<Fault> forward{one, other};
    const std::vector<Fault> back{other, one};
    const SettleResult first = settle(session(), *circuit, low, forward);
    const SettleResult second = settle(session(), *circuit, low, back);
    REQUIRE(first);
    REQUIRE(second);
    CHECK(worst_difference(first->point, second->point) == 0);
}

TEST_CASE("every fault of the three scenarios in every state agrees with the independent solver") {
    hold_catalogue_against_oracle("cab-blower.toml");
    hold_catalogue_against_oracle("rear-blower.toml");
    hold_catalogue_against_oracle("clutch.toml");
}

TEST_CASE("the batch program gives the same numbers for the demo healthy and with ten faults") {
    const auto circuit = read("cab-blower.toml");
    const State hi = state_named(*circuit, "hi");
    std::vector<std::vector<Fault>> cases{{}};
    const std::size_t stride = std::max<std::size_t>(1, circuit->modes.size() / 10);
    for (std::size_t i = 0; i < circuit->modes.size() && cases.size() < 11; i += stride) {
        const FaultMode& mode = *circuit->modes[i];
        cases.push_back({fault(*circuit, mode.phrase(), mode.size ? mode.size->usual : 0)});
    }
    REQUIRE(cases.size() == 11);
    for (const std::vector<Fault>& faults : cases) {
        INFO((faults.empty() ? std::string("healthy") : faults[0].mode->phrase()));
        const SettleResult settled = settle(session(), *circuit, hi, faults);
        REQUIRE(settled);
        const Deck deck = build_deck(settled->network);
        const auto printed = batch_run(deck_file_text(deck, settled->network));
        for (std::size_t joint = 0; joint < circuit->joints.size(); ++joint) {
            const int node = deck.node_of_joint[joint];
            if (node == 0) continue;
            CHECK(std::abs(printed.at(Deck::node_name(node)) - settled->point.volts[joint]) < 1e-6);
        }
    }
}

}  // namespace voltfall::test
