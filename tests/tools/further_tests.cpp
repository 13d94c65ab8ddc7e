#include "tests/tools/further_tests.hpp"

#include <algorithm>
#include <vector>

#include "engine/planning/next.hpp"
#include "engine/readings/found_fuses.hpp"
#include "engine/readings/technician.hpp"
#include "netlists/files/tools_line.hpp"
#include "tests/support/solvers.hpp"

namespace voltfall {

Job with_further_tests(const Circuit& circuit, const Job& job, const FaultMode& cause, double size, std::size_t count) {
    const auto row = std::find_if(circuit.modes.begin(), circuit.modes.end(),
                                  [&](const ModePtr& mode) { return mode.get() == &cause; });
    const double usual = cause.size ? cause.size->usual : 0;
    const Fault fault{*row, size > 0 ? size : usual, 0.5, {}, {}};
    Vehicle vehicle{&circuit, {fault}, {}};
    FoundFuses found(testing::solver(), circuit);
    for (const Reading& reading : job.readings) {
        found.renewed_by(reading);
        found.note(reading);
    }
    for (const PartId fuse : found.open()) vehicle.opened.push_back({fuse, 0});
    for (const Reading& reading : job.readings) {
        const auto* seen = std::get_if<FuseReading>(&reading.measurement);
        if (seen && seen->word == "good" && !reading.state.earlier) vehicle.seen_whole.push_back(seen->part);
    }
    Technician technician(testing::solver(), vehicle, exact_meters(), usual_tools());
    Job worked = job;
    std::vector<Test> taken;
    std::size_t paid = 0;  // to watch what works costs nothing and is no test
    while (paid < count) {
        const NextAnswer next = next_tests(testing::solver(), circuit, worked);
        const auto fresh = std::find_if(next.tests.begin(), next.tests.end(), [&](const TestProposal& proposal) {
            return std::find(taken.begin(), taken.end(), proposal.test) == taken.end();
        });
        if (next.stop || fresh == next.tests.end()) break;
        taken.push_back(fresh->test);
        if (fresh->minutes > 0) ++paid;
        if (const auto measured = technician.measure(fresh->test)) add_reading(worked, measured->reading);
    }
    return worked;
}

}  // namespace voltfall
