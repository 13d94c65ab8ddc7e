#include "tests/tools/orders.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "engine/planning/plan.hpp"
#include "netlists/files/circuit_file.hpp"
#include "netlists/tables/defaults.hpp"
#include "tests/support/solvers.hpp"
#include "tests/tools/vehicles.hpp"

namespace voltfall {

Orders weigh_orders(const Circuit& circuit, std::size_t vehicles, std::uint64_t seed) {
    constexpr std::size_t most_tests = 12;  // beyond that every sequence takes too long
    Orders orders;
    orders.vehicles = vehicles;
    for (const Job& job : jobs_of_vehicles(circuit, vehicles, seed)) {
        SequencingProblem problem = sequencing_problem(testing::solver(), circuit, job, {}, most_tests);
        if (problem.weights.empty()) continue;
        problem.exact_up_to = most_tests;
        const SequencingPlan best = plan_sequence(problem);
        if (!best.exact) continue;
        const SequencingPlan rule = plan_by_rule(problem, default_value("minutes_a_bit"));
        ++orders.computed;
        orders.best_cost += best.cost;
        orders.rule_cost += rule.cost;
        orders.best_minutes += best.root->expected;
        orders.rule_minutes += rule.root->expected;
    }
    const double count = std::max<double>(1, static_cast<double>(orders.computed));
    for (double* sum : {&orders.best_cost, &orders.rule_cost, &orders.best_minutes, &orders.rule_minutes})
        *sum /= count;
    return orders;
}

void print_orders(std::span<const std::filesystem::path> circuits, std::size_t vehicles, std::uint64_t seed) {
    fmt::print("{:<18} {:>8} {:>8} {:>14} {:>8} {:>10} {:>8} {:>6}\n", "circuit", "vehicles", "computed",
               "minutes, best", "by next", "cost, best", "by next", "ratio");
    for (const std::filesystem::path& path : circuits) {
        const CircuitReading reading = read_circuit_file(path.string());
        if (!reading.circuit) continue;
        const Orders orders = weigh_orders(*reading.circuit, vehicles, seed);
        fmt::print("{:<18} {:>8} {:>8} {:>14.1f} {:>8.1f} {:>10.1f} {:>8.1f} {:>6.3f}\n", path.stem().string(),
                   orders.vehicles, orders.computed, orders.best_minutes, orders.rule_minutes, orders.best_cost,
                   orders.rule_cost, orders.rule_cost / orders.best_cost);
    }
}

}  // namespace voltfall
