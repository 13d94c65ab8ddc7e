#include "engine/diagnosis/match.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "engine/diagnosis/priors.hpp"
#include "engine/planning/next.hpp"
#include "engine/readings/word_evidence.hpp"
#include "engine/readings/word_tables.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/chances.hpp"
#include "tests/support/jobs.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;
using voltfall::testing::cab_blower;
using voltfall::testing::job_of;

namespace {

const Candidate* find(const MatchAnswer& answer, const std::string& fault) {
    const auto found = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [&](const Candidate& c) { return c.fault == fault; });
    return found == answer.candidates.end() ? nullptr : &*found;
}

bool any_contains(const std::vector<std::string>& lines, const std::string& piece) {
    return std::any_of(lines.begin(), lines.end(),
                       [&](const std::string& line) { return line.find(piece) != std::string::npos; });
}

bool contains(const std::vector<std::string>& list, const std::string& word) {
    return std::find(list.begin(), list.end(), word) != list.end();
}

/// Half an ohm less is not seen by a switch: 0.3 ohm in one bulkhead pin, engine running.
Job weak_air() {
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/bookmobile/weak-air.job.toml");
    REQUIRE(reading.job);
    return *reading.job;
}

MatchAnswer match_all(const Job& job) {
    MatchOptions options;
    options.keep = 1000;
    return match(solver(), cab_blower(), job, options);
}

}  // namespace

TEST_CASE("weak air with a third of an ohm in a bulkhead pin: that pin leads with its ohms", "[checked]") {
    const MatchAnswer answer = match(solver(), cab_blower(), weak_air());
    REQUIRE(!answer.candidates.empty());
    const Candidate& leader = answer.candidates.front();
    CHECK(leader.fault == "C101.4 resistance");
    REQUIRE(leader.size);
    CHECK(leader.size->best > 0.2);
    CHECK(leader.size->best < 0.4);
    CHECK(leader.size->low < 0.3);
    CHECK(leader.size->high > 0.29);
    CHECK(any_contains(leader.because, "healthy would be"));
    CHECK_FALSE(answer.supply_unknown);
    CHECK(answer.none_of_these < 0.05);
}

TEST_CASE("the weak-air answer says which readings tell against the motor") {
    const MatchAnswer answer = match(solver(), cab_blower(), weak_air());
    const auto motor = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                    [](const Candidate& c) { return c.place == "M1"; });
    REQUIRE(motor != answer.candidates.end());
    CHECK(motor->probability < 0.01);
    INFO((motor->against.empty() ? "" : motor->against.front()));
    CHECK((any_contains(motor->against, "5: M1") || any_contains(motor->against, "7: M1")));
    const bool ruled_out = std::any_of(answer.ruled_out.begin(), answer.ruled_out.end(),
                                       [](const RuledOut& r) { return r.fault.starts_with("M1"); });
    CHECK(ruled_out);
}

TEST_CASE("probabilities of all candidates and none of these sum to one") {
    for (const Job& job : {weak_air(), job_of(cab_blower(), {"hi blower dead"}), Job{}}) {
        const MatchAnswer answer = match_all(job);
        double sum = answer.none_of_these;
        for (const Candidate& candidate : answer.candidates) sum += candidate.probability;
        CHECK(sum == Approx(1).margin(1e-6));
        // Equals (to a millionth) stand in the catalogue's order.
        constexpr double equal = 1e-6;
        CHECK(std::is_sorted(
            answer.candidates.begin(), answer.candidates.end(),
            [](const Candidate& a, const Candidate& b) { return a.probability > b.probability * (1 + equal); }));
    }
}

