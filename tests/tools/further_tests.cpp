#include "tests/tools/further_tests.hpp"

#include <algorithm>

#include "engine/readings/found_fuses.hpp"
#include "engine/readings/technician.hpp"
#include "netlists/files/tools_line.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall {

namespace {

/// As the job left it: with the fuses that it found blown, and those that it saw whole.
Vehicle vehicle_of(const Circuit& circuit, const Job& job, std::vector<Fault> faults) {
    Vehicle vehicle{&circuit, std::move(faults), {}};
    FoundFuses found(testing::solver(), circuit);
    for (const Reading& reading : job.readings) {
        found.renewed_by(reading);
        found.note(reading);
        const auto* seen = std::get_if<FuseReading>(&reading.measurement);
        if (seen && seen->word == "good" && !reading.state.earlier) vehicle.seen_whole.push_back(seen->part);
    }
    for (const PartId fuse : found.open()) vehicle.opened.push_back({fuse, 0});
    return vehicle;
}

}  // namespace

FurtherTests further_tests(const Circuit& circuit, const Job& job, std::vector<Fault> faults, std::size_t most) {
    Technician technician(testing::solver(), vehicle_of(circuit, job, std::move(faults)), exact_meters(),
                          usual_tools());
    FurtherTests worked{job, 0, 0, {}};
    std::vector<Test> taken;
    while (true) {
        NextAnswer next = next_tests(testing::solver(), circuit, worked.job);
        worked.stop = std::move(next.stop);
        const auto fresh = std::find_if(next.tests.begin(), next.tests.end(), [&](const TestProposal& proposal) {
            return std::find(taken.begin(), taken.end(), proposal.test) == taken.end();
        });
        if (worked.stop || fresh == next.tests.end() || worked.tests == most) return worked;
        taken.push_back(fresh->test);
        worked.minutes += fresh->minutes;
        if (fresh->minutes > 0) ++worked.tests;
        if (const auto measured = technician.measure(fresh->test)) add_reading(worked.job, measured->reading);
    }
}

}  // namespace voltfall
