#include <algorithm>

#include "engine/proof/proof_case.hpp"
#include "engine/readings/rounding.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

/// Tests that were taken before, after or both, in the order of the job; a sound vehicle's number beside them.
std::vector<BeforeAfter> side_by_side(const ProofCase& of) {
    std::vector<BeforeAfter> rows;
    const auto row_of = [&](const Reading& reading) -> BeforeAfter& {
        const std::string test = write_test(of.circuit, test_of(reading));
        const auto known =
            std::find_if(rows.begin(), rows.end(), [&](const BeforeAfter& row) { return row.test == test; });
        if (known != rows.end()) return *known;
        rows.push_back({test, {}, {}, {}});
        return rows.back();
    };
    const auto add = [](std::string& cell, const std::string& text) {
        if (cell.empty())
            cell = text;
        else if (cell != text)
            cell += ", " + text;
    };
    for (const Reading& reading : of.job.readings) add(row_of(reading).before, value_text(of.circuit, reading));
    for (const Reading& reading : of.job.after) add(row_of(reading).after, value_text(of.circuit, reading));
    const auto is_supply = [&](const JudgedReading& judged) {
        return reads_supply(of.circuit, judged.reading->measurement);
    };
    for (const JudgedReading& judged : of.before.judged())
        if (judged.read && !is_supply(judged))
            row_of(*judged.reading).sound = as_meter(judged.expected, judged.is_amps);
    for (const JudgedReading& judged : of.after.judged())
        if (judged.read && !is_supply(judged))
            row_of(*judged.reading).sound = as_meter(judged.expected, judged.is_amps);
    return rows;
}

}  // namespace

std::string_view word_of(CheckResult result) {
    switch (result) {
        case CheckResult::passed:
            return "passed";
        case CheckResult::failed:
            return "FAILED";
        case CheckResult::open:
            break;
    }
    return "open";
}

ProofAnswer prove(Simulator& simulator, const Circuit& circuit, const Job& job, const MatchOptions& options) {
    const auto weighed = weigh(simulator, circuit, job, options);
    const StageReadings before(simulator, circuit, job, job.readings);
    const StageReadings after(simulator, circuit, job, job.after);
    const ProofCase of{simulator, circuit, job, *weighed, before, after, concerned_loads(simulator, circuit, before)};
    ProofAnswer answer;
    answer.job = job.job;
    answer.concern = job.concern;
    answer.nothing_found = !job.repaired.empty() && job.repaired.front().nothing_found();
    check_loads(of, answer.checks);
    check_limits_after(of, answer.checks);
    check_same_again(of, answer.checks);
    check_runs(of, answer.checks);
    check_cause(of, answer.checks);
    if (!answer.nothing_found) check_not_blind(of, answer.checks);
    check_together(of, answer.checks);
    answer.proved = std::all_of(answer.checks.begin(), answer.checks.end(),
                                [](const ProofCheck& check) { return check.result == CheckResult::passed; });
    answer.compared = side_by_side(of);
    answer.notes = after.questions().notes;
    answer.minutes = minutes_of_job(circuit, job);
    write_story(of, answer);
    return answer;
}

bool is_still_faulty(const ProofAnswer& proof) {
    return std::any_of(proof.checks.begin(), proof.checks.end(), [](const ProofCheck& check) {
        const bool read = check.sort == CheckSort::load || check.sort == CheckSort::reading ||
                          check.sort == CheckSort::feed || check.sort == CheckSort::ground;
        return read && check.result == CheckResult::failed;
    });
}

}  // namespace voltfall
