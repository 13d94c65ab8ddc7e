// What showed the fault is looked at again; no reading after the repair may be a faulty vehicle's.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "engine/proof/proof_case.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

/// Suspects that the readings before the repair left, and that those after it must be able to see.
constexpr double worth_excluding = 0.05;
constexpr std::size_t most_excluded = 5;
/// ln of twenty: what a sound vehicle explains twenty times better is no longer there.
constexpr double excluded = 3;

/// A fuse, the air or a relay: seen or heard, and to be seen again.
bool is_seen_again(const Measurement& measurement) {
    return std::holds_alternative<FuseReading>(measurement) || std::holds_alternative<AirReading>(measurement) ||
           std::holds_alternative<RelayReading>(measurement);
}

bool same_thing(const StageReadings& after, const JudgedReading& now, const ProofCase& of, const JudgedReading& was) {
    if (!(tested_of(now.reading->measurement) == tested_of(was.reading->measurement))) return false;
    if (std::holds_alternative<FuseReading>(was.reading->measurement)) return true;
    const State* state = of.before.state_of(was);
    return state == nullptr || after.stands_in(now, *state);
}

Test again(const JudgedReading& was) {
    Test test = test_of(*was.reading);
    if (std::holds_alternative<FuseReading>(was.reading->measurement)) {
        test.state = {};
        return test;
    }
    test.state.earlier = test.state.sometimes = false;
    return test;
}

void check_again(const ProofCase& of, const JudgedReading& was, ProofChecks& checks) {
    ProofCheck check{.sort = CheckSort::seen_again, .what = write_test(of.circuit, again(was))};
    const bool known =
        std::any_of(checks.begin(), checks.end(), [&](const ProofCheck& c) { return c.what == check.what; });
    if (known) return;
    check.before = value_text(of.circuit, *was.reading);
    const JudgedReading* found = nullptr;
    for (const JudgedReading& now : of.after.judged()) {
        if (!same_thing(of.after, now, of, was)) continue;
        if (found == nullptr || found->sound) found = &now;
    }
    if (found == nullptr) {
        check.why = "not looked at since the repair";
    } else {
        check.after = value_text(of.circuit, *found->reading);
        check.result = found->sound ? CheckResult::passed : CheckResult::failed;
    }
    if (check.result != CheckResult::passed) check.closes = check.what;
    checks.push_back(std::move(check));
}

bool told_already(const ProofChecks& checks, const std::string& what) {
    return std::any_of(checks.begin(), checks.end(),
                       [&](const ProofCheck& c) { return c.what == what || c.closes == what; });
}

/// What a load does is judged by its own checks, warmth where a limit of its place stands.
bool judged_elsewhere(const JudgedReading& now, const ProofChecks& checks) {
    const Measurement& m = now.reading->measurement;
    if (const auto* heat = std::get_if<HeatReading>(&m)) return told_already(checks, "warmth of " + heat->place);
    return std::holds_alternative<LoadReading>(m) || is_seen_again(m);
}

}  // namespace

void check_same_again(const ProofCase& of, ProofChecks& checks) {
    for (const JudgedReading& was : of.before.judged())
        if (!was.sound && is_seen_again(was.reading->measurement)) check_again(of, was, checks);
    for (const JudgedReading& now : of.after.judged()) {
        const bool seen = is_seen_again(now.reading->measurement);
        if (now.sound || (judged_elsewhere(now, checks) && !seen)) continue;
        ProofCheck check{.what = write_test(of.circuit, test_of(*now.reading)), .result = CheckResult::failed};
        if (told_already(checks, check.what)) continue;
        check.after = value_text(of.circuit, *now.reading);
        check.why = now.read ? "a sound vehicle reads " + as_meter(now.expected, now.is_amps) + " there"
                             : "not what a sound vehicle shows";
        check.closes = check.what;
        checks.push_back(std::move(check));
    }
}

void check_not_blind(const ProofCase& of, ProofChecks& checks) {
    if (of.after.empty()) return;
    std::size_t seen = 0;
    std::vector<std::string> left;
    for (const Suspect* suspect : likeliest_faults(of.weighed)) {
        if (suspect->probability < worth_excluding || seen == most_excluded) break;
        ++seen;
        const Trial trial{suspect->best.size, suspect->best.where, suspect->world()};
        if (of.after.speaks_against(*suspect->mode, trial) >= excluded) continue;
        const std::optional<SizeRange>& size = suspect->mode->size;
        left.push_back(suspect->phrase() + (size ? " " + two_digits(suspect->best.size, size->unit) : ""));
    }
    if (seen == 0) return;
    ProofCheck check{.sort = CheckSort::fault, .what = "the fault is gone", .result = CheckResult::passed};
    if (left.empty()) {
        check.why = "with it still there the readings after the repair would be others";
    } else {
        check.result = CheckResult::open;
        check.why = fmt::format("with {} still there these readings would be much the same", fmt::join(left, " or "));
        check.closes = "the readings that showed the fault, again: same state, same load";
    }
    checks.push_back(std::move(check));
}

}  // namespace voltfall