TEST_CASE("a job weighed once answers as the job weighed for each answer does") {
    const Job job = weak_air();
    const MatchOptions options;
    const std::shared_ptr<const Weighed> weighed = weigh(solver(), cab_blower(), job, options);
    const NextAnswer next = next_tests(solver(), cab_blower(), job, options, weighed);
    const MatchAnswer once = match(solver(), cab_blower(), job, options, *weighed);
    const MatchAnswer anew = match(solver(), cab_blower(), job, options);
    const NextAnswer next_anew = next_tests(solver(), cab_blower(), job, options);
    REQUIRE(once.candidates.size() == anew.candidates.size());
    for (std::size_t i = 0; i < once.candidates.size(); ++i) {
        CHECK(once.candidates[i].fault == anew.candidates[i].fault);
        CHECK(once.candidates[i].probability == anew.candidates[i].probability);
    }
    REQUIRE(next.tests.size() == next_anew.tests.size());
    for (std::size_t i = 0; i < next.tests.size(); ++i) {
        CHECK(next.tests[i].test == next_anew.tests[i].test);
        CHECK(next.tests[i].bits == next_anew.tests[i].bits);
    }
}

TEST_CASE("the answer does not depend on the number of workers") {
    const auto text = [](const MatchAnswer& answer) {
        std::string all;
        for (const Candidate& c : answer.candidates) {
            all += c.fault + " " + write_fixed(c.probability, 9) + (c.size ? write_fixed(c.size->best, 6) : "") + "\n";
            for (const std::string& line : c.because) all += line + "\n";
            for (const std::string& line : c.against) all += line + "\n";
        }
        return all;
    };
    const auto with_workers = [&](int workers) {
        MatchOptions options;
        options.workers = workers;
        return text(match(solver(), cab_blower(), weak_air(), options));
    };
    CHECK(with_workers(1) == with_workers(3));
}

TEST_CASE("only high works: the pack leads, by words alone (common practice, no source)", "[checked]") {
    const MatchAnswer answer = match_all(job_of(cab_blower(), {"lo,ml,mh blower dead", "hi blower normal"}));
    std::map<std::string, double> by_repair;
    for (const Candidate& candidate : answer.candidates) by_repair[candidate.repair] += candidate.probability;
    for (const auto& [repair, probability] : by_repair) {
        if (repair != "R1") CHECK(probability < by_repair["R1"]);
    }
    CHECK(answer.candidates.front().fault == "R1 limiter open");
}

TEST_CASE("dead on every speed does not point to the pack (common practice, no source)") {
    const MatchAnswer answer = match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead"}));
    double pack = 0;
    for (const Candidate& candidate : answer.candidates) {
        if (candidate.repair == "R1") pack += candidate.probability;
    }
    CHECK(pack < 0.02);
}

TEST_CASE(
    "a new fuse blows again at once and the wire is rubbed: the chafe on the hot tube leads (common practice, no "
    "source)") {
    const MatchAnswer answer = match(
        solver(), cab_blower(),
        job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "off, new F7 fuse F7 blown at once", "look 542 rubbed"}));
    CHECK(answer.candidates.front().fault == "542 chafe");
    REQUIRE(answer.candidates.front().where);
    CHECK(answer.candidates.front().where->unit == Unit::percent);
}

TEST_CASE("one reading that contradicts the others is named as doubtful") {
    const MatchAnswer answer =
        match(solver(), cab_blower(),
              job_of(cab_blower(), {"key run, hi B1+ to B1- 14.05V", "key run, hi F7.2 to B1- 13.95V",
                                    "key run, hi C304.1 to B1- 13.77V", "key run, hi clamp 542 20.2A",
                                    "key run, hi C304.2 to B1- 6.1V"}));
    REQUIRE(answer.doubtful.size() == 1);
    CHECK(answer.doubtful.front().reading == "5");
    CHECK(answer.doubtful.front().probability > 0.5);
}

TEST_CASE("healthy readings leave nothing in the lead", "[checked]") {
    const MatchAnswer answer =
        match(solver(), cab_blower(),
              job_of(cab_blower(),
                     {"lo,ml,mh,hi blower normal", "key run, hi B1+ to B1- 14.04V", "key run, hi C304.1 to B1- 13.77V",
                      "key run, hi C304.2 to B1- 0.19V", "key run, hi clamp 542 20.1A"}));
    CHECK(answer.candidates.front().fault == "nothing");
}

