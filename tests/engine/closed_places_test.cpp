// What a file closes is neither opened nor probed: no test that is proposed goes there, whatever the job tells.
#include "engine/planning/extra_states.hpp"
#include "engine/planning/next.hpp"
#include "engine/planning/outlook.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/proposals.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using namespace voltfall::testing;

namespace {

std::shared_ptr<const Circuit> cab_blower_closed_at(const std::string& place, const std::string& why = "sealed") {
    return circuit_of(cab_blower_text() + "\n[closed]\n" + place + " = \"" + why + "\"\n");
}

Job with_load(Job job) {
    job.tools = {{"meter"}, {"clamp"}, {"lamp"}, {"load"}};
    return job;
}

std::vector<ExtraState> extra_states_of(const Circuit& circuit, const Job& job) {
    const auto weighed = weigh(solver(), circuit, job, {});
    return extra_states(solver(), circuit, job, *weighed);
}

/// Is the place, or a cavity of it, among those that must be reached?
bool goes_to(const std::vector<std::string>& places, const std::string& closed) {
    return std::any_of(places.begin(), places.end(), [&](const std::string& place) {
        return same_word(place, closed) || place.starts_with(closed + ".");
    });
}

const std::vector<std::string> behind_a_short{"lo,ml,mh,hi  blower dead", "fuse F7 blown",
                                              "key run, hi, lamp in F7  across F7 13.4V"};
const std::vector<std::string> loose_somewhere{"sometimes, lo,ml,mh,hi  blower dead", "hi  blower normal"};
const std::vector<std::string> slow_on_high{"lo,ml,mh  blower normal", "key run, hi  blower slow",
                                            "key run, hi  B1+ to B1- 14.1V", "key run, hi  M1.1 to B1- 10.2V"};

}  // namespace

TEST_CASE("no test is proposed at a place that the file closes") {
    for (const std::string closed : {"F7", "K3", "M1", "C101", "C304", "541"}) {
        const auto circuit = cab_blower_closed_at(closed);
        for (const auto& told : {behind_a_short, loose_somewhere, slow_on_high}) {
            const Job job = with_load(job_of(*circuit, told));
            const Outlook outlook(solver(), *circuit, job, {});
            INFO(closed << " behind " << told.back());
            CHECK(outlook.future.tests.size() > 10);
            for (const TestCandidate& test : outlook.future.tests) {
                // How a load goes is seen and heard from the seat, and a clamp goes round a wire beside its plug.
                if (test.kind == TestKind::load) continue;
                if (test.kind == TestKind::clamp && !circuit->find_wire(closed).valid()) continue;
                INFO(write_test(*circuit, test.test));
                CHECK_FALSE(goes_to(test.places, closed));
            }
            for (const ExtraState& extra : extra_states_of(*circuit, job)) CHECK_FALSE(goes_to(extra.places, closed));
            const auto weighed = weigh(solver(), *circuit, job, {});
            for (const FeltPlace& felt : felt_places(solver(), *circuit, job, *weighed))
                CHECK_FALSE(same_word(felt.place, closed));
        }
    }
}

TEST_CASE("what is closed as electronic takes no lamp or load, and a meter may stand there") {
    const auto circuit = cab_blower_closed_at("C304", "electronic");
    const NextAnswer answer = next_tests(solver(), *circuit, job_of(*circuit, slow_on_high));
    INFO(all_tests(answer, *circuit));
    CHECK(position_of(answer, "C304", *circuit) < answer.tests.size());
}

TEST_CASE("a bulb stands in for a load that plugs in, of its own watts or of a headlamp's") {
    const auto watts = [](double of_the_load) {
        Job job = job_of(cab_blower(), slow_on_high);
        job.tools = {{"meter"}, {"load", 0, 0, 0, of_the_load}};
        for (const ExtraState& extra : extra_states_of(cab_blower(), job)) {
            if (extra.kind == ExtraState::Kind::load_in_place) return extra.phrase.leads.front().watts;
        }
        return 0.0;
    };
    CHECK(watts(21) == 21);
    CHECK(watts(0) == 55);
    // Without the tool nothing stands in.
    for (const ExtraState& extra : extra_states_of(cab_blower(), job_of(cab_blower(), slow_on_high)))
        CHECK(extra.kind != ExtraState::Kind::load_in_place);
}

