// A fault that comes and goes is proved gone by counting runs: "failed 3 of 3 hot before, 0 of 2 since; 3 needed".
#include <fmt/format.h>

#include <algorithm>

#include "engine/proof/proof_case.hpp"
#include "engine/proof/rule_of_succession.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Readings of one test in one condition are its runs.
struct Runs {
    Test test;                     ///< without `earlier` and `sometimes`
    std::string condition;         ///< "hot", "wiggle 542"; empty: none was said
    std::vector<State> positions;  ///< in which it failed
    bool comes_and_goes{false};    ///< a reading says so itself
    std::size_t failed{0};
    std::size_t all{0};
    std::size_t failed_after{0};
    std::size_t all_after{0};
};

bool says_sometimes(const Reading& reading) {
    if (reading.state.sometimes) return true;
    if (const auto* fuse = std::get_if<FuseReading>(&reading.measurement)) return fuse->word == "sometimes-blown";
    const auto* load = std::get_if<LoadReading>(&reading.measurement);
    return load != nullptr && load->word == "erratic";
}

std::string condition_of(const StatePhrase& state) {
    std::vector<std::string> words = state.conditions;
    words.insert(words.end(), state.handled.begin(), state.handled.end());
    return fmt::format("{}", fmt::join(words, ", "));
}

bool counts_as_run(const Measurement& measurement) {
    return std::holds_alternative<LoadReading>(measurement) || std::holds_alternative<FuseReading>(measurement) ||
           std::holds_alternative<RelayReading>(measurement) || std::holds_alternative<AirReading>(measurement);
}

/// The same thing in the same condition.
bool same_run(const Runs& runs, const Reading& reading) {
    return runs.test.tested == tested_of(reading.measurement) && runs.condition == condition_of(reading.state);
}

/// One entry for each thing and condition that has failed, with the positions in which it did.
std::vector<Runs> failures(const StageReadings& before) {
    std::vector<Runs> found;
    for (const JudgedReading& judged : before.judged()) {
        const Reading& reading = *judged.reading;
        if (judged.sound || !counts_as_run(reading.measurement)) continue;
        auto runs = std::find_if(found.begin(), found.end(), [&](const Runs& r) { return same_run(r, reading); });
        if (runs == found.end()) {
            Test test = test_of(reading);
            test.state.earlier = test.state.sometimes = false;
            found.push_back({test, condition_of(reading.state), {}});
            runs = std::prev(found.end());
        }
        if (const State* state = before.state_of(judged)) runs->positions.push_back(*state);
        runs->comes_and_goes |= says_sometimes(reading);
    }
    return found;
}

bool in_positions(const Circuit& circuit, const Runs& runs, const State* state) {
    return state == nullptr || runs.positions.empty() ||
           std::any_of(runs.positions.begin(), runs.positions.end(),
                       [&](const State& position) { return same_position(circuit, position, *state); });
}

/// Lines that tell of the thing in a position in which it has failed; several positions in one line are one run.
struct Counted {
    std::size_t failed{0};
    std::size_t all{0};
};
Counted count(const Circuit& circuit, const StageReadings& stage, const Runs& runs) {
    Counted counted;
    const Reading* last = nullptr;
    bool last_failed = false;
    for (const JudgedReading& judged : stage.judged()) {
        if (!same_run(runs, *judged.reading) || !in_positions(circuit, runs, stage.state_of(judged))) continue;
        if (last != judged.reading) {
            ++counted.all;
            last_failed = false;
        }
        if (!judged.sound && !last_failed) {
            ++counted.failed;
            last_failed = true;
        }
        last = judged.reading;
    }
    return counted;
}

}  // namespace

void check_runs(const ProofCase& of, ProofChecks& checks) {
    const bool nothing_found = !of.job.repaired.empty() && of.job.repaired.front().nothing_found();
    for (Runs runs : failures(of.before)) {
        const Counted before = count(of.circuit, of.before, runs);
        runs.failed = before.failed;
        runs.all = before.all;
        const bool counted = runs.comes_and_goes || !runs.condition.empty() || nothing_found || runs.failed < runs.all;
        if (!counted) continue;
        // What is told as "sometimes" failed in one of two runs, as far as anyone has counted.
        if (runs.comes_and_goes && runs.failed == runs.all) ++runs.all;
        const Counted after = count(of.circuit, of.after, runs);
        runs.failed_after = after.failed;
        runs.all_after = after.all;
        const std::size_t needed = sound_runs_needed(runs.failed, runs.all);
        const std::string words = runs.condition.empty() ? std::string("runs") : runs.condition + " runs";
        ProofCheck check{.sort = CheckSort::runs,
                         .what = fmt::format("comes and goes: {}", write_tested(of.circuit, runs.test.tested))};
        check.before = fmt::format("failed {} of {}", runs.failed, runs.all);
        check.after = fmt::format("{} of {}", runs.failed_after, runs.all_after);
        check.limit = fmt::format("{} needed", needed);
        check.why = fmt::format("failed {} of {} {} before, {} of {} since; {} sound ones in a row are needed",
                                runs.failed, runs.all, words, runs.failed_after, runs.all_after, needed);
        if (runs.failed_after > 0)
            check.result = CheckResult::failed;
        else if (runs.all_after >= needed)
            check.result = CheckResult::passed;
        if (check.result != CheckResult::passed) check.closes = write_test(of.circuit, runs.test);
        checks.push_back(std::move(check));
    }
}

}  // namespace voltfall
