// What everything hangs on: branches whose opening alone cuts a load off.
#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <map>
#include <utility>
#include <variant>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/graph/poles.hpp"

namespace voltfall {

namespace {

using PlainGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                         boost::property<boost::edge_index_t, std::size_t>>;

/// Poles by ties through metal only, and through resistors too.
struct Poles {
    std::vector<Pole> metal;
    std::vector<Pole> resistors;
};

/// Does the branch lie from feed to ground by itself, so that no load's current runs through it? So does a diode or a
/// resistor across a coil; a heater that does is a load, one that does not is a ballast.
bool blocks(const NetworkBranch& branch, Carrier kind, const Poles& poles) {
    if (is_diode(branch)) {
        return poles.resistors[branch.a.index] == Pole::minus && poles.resistors[branch.b.index] == Pole::plus;
    }
    const std::vector<Pole>& by = kind == Carrier::resistor ? poles.metal : poles.resistors;
    return kind != Carrier::metal && across_supply(by[branch.a.index], by[branch.b.index]);
}

/// The branches a feed or return may run through, one edge for each pair of joints; edge numbers index `branches`.
struct TieGraph {
    PlainGraph graph;
    std::vector<BranchId> branches;
    std::vector<int> parallel;  ///< how many branches tie the same two joints
};

TieGraph tie_graph(const Network& network, const std::vector<Carrier>& kinds, const Poles& poles) {
    TieGraph ties{PlainGraph(network.joints), {}, {}};
    std::map<std::pair<JointId, JointId>, std::size_t> known;
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (kinds[i] > Carrier::heater || branch.a == branch.b || !network.conducts({i})) continue;
        if (blocks(branch, kinds[i], poles)) continue;
        const auto key = std::minmax(branch.a, branch.b);
        const auto [entry, is_new] = known.try_emplace({key.first, key.second}, ties.branches.size());
        if (!is_new) {
            ++ties.parallel[entry->second];
            continue;
        }
        boost::add_edge(branch.a.index, branch.b.index, ties.branches.size(), ties.graph);
        ties.branches.push_back({i});
        ties.parallel.push_back(1);
    }
    return ties;
}

/// Edges that are alone in their biconnected component: without them their two ends are apart.
std::vector<bool> lone_edges(const TieGraph& ties) {
    std::vector<std::size_t> component(ties.branches.size());
    const auto component_map =
        boost::make_iterator_property_map(component.begin(), boost::get(boost::edge_index, ties.graph));
    const std::size_t count = boost::biconnected_components(ties.graph, component_map);
    std::vector<int> members(count, 0);
    for (const std::size_t c : component) ++members[c];
    std::vector<bool> lone(ties.branches.size());
    for (std::size_t i = 0; i < lone.size(); ++i) lone[i] = members[component[i]] == 1 && ties.parallel[i] == 1;
    return lone;
}

/// Joints that a feed or return must reach: ends of loads and coils, and the minus of a battery in series.
std::vector<JointId> wanted_ends(const Network& network, const std::vector<Carrier>& kinds,
                                 const std::vector<Pole>& poles) {
    std::vector<JointId> ends;
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (kinds[i] == Carrier::load || kinds[i] == Carrier::heater) {
            ends.push_back(branch.a);
            ends.push_back(branch.b);
        } else if (kinds[i] == Carrier::source && poles[branch.b.index] == Pole::plus) {
            ends.push_back(branch.b);
        }
    }
    return ends;
}

/// The pieces that stay together whichever single branch opens, as a forest whose edges are the lone branches.
class PieceForest {
public:
    PieceForest(const Network& network, const TieGraph& ties, const std::vector<bool>& lone) : piece_(network.joints) {
        DisjointSets sets(network.joints);
        for (std::size_t i = 0; i < ties.branches.size(); ++i) {
            const NetworkBranch& branch = network.at(ties.branches[i]);
            if (!lone[i]) sets.join(branch.a.index, branch.b.index);
        }
        for (std::size_t i = 0; i < network.joints; ++i) piece_[i] = sets.set_of(i);
        links_.resize(network.joints);
        for (std::size_t i = 0; i < ties.branches.size(); ++i) {
            if (!lone[i]) continue;
            const NetworkBranch& branch = network.at(ties.branches[i]);
            const std::size_t a = piece_[branch.a.index];
            const std::size_t b = piece_[branch.b.index];
            links_[a].push_back({b, ties.branches[i]});
            links_[b].push_back({a, ties.branches[i]});
        }
    }

    /// Lone branches beyond which, seen from a battery end, there is a wanted joint and no other battery end.
    std::vector<BranchId> cutting(const std::vector<JointId>& battery_ends, const std::vector<JointId>& wanted) const {
        std::vector<int> has_battery(piece_.size(), 0);
        std::vector<int> has_wanted(piece_.size(), 0);
        for (const JointId joint : battery_ends) has_battery[piece_[joint.index]] = 1;
        for (const JointId joint : wanted) has_wanted[piece_[joint.index]] = 1;
        std::vector<Visit> visits;
        std::vector<bool> seen(piece_.size(), false);
        for (const JointId joint : battery_ends) visit_tree(piece_[joint.index], visits, seen);
        std::vector<BranchId> found;
        for (auto visit = visits.rbegin(); visit != visits.rend(); ++visit) {
            if (!visit->by.valid()) continue;
            if (has_wanted[visit->piece] && !has_battery[visit->piece]) found.push_back(visit->by);
            has_wanted[visit->parent] |= has_wanted[visit->piece];
            has_battery[visit->parent] |= has_battery[visit->piece];
        }
        std::sort(found.begin(), found.end());
        return found;
    }

private:
    struct Link {
        std::size_t piece;
        BranchId branch;
    };
    struct Visit {
        std::size_t piece;
        std::size_t parent;
        BranchId by;  ///< invalid at a root
    };

    void visit_tree(std::size_t root, std::vector<Visit>& visits, std::vector<bool>& seen) const {
        if (seen[root]) return;
        seen[root] = true;
        std::size_t next = visits.size();
        for (visits.push_back({root, root, {}}); next < visits.size(); ++next) {
            const std::size_t piece = visits[next].piece;
            for (const Link& link : links_[piece]) {
                if (seen[link.piece]) continue;
                seen[link.piece] = true;
                visits.push_back({link.piece, piece, link.branch});
            }
        }
    }

    std::vector<std::size_t> piece_;
    std::vector<std::vector<Link>> links_;
};

}  // namespace

std::vector<BranchId> bridges(const Network& network) {
    const std::vector<Carrier> kinds = carriers(network);
    const Reach reach(network);
    const Poles poles{reach.poles(Through::metal), reach.poles(Through::resistors)};
    const TieGraph ties = tie_graph(network, kinds, poles);
    std::vector<JointId> battery_ends = reach.supply();
    battery_ends.push_back(network.circuit->reference);
    return PieceForest(network, ties, lone_edges(ties))
        .cutting(battery_ends, wanted_ends(network, kinds, poles.resistors));
}

}  // namespace voltfall