TEST_CASE("readings that nothing explains are said to be none of these") {
    const MatchAnswer answer =
        match(solver(), cab_blower(),
              job_of(cab_blower(), {"key run, off B1+ to B1- 14.2V", "key run, off F7.2 to B1- 3.1V",
                                    "key run, off C304.1 to B1- 9.4V", "key run, off C304.2 to B1- 1.2V",
                                    "key run, off SP1 to B1- 8.0V", "key run, off clamp 542 33.0A",
                                    "key run, off C101.4@541 to B1- 6.6V"}));
    CHECK(answer.none_of_these > 0.5);
}

TEST_CASE("without a key word or the battery's volts the supply is unknown, and said to be") {
    const MatchAnswer unknown = match(solver(), cab_blower(), job_of(cab_blower(), {"hi M1.1 to B1- 12.2V"}));
    CHECK(unknown.supply_unknown);
    CHECK(any_contains(unknown.notes, "supply unknown"));
    CHECK_FALSE(match(solver(), cab_blower(), job_of(cab_blower(), {"hi M1.1 to B1- 12.2V", "hi B1+ to B1- 12.5V"}))
                    .supply_unknown);
    CHECK_FALSE(match(solver(), cab_blower(), job_of(cab_blower(), {"key on, hi M1.1 to B1- 12.2V"})).supply_unknown);
}

TEST_CASE("with an unknown supply a low reading alone is weak evidence, beside the battery's volts it is strong") {
    const auto nothing = [](const std::vector<std::string>& readings) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), readings));
        return find(answer, "nothing")->probability;
    };
    const double alone = nothing({"hi M1.1 to B1- 12.0V"});
    CHECK(nothing({"hi M1.1 to B1- 12.0V", "hi B1+ to B1- 14.1V"}) < 0.4 * alone);
}

TEST_CASE("a zero through a probe is weak evidence") {
    const auto open = [](const std::string& reading) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), {"key run, hi blower normal", reading}));
        double sum = 0;
        for (const Candidate& c : answer.candidates) {
            if (c.mode == "open" || c.mode == "blown") sum += c.probability;
        }
        return sum;
    };
    CHECK(open("key run, hi C304.1 to B1- 0.00V") < 0.6);
}

TEST_CASE("a fuse seen good clears what blows it", "[checked]") {
    const MatchAnswer answer = match_all(job_of(cab_blower(), {"hi blower dead", "fuse F7 good"}));
    const MatchAnswer blown = match_all(job_of(cab_blower(), {"hi blower dead", "fuse F7 blown"}));
    CHECK(find(answer, "542 chafe")->probability < 0.05 * find(blown, "542 chafe")->probability);
    CHECK(find(answer, "F7 blown")->probability < 0.05 * find(blown, "F7 blown")->probability);
    // A fuse that is open but looks good stays.
    CHECK(find(answer, "F7 open")->probability > find(blown, "F7 open")->probability);
}

TEST_CASE("a new part that changes nothing clears the old one, one that cures it was the cause", "[checked]") {
    const auto motor = [](const std::vector<std::string>& readings) {
        double sum = 0;
        for (const Candidate& c : match_all(job_of(cab_blower(), readings)).candidates) {
            if (c.repair == "M1") sum += c.probability;
        }
        return sum;
    };
    // With the fuse seen good: a seized motor may have blown it, and then a new one stays dead too.
    const double before = motor({"lo,ml,mh,hi blower dead", "fuse F7 good"});
    CHECK(motor({"lo,ml,mh,hi blower dead", "fuse F7 good", "new M1, hi blower dead"}) < 0.4 * before);
    CHECK(motor({"lo,ml,mh,hi blower dead", "new M1, hi blower normal"}) > 0.75);
}

TEST_CASE("what is seen at a place raises the faults there") {
    const double before = find(match_all(job_of(cab_blower(), {"hi blower slow"})), "C101.4 resistance")->probability;
    const double after =
        find(match_all(job_of(cab_blower(), {"hi blower slow", "look C101.4 crust"})), "C101.4 resistance")
            ->probability;
    CHECK(after > 2 * before);
}

