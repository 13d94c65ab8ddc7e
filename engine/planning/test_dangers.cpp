#include "engine/planning/test_dangers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "engine/diagnosis/suspect_trials.hpp"
#include "engine/heat/aftermath.hpp"
#include "engine/planning/extra_states.hpp"
#include "engine/planning/made_conditions.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// Suspects below this are not followed, and more of them than this neither.
constexpr double followed_above = 0.05;
constexpr std::size_t most_followed = 6;
/// A test is harmless when nothing is harmed in this many times its minutes; a third of the time to harm is safe.
constexpr double times_over = 3;
/// A state that would be safe for less than this cannot be measured in, s.
constexpr double least_seconds = 5;
/// Current that heats a burnt place on, A.
constexpr double feeding_amps = 1;

bool is_burnt_word(const std::string& word) {
    constexpr std::array<std::string_view, 7> words{"melted", "burnt", "charred", "smoke", "smoked", "brown", "black"};
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::vector<std::string> burnt_places(const Job& job) {
    std::vector<std::string> places;
    for (const Reading& reading : job.readings) {
        if (!reading.state.fitted_new.empty() || !reading.state.new_plugs.empty() || reading.state.earlier) continue;
        if (const auto* look = std::get_if<LookReading>(&reading.measurement)) {
            if (std::any_of(look->words.begin(), look->words.end(), is_burnt_word)) places.push_back(look->place);
        } else if (const auto* smell = std::get_if<SmellReading>(&reading.measurement)) {
            places.push_back(smell->place);
        }
    }
    return places;
}

/// How a load goes is seen within this of turning its switch, s (ASSUMED).
constexpr double look_seconds = 5;

/// A condition is made only where the load may run so long, s (ASSUMED).
constexpr double least_run = 300;

double action_seconds(const TestCandidate& test) {
    // What runs until it is hot has no third of a time to spare.
    if (test.makes && seconds_run(*test.makes) > 0) return seconds_run(*test.makes) / times_over;
    if (test.kind == TestKind::load) return look_seconds;
    const bool clamp = test.kind == TestKind::clamp;
    return 60 * default_value(clamp ? "minutes_clamp" : "minutes_volts");
}

bool is_electrical(const TestCandidate& test) {
    return !test.is_stateless() && test.kind != TestKind::ohms;
}

}  // namespace

TestDangers::TestDangers(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed,
                         const Future& future, const Standings& standings)
    : by_state_(future.questions.states.size()), feeds_burnt_(future.questions.states.size(), false) {
    find_burnt(simulator, circuit, job, future);
    follow(simulator, circuit, job, weighed, future, standings);
}

void TestDangers::find_burnt(Simulator& simulator, const Circuit& circuit, const Job& job, const Future& future) {
    const std::vector<std::string> places = burnt_places(job);
    if (places.empty()) return;
    std::vector<bool> used(feeds_burnt_.size(), false);
    for (const TestCandidate& test : future.tests) used[test.state] = used[test.state] || is_electrical(test);
    std::vector<std::string> names;
    for (std::size_t s = 0; s < feeds_burnt_.size(); ++s) {
        const State& state = future.questions.states[s].state;
        // A lamp in the fuse's seat lets no more through than a bulb takes.
        if (!used[s] || !state.lamp_in.empty()) continue;
        const SettleResult settled = settle(simulator, circuit, state, {});
        if (!settled) continue;
        for (std::uint32_t b = 0; b < circuit.branches.size() && !feeds_burnt_[s]; ++b) {
            const double amps = settled->point.amps[b];
            if (!std::isfinite(amps) || std::abs(amps) < feeding_amps) continue;
            for (const std::string& place : places) {
                if (!sits_there(circuit, circuit.branches[b], place)) continue;
                feeds_burnt_[s] = true;
                if (std::find(names.begin(), names.end(), place) == names.end()) names.push_back(place);
            }
        }
    }
    for (const std::string& name : names) {
        notes_.push_back(
            fmt::format("{} has been hot: nothing is switched on through it until it is mended or unplugged", name));
    }
}

void TestDangers::follow(Simulator& simulator, const Circuit& circuit, const Job& job, const Weighed& weighed,
                         const Future& future, const Standings& standings) {
    std::vector<PartId> opened;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (circuit.parts[i].fuse && found_blown(circuit, job, {i})) opened.push_back({i});
    }
    const HeatModel heat(simulator, circuit);
    std::vector<double> longest(by_state_.size(), 0);
    double longest_of_all = 0;
    std::vector<bool> used(by_state_.size(), false);
    for (const TestCandidate& test : future.tests) {
        if (!is_electrical(test)) continue;
        used[test.state] = true;
        const double seconds = times_over * action_seconds(test);
        longest[test.state] = std::max(longest[test.state], seconds);
        if (!test.makes) longest_of_all = std::max(longest_of_all, seconds);
    }
    for (double& seconds : longest) seconds = std::max(seconds, longest_of_all);
    std::size_t followed = 0;
    std::size_t last = weighed.all();
    for (const Standing& standing : standings.list) {
        if (standing.suspect == last || followed == most_followed) continue;
        const Suspect& suspect = weighed.suspect(standing.suspect);
        if (!suspect.mode || weighed.chance(standing.suspect) < followed_above) continue;
        last = standing.suspect;
        ++followed;
        const std::vector<Fault> faults = faults_at_best(circuit, suspect);
        for (std::size_t s = 0; s < by_state_.size(); ++s) {
            if (!used[s]) continue;
            const AftermathResult aftermath = run_aftermath(simulator, heat, future.questions.states[s].state, faults,
                                                            longest[s], opened, HeatReport::events_only);
            if (!aftermath) continue;
            for (const HeatEvent& event : aftermath->events) {
                const bool harms = event.kind == HeatEventKind::harmed || event.kind == HeatEventKind::limiter_opens;
                if (event.kind == HeatEventKind::fuse_opens) break;
                if (!harms || (by_state_[s] && by_state_[s]->seconds <= event.seconds)) continue;
                by_state_[s] = Danger{
                    event.seconds, event.body == BodyKind::joint,
                    fmt::format("if it is {}, {} heats with {:.0f} W", suspect.phrase(), event.name, event.watts)};
            }
        }
    }
}

std::optional<SafeTime> TestDangers::safe_time(const TestCandidate& test) const {
    if (!is_electrical(test) || !by_state_[test.state]) return std::nullopt;
    // A joint of a guessed size heats in every day's use too: the run ends at the first smell, as its caution says.
    if (test.makes && by_state_[test.state]->joint) return std::nullopt;
    const Danger& danger = *by_state_[test.state];
    if (danger.seconds >= times_over * action_seconds(test)) return std::nullopt;
    return SafeTime{std::max(danger.seconds / times_over, danger.joint ? least_seconds : 0), danger.why};
}

bool TestDangers::forbids(const TestCandidate& test) const {
    if (!is_electrical(test)) return false;
    if (feeds_burnt_[test.state]) return true;
    const auto safe = safe_time(test);
    if (safe && test.makes && seconds_run(*test.makes) > 0) return safe->seconds < least_run;
    return safe && safe->seconds < least_seconds && !by_state_[test.state]->joint;
}

std::string safe_time_caution(const SafeTime& safe) {
    const double rounded = safe.seconds < 30 ? std::floor(safe.seconds) : std::floor(safe.seconds / 10) * 10;
    return fmt::format("switch on for {:.0f} s at most, then let it cool: {}", rounded, safe.why);
}

}  // namespace voltfall
