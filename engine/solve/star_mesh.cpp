#include "engine/solve/star_mesh.hpp"

#include <algorithm>

namespace voltfall {

namespace {

/// Plans kept at the most: a catalogue's faults make a few hundred topologies.
constexpr std::size_t most_plans = 4096;

struct Neighbour {
    int node{};
    int slot{};
};

/// The graph of nodes while they go, one after the other.
class Planner {
public:
    Planner(std::span<const BranchEnds> ends, int nodes) : at_(nodes + 1), gone_(nodes + 1, 0), by_degree_(1) {
        plan_.nodes = nodes;
        plan_.branch_slot.reserve(ends.size());
        for (const auto& [a, b] : ends) {
            plan_.branch_slot.push_back(a == b             ? StarMeshPlan::nowhere
                                        : a == 0 || b == 0 ? StarMeshPlan::to_reference
                                                           : slot_between(a, b));
        }
        for (int node = 1; node <= nodes; ++node) file(node);
    }

    StarMeshPlan run() {
        plan_.order.reserve(plan_.nodes);
        plan_.first.reserve(plan_.nodes + 1);
        for (int step = 0; step < plan_.nodes; ++step) eliminate(next());
        plan_.first.push_back(static_cast<int>(plan_.to.size()));
        return std::move(plan_);
    }

private:
    int slot_between(int a, int b) {
        const std::vector<Neighbour>& shorter = at_[a].size() <= at_[b].size() ? at_[a] : at_[b];
        const int other = &shorter == &at_[a] ? b : a;
        for (const Neighbour& neighbour : shorter) {
            if (neighbour.node == other) return neighbour.slot;
        }
        const int slot = plan_.slots++;
        at_[a].push_back({b, slot});
        at_[b].push_back({a, slot});
        return slot;
    }

    /// Notes a node under its degree; an older note of another degree is passed over when it comes up.
    void file(int node) {
        const std::size_t degree = at_[node].size();
        if (degree >= by_degree_.size()) by_degree_.resize(degree + 1);
        by_degree_[degree].push_back(node);
        std::push_heap(by_degree_[degree].begin(), by_degree_[degree].end(), std::greater<>());
        least_ = std::min(least_, degree);
    }

    int next() {
        for (;;) {
            std::vector<int>& heap = by_degree_[least_];
            if (heap.empty()) {
                ++least_;
                continue;
            }
            std::pop_heap(heap.begin(), heap.end(), std::greater<>());
            const int node = heap.back();
            heap.pop_back();
            if (!gone_[node] && at_[node].size() == least_) return node;
        }
    }

    void eliminate(int node) {
        gone_[node] = 1;
        plan_.order.push_back(node);
        plan_.first.push_back(static_cast<int>(plan_.to.size()));
        const std::vector<Neighbour> later = std::move(at_[node]);
        for (const Neighbour& neighbour : later) {
            plan_.to.push_back(neighbour.node);
            plan_.slot.push_back(neighbour.slot);
            std::erase_if(at_[neighbour.node], [&](const Neighbour& back) { return back.node == node; });
        }
        for (std::size_t x = 0; x < later.size(); ++x) {
            for (std::size_t y = x + 1; y < later.size(); ++y) {
                plan_.pair_slot.push_back(slot_between(later[x].node, later[y].node));
            }
        }
        for (const Neighbour& neighbour : later) file(neighbour.node);
    }

    StarMeshPlan plan_;
    std::vector<std::vector<Neighbour>> at_;  ///< nodes still there, by node
    std::vector<char> gone_;
    std::vector<std::vector<int>> by_degree_;  ///< heaps of nodes, least number first
    std::size_t least_{0};
};

std::uint64_t print_of(std::span<const BranchEnds> ends, int nodes) {
    std::uint64_t print = 0xcbf29ce484222325ULL ^ static_cast<std::uint64_t>(nodes);
    for (const auto& [a, b] : ends) {
        const auto word = static_cast<std::uint64_t>(a) << 32 | static_cast<std::uint64_t>(b);
        print = (print ^ word) * 0x100000001b3ULL;
        print ^= print >> 29;
    }
    return print;
}

}  // namespace

StarMeshPlan plan_star_mesh(std::span<const BranchEnds> ends, int nodes) {
    return Planner(ends, nodes).run();
}

std::shared_ptr<const StarMeshPlan> StarMeshPlans::plan_for(std::span<const BranchEnds> ends, int nodes) {
    const std::uint64_t print = print_of(ends, nodes);
    const std::lock_guard lock(lock_);
    const auto [from, to] = kept_.equal_range(print);
    for (auto entry = from; entry != to; ++entry) {
        if (entry->second.nodes == nodes && std::ranges::equal(entry->second.ends, ends)) return entry->second.plan;
    }
    if (kept_.size() >= most_plans) kept_.clear();
    ++made_;
    auto plan = std::make_shared<const StarMeshPlan>(plan_star_mesh(ends, nodes));
    kept_.emplace(print, Entry{{ends.begin(), ends.end()}, nodes, plan});
    return plan;
}

void StarMesh::begin(std::shared_ptr<const StarMeshPlan> plan, double shunt) {
    plan_ = std::move(plan);
    const auto width = static_cast<std::size_t>(plan_->nodes) + 1;
    mesh_.assign(plan_->slots, 0.0);
    ground_.assign(width, shunt);
    inverse_.resize(width);
}

void StarMesh::eliminate() {
    const StarMeshPlan& plan = *plan_;
    const int* pair = plan.pair_slot.data();
    double* const mesh = mesh_.data();
    for (int step = 0; step < plan.nodes; ++step) {
        const int node = plan.order[step];
        const int first = plan.first[step];
        const int last = plan.first[step + 1];
        double sum = ground_[node];
        for (int e = first; e < last; ++e) sum += mesh[plan.slot[e]];
        const double inverse = inverse_[node] = 1 / sum;
        const double leak = ground_[node] * inverse;
        for (int e = first; e < last; ++e) {
            const double siemens = mesh[plan.slot[e]];
            ground_[plan.to[e]] += siemens * leak;
            const double share = siemens * inverse;
            for (int f = e + 1; f < last; ++f) mesh[*pair++] += share * mesh[plan.slot[f]];
        }
    }
}

void StarMesh::solve(std::span<double> amps) const {
    const StarMeshPlan& plan = *plan_;
    for (int step = 0; step < plan.nodes; ++step) {
        const double volts = amps[plan.order[step]] * inverse_[plan.order[step]];
        if (volts == 0) continue;
        for (int e = plan.first[step]; e < plan.first[step + 1]; ++e) amps[plan.to[e]] += mesh_[plan.slot[e]] * volts;
    }
    for (int step = plan.nodes; step-- > 0;) {
        const int node = plan.order[step];
        double sum = amps[node];
        for (int e = plan.first[step]; e < plan.first[step + 1]; ++e) sum += mesh_[plan.slot[e]] * amps[plan.to[e]];
        amps[node] = sum * inverse_[node];
    }
    amps[0] = 0;
}

}  // namespace voltfall
