// The round trip: every fault of the catalogue is laid into a scenario's circuit, measured at six points in two states
// at the solver's numbers, and matching must find it again. Found: its place leads, or no probe can tell it from the
// leader, or no volts of any state can, or `nothing` leads (or is the same to every probe as the leader) and no
// permitted reading differs. The others are printed, and their share is bounded; where the leader would give the very
// readings that the test chose, to the meter's tolerance, six points were too few to part them. With ONLY="623 chafe"
// in the environment that fault alone is tried, and a miss is printed with its readings.
#include <algorithm>
#include <cstdlib>
#include <set>
#include <sstream>

#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include "engine/diagnosis/match.hpp"
#include "engine/readings/displays.hpp"
#include "engine/readings/quantity_evidence.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/scenarios/point_choice.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/solvers.hpp"

using namespace voltfall;

namespace {

constexpr int processes = 2;
/// Share of a circuit's faults that come back at least, measured: 166 of 167, 143 of 148, 170 of 175. To be raised and
/// never lowered. Of the 11 that stay away 7 are among the first three: neighbours on one wire, or a single reading
/// that speaks for the fault and may be wrong. The other 4 change readings by less than 0.1 V (a ground wire that
/// touches the ground, a bridge between wires of nearly equal volts); more probable faults lead there.
constexpr double least_found = 0.96;

/// How one fault came back.
struct Outcome {
    std::string fault;
    std::size_t group{};    ///< the leader and what no probe can tell from it
    bool too_few_points{};  ///< another fault leads that gives the same readings at the six points
    std::string failure;    ///< empty when found
};

/// The only fault to try, or null.
const char* only_fault() {
    return std::getenv("ONLY");
}

/// The readings of a choice, as a person would type them, to the millivolt.
std::vector<std::string> readings_of(const FaultBench& bench, const Fault& fault, const Choice& choice,
                                     const std::vector<StateView>& views) {
    std::vector<std::string> readings;
    for (std::size_t at = 0; at < choice.states.size(); ++at) {
        for (const std::size_t point : choice.points) {
            readings.push_back(fmt::format("{}  {} to B1-  {}V", bench.state_phrases()[choice.states[at]],
                                           bench.circuit().joint(bench.points()[point]).name,
                                           write_fixed(views[at].volts[point], 3)));
        }
    }
    for (std::size_t fuse = 0; fuse < bench.fuses().size(); ++fuse) {
        const std::string& name = bench.circuit().part(bench.fuses()[fuse]).name;
        const auto opens =
            std::find_if(views.begin(), views.end(), [&](const StateView& view) { return view.fuse_open[fuse]; });
        if (same_word(fault.mode->place, name)) {
            if (fault.mode->mode != "missing") {
                readings.push_back(
                    fmt::format("fuse {} {}", name, fault.mode->mode == "resistance" ? "good" : "blown"));
            }
        } else if (opens == views.end()) {
            readings.push_back(fmt::format("fuse {} good", name));
        } else {
            const std::size_t state = choice.states[static_cast<std::size_t>(opens - views.begin())];
            readings.push_back(fmt::format("fuse {} blown at {}", name, bench.states()[state].label));
        }
    }
    return readings;
}

bool names_place(const std::vector<std::string>& phrases, const Circuit& circuit, const std::string& place) {
    return std::any_of(phrases.begin(), phrases.end(), [&](const std::string& phrase) {
        return std::any_of(circuit.modes.begin(), circuit.modes.end(), [&](const ModePtr& mode) {
            return same_word(mode->place, place) && same_word(mode->phrase(), phrase);
        });
    });
}

/// The leader as a fault of its best size, or nothing where it is no fault of the catalogue.
std::optional<Fault> fault_of(const Circuit& circuit, const Candidate& candidate) {
    for (const ModePtr& mode : circuit.modes) {
        if (same_word(mode->phrase(), candidate.fault)) {
            return Fault{mode,
                         candidate.size ? candidate.size->best : 0.0,
                         candidate.where ? candidate.where->best : 0.5,
                         {},
                         {}};
        }
    }
    return std::nullopt;
}

/// Empty when the answer finds the fault, else what it said.
std::string failure_of(const FaultBench& bench, const FaultView& seen, const MatchAnswer& answer) {
    if (answer.candidates.empty()) {
        return "no candidate";
    }
    const std::string& place = bench.circuit().modes[seen.mode]->place;
    const Candidate& leader = answer.candidates.front();
    if (same_word(leader.place, place) || names_place(leader.same_as, bench.circuit(), place)) {
        return {};
    }
    const bool may_be_nothing = leader.fault == "nothing" || std::find(leader.same_as.begin(), leader.same_as.end(),
                                                                       "nothing") != leader.same_as.end();
    if (may_be_nothing && !shows_anything(bench, seen)) {
        return {};
    }
    const auto own = std::find_if(answer.candidates.begin(), answer.candidates.end(),
                                  [&](const Candidate& candidate) { return same_word(candidate.place, place); });
    const std::string rank =
        own == answer.candidates.end()
            ? "absent"
            : fmt::format("rank {} with {:.3f}", own - answer.candidates.begin() + 1, own->probability);
    return fmt::format("{} leads with {:.3f}, the place is {}", leader.fault, leader.probability, rank);
}

/// Every point in every state.
Choice everything(const FaultBench& bench) {
    Choice all;
    for (std::size_t i = 0; i < bench.state_phrases().size(); ++i) all.states.push_back(i);
    for (std::size_t i = 0; i < bench.points().size(); ++i) all.points.push_back(i);
    return all;
}

Outcome round_trip(const FaultBench& bench, const Job& bare, std::size_t mode) {
    const Fault fault = bench.usual_fault(mode);
    Outcome outcome{fault.mode->phrase(), 1, false, {}};
    const FaultView seen = bench.view_with_slopes(mode);
    const Choice choice = choose_readings(bench, bare, seen);
    Job job = bare;
    Problems problems;
    std::string typed;
    for (const std::string& reading :
         readings_of(bench, fault, choice, bench.view(std::span(&fault, 1), choice.states))) {
        add_reading(job, bench.circuit(), TypedText::argument("reading", reading), problems);
        typed += "\n      " + reading;
    }
    // A contact that pressure moves is not condemned without its gauge.
    const QuantityTest gas;
    if (!contacts_moved(bench.circuit(), gas).empty()) {
        const double pascal = quantity_found(bench.circuit(), gas, std::span(&fault, 1));
        const std::string gauge = "gas pressure " + gauge_displayed(pascal, Unit::pascal).text;
        add_reading(job, bench.circuit(), TypedText::argument("reading", gauge), problems);
    }
    if (problems.has_errors()) {
        outcome.failure = "reading not understood: " + problems.list().front().message;
        return outcome;
    }
    MatchOptions options;
    options.workers = 1;
    options.keep = bench.circuit().modes.size() + 1;
    const MatchAnswer answer = match(solver(), bench.circuit(), job, options);
    outcome.failure = failure_of(bench, seen, answer);
    if (!outcome.failure.empty()) {
        const std::optional<Fault> leader = fault_of(bench.circuit(), answer.candidates.front());
        outcome.too_few_points = leader && reads_alike(bench, fault, *leader, choice);
        // Where no volts of any state part the two, an ohmmeter on the part in the hand would have to.
        if (outcome.too_few_points && reads_alike(bench, fault, *leader, everything(bench))) {
            outcome.failure.clear();
            outcome.too_few_points = false;
        } else {
            outcome.failure += typed;
        }
    }
    if (!answer.candidates.empty()) {
        outcome.group = 1 + answer.candidates.front().same_as.size();
    }
    return outcome;
}

/// One line of text for each outcome, so that a child can hand its share over.
std::string packed(const Outcome& outcome) {
    std::string failure = outcome.failure;
    std::replace(failure.begin(), failure.end(), '\n', '\v');
    return fmt::format("{}\t{}\t{:d}\t{}\n", outcome.fault, outcome.group, outcome.too_few_points, failure);
}

Outcome unpacked(const std::string& line) {
    const auto first = line.find('\t');
    const auto second = line.find('\t', first + 1);
    Outcome outcome{line.substr(0, first), std::stoul(line.substr(first + 1, second - first - 1)),
                    line.at(second + 1) == '1', line.substr(second + 3)};
    std::replace(outcome.failure.begin(), outcome.failure.end(), '\v', '\n');
    return outcome;
}

/// Runs every fault, each process a share of them.
std::vector<Outcome> round_trips(const FaultBench& bench, const Job& bare, const std::vector<std::size_t>& modes) {
    std::vector<std::pair<pid_t, int>> children;
    for (int share = 0; share < processes; ++share) {
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        const pid_t child = fork();
        REQUIRE(child >= 0);
        if (child == 0) {
            close(ends[0]);
            for (std::size_t at = static_cast<std::size_t>(share); at < modes.size(); at += processes) {
                const std::string line = packed(round_trip(bench, bare, modes[at]));
                if (write(ends[1], line.data(), line.size()) < 0) {
                    _exit(1);
                }
            }
            _exit(0);
        }
        close(ends[1]);
        children.emplace_back(child, ends[0]);
    }
    std::vector<Outcome> outcomes;
    for (const auto& [child, end] : children) {
        std::string text;
        char block[4096];
        for (ssize_t got = 0; (got = read(end, block, sizeof block)) > 0;) {
            text.append(block, static_cast<std::size_t>(got));
        }
        close(end);
        int status = 0;
        waitpid(child, &status, 0);
        CHECK(status == 0);
        std::istringstream lines(text);
        for (std::string line; std::getline(lines, line);) {
            outcomes.push_back(unpacked(line));
        }
    }
    return outcomes;
}

void check_round_trip(const std::string& file) {
    const JobReading reading = read_job_file(PROJECT_DIR "/scenarios/bookmobile/" + file);
    REQUIRE(reading.job);
    const FaultBench bench(reading.circuit);
    std::vector<std::size_t> modes;
    for (std::size_t at = 0; at < reading.circuit->modes.size(); ++at) {
        const FaultMode& mode = *reading.circuit->modes[at];
        if (mode.catalogued && (!only_fault() || mode.phrase() == only_fault())) {
            modes.push_back(at);
        }
    }
    const std::vector<Outcome> outcomes = round_trips(bench, *reading.job, modes);
    CHECK(outcomes.size() == modes.size());
    std::vector<std::size_t> groups;
    std::size_t found = 0;
    std::size_t too_few = 0;
    for (const Outcome& outcome : outcomes) {
        groups.push_back(outcome.group);
        found += outcome.failure.empty() ? 1 : 0;
        too_few += outcome.too_few_points ? 1 : 0;
        if (!outcome.failure.empty()) {
            const std::size_t end = only_fault() ? std::string::npos : outcome.failure.find('\n');
            fmt::print("  {}: {}\n", outcome.fault, outcome.failure.substr(0, end));
        }
        CHECK(outcome.failure.find("not understood") == std::string::npos);
        CHECK(outcome.failure != "no candidate");
    }
    REQUIRE((only_fault() || !groups.empty()));
    if (groups.empty()) {
        return;
    }
    std::sort(groups.begin(), groups.end());
    const std::size_t median = groups[groups.size() / 2];
    fmt::print(
        "{}: {} of {} faults found again, {} not told apart by six points; groups that no probe can split: median {}, "
        "largest {}\n",
        file, found, outcomes.size(), too_few, median, groups.back());
    if (only_fault()) {
        return;
    }
    CHECK(static_cast<double>(found) >= least_found * static_cast<double>(outcomes.size()));
    CHECK(median <= 3);
}

}  // namespace

TEST_CASE("every fault of the cab blower is found again from six points and two states", "[cab]") {
    check_round_trip("cab-blower.toml");
}

TEST_CASE("every fault of the rear blower is found again from six points and two states", "[rear]") {
    check_round_trip("rear-blower.toml");
}

TEST_CASE("every fault of the compressor clutch is found again from six points and two states", "[clutch]") {
    check_round_trip("clutch.toml");
}