TEST_CASE("a fuse is found blown by a look or by the supply across it, not by what another point shows") {
    const Circuit& circuit = cab_blower();
    const PartId fuse = circuit.find_part("F7");
    const Branch& element = circuit.branch(circuit.part(fuse).fuse->element);
    const std::string one = circuit.joint(element.a).name;
    const std::string other = circuit.joint(element.b).name;
    const struct {
        std::vector<std::string> readings;
        bool blown;
    } rows[] = {{{"fuse F7 blown"}, true},
                {{"fuse F7 sometimes-blown"}, true},
                {{"fuse F7 missing"}, false},
                {{"fuse F7 good"}, false},
                {{"fuse F12 blown"}, false},
                {{"earlier, fuse F7 blown"}, false},
                {{"fuse F7 blown", "new F7, hi  blower normal"}, false},
                {{"key run, hi  across F7 13.4V"}, true},
                {{"key run, hi  " + other + " to " + one + " -13.4V"}, true},
                {{"key run, hi  across F7 0.05V"}, false},
                {{"key run, hi  " + one + " to ? 13.4V"}, false},
                {{"key run, hi  C101.4 to B1- 13.4V"}, false},
                {{"key run, hi  M1.1 to M1.2 13.4V"}, false}};
    for (const auto& [readings, blown] : rows) {
        INFO(readings.back());
        CHECK(found_blown(circuit, job_of(circuit, readings), fuse) == blown);
    }
}

TEST_CASE("without a lamp a new fuse is spent on a short, in the position in which the old one went") {
    const auto fitted_in = [](const std::vector<std::string>& told) {
        Job job = job_of(cab_blower(), told);
        job.tools = {{"meter"}};
        for (const ExtraState& extra : extra_states_of(cab_blower(), job)) {
            CHECK(extra.kind != ExtraState::Kind::lamp_in_seat);
            if (extra.kind == ExtraState::Kind::new_fuse) return write_state(cab_blower(), extra.phrase);
        }
        return std::string("none");
    };
    const std::string dead = "lo,ml,mh,hi  blower dead";
    CHECK(fitted_in({dead, "fuse F7 blown at lo"}).find("lo") == 0);
    CHECK(fitted_in({dead, "fuse F12 missing", "fuse F12 good", "fuse F7 blown at mh"}).find("mh") == 0);
    CHECK(fitted_in({dead, "fuse F7 missing", "fuse F7 blown"}).find("hi") == 0);
    CHECK(fitted_in({dead}) == "none");
}

TEST_CASE("a place that was felt is not felt again") {
    const auto felt = [](const std::vector<std::string>& told) {
        const Job job = job_of(cab_blower(), told);
        const auto weighed = weigh(solver(), cab_blower(), job, {});
        std::vector<std::string> places;
        for (const FeltPlace& one : felt_places(solver(), cab_blower(), job, *weighed)) places.push_back(one.place);
        return places;
    };
    const std::vector<std::string> before = felt(slow_on_high);
    REQUIRE(std::find(before.begin(), before.end(), "C101") != before.end());
    std::vector<std::string> told = slow_on_high;
    told.emplace_back("hi  C303 rise cold");
    told.emplace_back("hi  C101 rise hot");
    const std::vector<std::string> after = felt(told);
    CHECK(std::find(after.begin(), after.end(), "C101") == after.end());
}

TEST_CASE("nothing is switched on through a place that smells or has melted, until it is new") {
    const auto notes = [](const std::vector<std::string>& more) {
        std::vector<std::string> told = slow_on_high;
        told.insert(told.end(), more.begin(), more.end());
        const NextAnswer answer = next_tests(solver(), cab_blower(), job_of(cab_blower(), told));
        const std::string line = "C304 has been hot: nothing is switched on through it until it is mended or unplugged";
        return std::count(answer.notes.begin(), answer.notes.end(), line);
    };
    CHECK(notes({"smell C304"}) == 1);
    CHECK(notes({"look C304 melted"}) == 1);
    CHECK(notes({"look C304 melted", "smell C304"}) == 1);
    CHECK(notes({"look C304 wet"}) == 0);
    CHECK(notes({"new C304  look C304 melted"}) == 0);
    CHECK(notes({"earlier, look C304 melted"}) == 0);
}
