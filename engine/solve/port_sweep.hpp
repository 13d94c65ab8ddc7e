// Many networks that differ in a few branches, solved through one elimination.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "engine/solve/core_network.hpp"

namespace voltfall {

/// A low-rank update of one elimination for each of its members. The branches in which the members differ and the
/// curved ones are ports: the rest of the network is eliminated once, with a chord in each port's place, and a member
/// is a Newton's method in the volts of its ports.
class PortSweep {
public:
    /// `leader` is the first member; its numbering and branches are read already. All three must outlive the sweep.
    PortSweep(const Network& leader, const TiedNodes& nodes, const CoreBranches& branches);

    /// Takes one more member, if it has the leader's topology, ties and EMFs. False otherwise.
    bool add(const Network& network);
    /// Is a sweep cheaper than solving each member by itself?
    bool pays() const;
    /// Eliminates what the members share.
    void prepare(std::shared_ptr<const StarMeshPlan> plan, StarMesh& mesh);
    /// Solves member `m`, the leader being 0. Nullopt where it does not come to rest, or where so much cancels that
    /// digits of a microvolt are at stake: that member must be solved by itself.
    std::optional<OperatingPoint> solve(std::size_t m, long& steps);

    /// The same, as volts of the unknowns; false where `solve` gives nullopt.
    bool settle(std::size_t m, long& steps);
    /// Moves the volts settled last as amperes do that are left over at the nodes; `left_over` is worked in. `mesh` is
    /// the one prepared. False where that has no answer.
    bool take_in(std::span<double> left_over, const StarMesh& mesh);
    std::span<const double> volts() const { return volts_; }
    std::span<double> memory() { return memory_; }

private:
    struct Member {
        const Network* network{};
        std::vector<OtherSiemens> siemens;  ///< straight branches that differ from the leader's
    };
    struct Port {
        std::uint32_t branch{};
        bool curved{false};
        double chord{0};
    };

    void find_ports();
    bool step(const Member& member, std::vector<double>& volts, double& moved);
    double port_siemens(const Member& member, std::uint32_t branch) const;

    const TiedNodes& nodes_;
    const CoreBranches& branches_;
    std::vector<Member> members_;
    std::vector<Port> ports_;
    std::size_t width_{0};               ///< unknowns and the reference
    std::vector<double> base_;           ///< volts with the chords alone
    std::vector<double> response_;       ///< port after port: volts for an ampere through it
    std::vector<double> port_response_;  ///< ports x ports: volts across one for an ampere through another
    std::vector<double> port_base_;      ///< volts across each port with the chords alone
    std::vector<double> port_volts_;     ///< of the member before, where the next begins
    std::vector<double> excess_;         ///< amperes of each port beyond its chord's
    std::vector<double> excess_slope_;
    std::vector<double> system_;
    std::vector<double> volts_;   ///< of the unknowns of the member settled last
    std::vector<double> memory_;  ///< by branch
    bool limited_{false};
};

}  // namespace voltfall
