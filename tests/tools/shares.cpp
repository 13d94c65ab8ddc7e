// Counts of causes by sort of thing, in folders of cases whose cause is known: what engine/diagnosis/cause_shares
// holds. A cause that others only suggested is no evidence and is not counted.
//   shares FOLDER...
#include <algorithm>
#include <array>
#include <filesystem>
#include <iostream>
#include <map>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>

#include "engine/diagnosis/cause_shares.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/text/suggest.hpp"
#include "tests/tools/expectations.hpp"

namespace voltfall {
namespace {

std::string sort_of_thing(const Circuit& circuit, const FaultMode& mode) {
    static constexpr std::array<std::string_view, joint_sorts> joints{
        "joint: plug", "joint: seat", "joint: terminal", "joint: ground", "joint: splice", "joint: bridge"};
    static constexpr std::array<std::string_view, 11> classes{"joint",           "motor",       "pack",    "wire",
                                                              "switch or relay", "fuse itself", "battery", "load",
                                                              "module",          "miswired",    "outside"};
    if (mode.fault_class == FaultClass::joint)
        return std::string(joints[static_cast<std::size_t>(joint_sort(circuit, mode))]);
    return std::string(classes[static_cast<std::size_t>(mode.fault_class)]);
}

struct Counts {
    double things{};
    std::array<double, 2> found{};  ///< blowers, others
};

/// Equal places of a case share its one cause; of a thing's many faults the thing counts once.
void count_case(const ExpectedRow& row, std::map<std::string, Counts>& counts, std::array<double, 2>& cases) {
    const JobReading reading = read_job_file((row.folder / (row.id + ".job.toml")).string());
    if (!reading.circuit) return;
    const Circuit& circuit = *reading.circuit;
    const auto purpose = static_cast<std::size_t>(purpose_of(circuit));
    ++cases[purpose];
    std::set<std::string> all;
    for (const ModePtr& mode : circuit.modes) {
        const std::string sort = sort_of_thing(circuit, *mode);
        if (mode->catalogued && all.insert(sort + mode->place).second) ++counts[sort].things;
    }
    const auto expected = faults_expected(circuit, row.places);
    if (!expected) return;
    std::map<std::string, std::string> things;  // place and class, and its sort
    for (const ModePtr& mode : circuit.modes) {
        if (!expected->contains(lower(mode->phrase()))) continue;
        const std::string sort = sort_of_thing(circuit, *mode);
        things.emplace(sort + mode->place, sort);
    }
    // A connector that is named as a whole has burnt or lost its grip: its bridge is not meant.
    const auto is = [](std::string_view wanted) { return [wanted](const auto& of) { return of.second == wanted; }; };
    if (std::any_of(things.begin(), things.end(), is("joint: plug"))) std::erase_if(things, is("joint: bridge"));
    for (const auto& [thing, sort] : things) counts[sort].found[purpose] += 1.0 / static_cast<double>(things.size());
}

int run(const std::vector<std::string>& folders) {
    std::map<std::string, Counts> counts;
    std::array<double, 2> cases{};
    std::vector<Skipped> skipped;
    for (const std::string& folder : folders) {
        for (const ExpectedRow& row : read_expectations(folder, skipped)) {
            if (row.certainty != "suggested") count_case(row, counts, cases);
        }
    }
    const double all = cases[0] + cases[1];
    if (all == 0) {
        std::cerr << "usage: shares FOLDER... (a folder holds expect.csv and its jobs)\n";
        return 3;
    }
    fmt::print("{:<16} {:>7} {:>7} {:>15}\n", "cause", "blower", "other", "things a circuit");
    for (const auto& [sort, count] : counts)
        fmt::print("{:<16} {:>7.1f} {:>7.1f} {:>15.1f}\n", sort, count.found[0], count.found[1], count.things / all);
    fmt::print("{:<16} {:>7} {:>7}\n", "cases", cases[0], cases[1]);
    for (const Skipped& one : skipped) std::cerr << fmt::format("shares: left out {}: {}\n", one.what, one.why);
    return 0;
}

}  // namespace
}  // namespace voltfall

int main(int argc, char** argv) {
    return voltfall::run({argv + 1, argv + argc});
}
