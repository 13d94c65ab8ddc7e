// The program's own solver with networks that have no solution: one of many, or every so many.
#pragma once

#include <algorithm>
#include <vector>

#include "tests/support/solvers.hpp"

namespace voltfall::testing {

inline bool same_branches(const Network& one, const Network& other) {
    return std::equal(one.branches.begin(), one.branches.end(), other.branches.begin(), other.branches.end(),
                      [](const NetworkBranch& a, const NetworkBranch& b) {
                          return a.law == b.law && a.added_ohms == b.added_ohms && a.open == b.open &&
                                 a.turning == b.turning && a.a == b.a && a.b == b.b;
                      });
}

/// Solves and follows starts as the program does. Of its calls the `first` one fails, and every `every`-th one behind
/// it (none of those where `every` is 0): a network that has failed once has no solution from then on. Asked by one
/// thread.
class LostSolves final : public TransientSimulator {
public:
    explicit LostSolves(long first, long every = 0) : first_(first), every_(every) {}

    SolveResult solve(const Network& network) override {
        if (is_lost(network)) return tl::unexpected(lost());
        return solver().solve(network);
    }
    TransientResult transient(const Network& network, const TransientRun& wanted) override {
        if (is_lost(network)) return tl::unexpected(lost());
        return ngspice().transient(network, wanted);
    }
    void confirm(const Network& network, const OperatingPoint& point, std::span<const JointId> left_out) override {
        solver().confirm(network, point, left_out);
    }
    std::string version() const override { return ngspice().version(); }

    bool has_lost() const { return calls_ >= first_; }
    /// Solves that were asked for.
    long calls() const { return calls_; }

private:
    static SolveFailure lost() { return {SolveFailure::Kind::no_solution, "lost on purpose"}; }

    bool is_lost(const Network& network) {
        ++calls_;
        const bool now = calls_ == first_ || (every_ > 0 && calls_ > first_ && (calls_ - first_) % every_ == 0);
        if (now && lost_.size() < most_kept) lost_.push_back(network);
        return now || std::any_of(lost_.begin(), lost_.end(),
                                  [&](const Network& known) { return same_branches(known, network); });
    }

    static constexpr std::size_t most_kept = 8;  // to be quick: the first ones are those that are asked for again
    long first_;
    long every_;
    long calls_{0};
    std::vector<Network> lost_;
};

}  // namespace voltfall::testing
