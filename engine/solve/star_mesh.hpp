// Solves a network of conductances by eliminating one node after the other, star to mesh.
#pragma once

#include <cstdint>
#include <memory>
#include <mutex>
#include <span>
#include <unordered_map>
#include <vector>

namespace voltfall {

/// The two nodes of a branch; node 0 is the reference.
struct BranchEnds {
    int a{};
    int b{};

    bool operator==(const BranchEnds&) const = default;
};

/// In which order the nodes of one topology are eliminated, and where each elimination puts its new conductances. The
/// order is by least degree, ties by node number, so that it does not depend on values.
struct StarMeshPlan {
    static constexpr int to_reference = -1;  ///< a branch from a node to node 0
    static constexpr int nowhere = -2;       ///< a branch whose ends are one node

    int nodes{0};                  ///< without node 0
    std::vector<int> order;        ///< node eliminated at each step
    std::vector<int> first;        ///< step -> first of its neighbours in `to` and `slot`; one more than steps
    std::vector<int> to;           ///< neighbours that are still there
    std::vector<int> slot;         ///< conductance between the node and that neighbour
    std::vector<int> pair_slot;    ///< conductance between each two of its neighbours, step after step
    std::vector<int> branch_slot;  ///< branch -> its conductance, `to_reference` or `nowhere`
    int slots{0};
};

/// Makes the plan of a topology. `ends` by branch, nodes 1 to `nodes`.
StarMeshPlan plan_star_mesh(std::span<const BranchEnds> ends, int nodes);

/// Plans kept by topology; at most some thousand, then all are forgotten. A plan handed out stays whole. May be called
/// from several threads.
class StarMeshPlans {
public:
    std::shared_ptr<const StarMeshPlan> plan_for(std::span<const BranchEnds> ends, int nodes);
    long made() const {
        const std::lock_guard lock(lock_);
        return made_;
    }

private:
    struct Entry {
        std::vector<BranchEnds> ends;
        int nodes{0};
        std::shared_ptr<const StarMeshPlan> plan;
    };
    mutable std::mutex lock_;
    std::unordered_multimap<std::uint64_t, Entry> kept_;
    long made_{0};
};

/// The conductances of one network and their elimination. Every node must have a conductance to the reference, directly
/// or through others (an idle shunt is enough). The matrix is a graph Laplacian with positive weights, and eliminating
/// it star-mesh adds positive numbers only, so that nothing cancels: a microohm beside a teraohm costs no digits.
class StarMesh {
public:
    /// Starts anew: `ends` by branch as the plan was made for, `shunt` siemens from every node to the reference.
    void begin(std::shared_ptr<const StarMeshPlan> plan, double shunt);
    /// More siemens from one node to the reference, or across a branch.
    void add_shunt(int node, double siemens) { ground_[node] += siemens; }
    void add(std::size_t branch, BranchEnds ends, double siemens) {
        const int slot = plan_->branch_slot[branch];
        if (slot == StarMeshPlan::to_reference) ground_[ends.a + ends.b] += siemens;
        if (slot >= 0) mesh_[slot] += siemens;
    }
    void eliminate();
    /// Volts for the amperes driven into each node, in place; `amps[0]` becomes 0. After `eliminate`.
    void solve(std::span<double> amps) const;
    int nodes() const { return plan_->nodes; }
    const std::shared_ptr<const StarMeshPlan>& plan() const { return plan_; }

private:
    std::shared_ptr<const StarMeshPlan> plan_;
    std::vector<double> mesh_;
    std::vector<double> ground_;
    std::vector<double> inverse_;  ///< of each node's sum of conductances when it went
};

}  // namespace voltfall