TEST_CASE("weak air while the blower runs fast is a blocked way for the air", "[checked]") {
    const MatchAnswer answer = match(solver(), cab_blower(), job_of(cab_blower(), {"hi blower fast", "hi air weak"}));
    CHECK(answer.candidates.front().fault == "M1 blocked-air");
}

TEST_CASE("sometimes dead, and running again after a knock, is the motor (common practice, no source)") {
    const MatchAnswer answer =
        match_all(job_of(cab_blower(), {"sometimes, lo,ml,mh,hi blower dead", "hi, tap M1 blower runs"}));
    CHECK(answer.candidates.front().place == "M1");
    CHECK(find(answer, "M1 dead-spot")->probability > find(answer, "R1 limiter open")->probability);
    CHECK(answer.none_of_these < 0.1);
}

TEST_CASE("what the first suspect shows does not tell against it, though others make the reading doubtful") {
    // No volts before the motor: a break before it shows that, a motor that is open, as likely, does not.
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/cases/BC088.job.toml");
    REQUIRE(reading.job);
    MatchOptions options;
    options.keep = 1000;
    const MatchAnswer answer = match(solver(), *reading.circuit, *reading.job, options);
    REQUIRE_FALSE(answer.candidates.empty());
    const Candidate& first = answer.candidates.front();
    INFO(first.fault << "\n" << (first.against.empty() ? "" : first.against.front()));
    CHECK(any_contains(first.because, "2: 0 V at C4.1"));
    CHECK_FALSE(any_contains(first.against, "2: "));
    CHECK_FALSE(answer.doubtful.empty());
}

TEST_CASE("dead only sometimes speaks for what may touch, against what is held fast (common practice, no source)") {
    // A pin that may touch is dead now and then four times as often as a seized shaft (0.6 and 0.15, ASSUMED).
    const auto odds = [](const std::string& reading) {
        const MatchAnswer answer = match_all(job_of(cab_blower(), {reading}));
        return find(answer, "C101.4 open")->probability / find(answer, "M1 seized")->probability;
    };
    CHECK(odds("sometimes, lo,ml,mh,hi blower dead") > 2 * odds("lo,ml,mh,hi blower dead"));
}

TEST_CASE("a loose joint may be normal in one reading and dead in another", "[checked]") {
    const MatchAnswer answer =
        match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower normal", "sometimes, lo,ml,mh,hi blower dead"}));
    CHECK(find(answer, "C101.4 open")->probability > 10 * find(answer, "F7 blown")->probability);
}

TEST_CASE("a fuse just fitted that goes with the switch off is not a seized motor") {
    const MatchAnswer answer = match_all(job_of(cab_blower(), {"hi blower dead", "off, new F7 fuse F7 blown at once"}));
    CHECK(find(answer, "542 chafe")->probability > find(answer, "M1 seized")->probability);
}

TEST_CASE("what is not weighed is kept and named") {
    const MatchAnswer answer =
        match(solver(), cab_blower(), job_of(cab_blower(), {"hi blower dead", "hi inrush 542 78A"}));
    CHECK(answer.readings == 2);
    CHECK(any_contains(answer.notes, "not weighed yet: reading 2 (inrush)"));
}

TEST_CASE("ohms of a part in the hand tell its inside", "[checked]") {
    // The pack's chain is 1.2 + 0.7 + 0.35 ohm; an open coil or limiter makes it open, whatever it is plugged into.
    const MatchAnswer sound = match_all(job_of(cab_blower(), {"lo blower dead", "unplug C303, R1.1 to R1.4 2.25ohm"}));
    const MatchAnswer broken = match_all(job_of(cab_blower(), {"lo blower dead", "unplug C303, R1.1 to R1.2 open"}));
    CHECK(broken.candidates.front().fault == "R1 coil 1-2 open");
    CHECK(find(sound, "R1 coil 1-2 open")->probability < 0.05);
    CHECK(find(sound, "R1 limiter open")->probability < 0.05);
    // A fuse that looks whole and measures open: it has failed, or something has blown it; nothing behind a whole fuse.
    const MatchAnswer dead = match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "pull F7, F7.1 to F7.2 open"}));
    const MatchAnswer whole =
        match_all(job_of(cab_blower(), {"lo,ml,mh,hi blower dead", "pull F7, F7.1 to F7.2 0.0ohm"}));
    CHECK(find(dead, "F7 blown")->probability > 5 * find(whole, "F7 blown")->probability);
    CHECK(find(dead, "M1 open")->probability < 0.2 * find(whole, "M1 open")->probability);
    CHECK(find(dead, "M1 open")->probability < find(dead, "F7 blown")->probability);
}

TEST_CASE("ohms of the harness with the plug off tell a broken ground", "[checked]") {
    const std::vector<std::string> dead = {"lo,ml,mh,hi blower dead"};
    const auto with = [&](const std::string& reading) {
        std::vector<std::string> readings = dead;
        readings.push_back(reading);
        return match_all(job_of(cab_blower(), readings));
    };
    // The relay's contact side to ground: 820a and G201.
    const MatchAnswer open = with("key off, unplug C304, K3.87@820a to B1- open");
    const MatchAnswer sound = with("key off, unplug C304, K3.87@820a to B1- 0.1ohm");
    CHECK(find(open, "G201 open")->probability > 5 * find(sound, "G201 open")->probability);
    const MatchAnswer beeps = with("key off, beep K3.87@820a to B1- yes");
    CHECK(find(open, "820a open")->probability > 5 * find(beeps, "820a open")->probability);
}

TEST_CASE("faults that no probe can part are listed as the same") {
    const MatchAnswer answer = match(
        solver(), cab_blower(), job_of(cab_blower(), {"lo,ml,mh blower dead", "hi blower normal", "fuse F7 good"}));
    const Candidate& leader = answer.candidates.front();
    CHECK(leader.fault == "R1 limiter open");
    CHECK((contains(leader.same_as, "R1 coil 3-4 open") || contains(leader.alike_so_far, "R1 coil 3-4 open")));
}

TEST_CASE("priors: classes by the table, things alike, [care] raised", "[checked]") {
    const Circuit& circuit = cab_blower();
    const Priors priors = priors_of(circuit, Job{});
    double sum = priors.nothing + priors.none;
    std::map<std::string, double> by_phrase;
    for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
        sum += priors.modes[i];
        by_phrase[circuit.modes[i]->phrase()] = priors.modes[i];
    }
    CHECK(sum == Approx(1).margin(1e-9));
    // A thing's share is divided over its modes by their weights before [care] raises some.
    std::map<std::string, double> weight;
    for (const ModePtr& mode : circuit.modes) {
        const bool counts = mode->catalogued && mode->fault_class != FaultClass::miswired;
        weight[mode->place] += counts ? mode->share : 0;
    }
    const auto expected = [&](const std::string& place, const std::string& like, double factor) {
        return factor * weight[like] / weight[place];
    };
    CHECK(by_phrase["542 chafe"] / by_phrase["541 chafe"] == Approx(expected("542", "541", 8)));  // prior_hot_rubs
    CHECK(by_phrase["C101.4 resistance"] / by_phrase["C304.1 resistance"] ==
          Approx(expected("C101.4", "C304.1", 4)));                                       // prior_wet_rust
    CHECK(by_phrase["C303.1 resistance"] == Approx(3 * by_phrase["C304.1 resistance"]));  // prior_heat_cycled
}

TEST_CASE("a part fitted a week ago is rarely the root, and the job's history counts for its place") {
    const Circuit& circuit = cab_blower();
    Job job;
    job.fitted.push_back({circuit.find_part("R1"), "7 days ago"});
    job.history.push_back("541 repaired-before by the owner, wet carpet");
    const Priors plain = priors_of(circuit, Job{});
    const Priors told = priors_of(circuit, job);
    for (std::size_t i = 0; i < circuit.modes.size(); ++i) {
        if (circuit.modes[i]->repair == "R1") CHECK(told.modes[i] < 0.5 * plain.modes[i]);
        if (circuit.modes[i]->phrase() == "541 open") CHECK(told.modes[i] > 2 * plain.modes[i]);
    }
}
