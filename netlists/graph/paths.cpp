#include "netlists/graph/paths.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <limits>
#include <optional>
#include <set>
#include <utility>
#include <variant>

#include "netlists/circuit/disjoint_sets.hpp"
#include "netlists/graph/poles.hpp"
#include "netlists/platform/thread_kept.hpp"

namespace voltfall {

namespace {

/// Way ohms of a diode: enough that a plain wire beside it is preferred.
constexpr double diode_way_ohms = 0.5;
/// Added for every branch, so that of two ways of equal ohms the shorter one is taken.
constexpr double step_ohms = 1e-9;

/// One way of walking a branch.
struct Step {
    double ohms{};
    BranchId branch;
};
using WayGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Step>;

double way_ohms(const NetworkBranch& branch) {
    const auto plain = plain_ohms(branch.law);
    return plain ? *plain + branch.added_ohms + step_ohms : diode_way_ohms + branch.added_ohms;
}

enum class Direction { with_current, against_current };

/// The ways through branches that stand in a current's way no more than `most`. One vertex more than joints: the
/// last leads to every `start`. Barred branches, by index, are not walked.
WayGraph way_graph(const Network& network, Carrier most, BranchId avoid, const std::vector<JointId>& starts,
                   Direction direction = Direction::with_current, const std::vector<bool>& barred = {}) {
    WayGraph graph(network.joints + 1);
    const std::vector<Carrier> kinds = carriers(network);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const BranchId id{i};
        if (id == avoid || kinds[i] > most || !network.conducts(id) || (i < barred.size() && barred[i])) continue;
        const NetworkBranch& branch = network.branches[i];
        const Step step{way_ohms(branch), id};
        const bool forward = !is_diode(branch) || direction == Direction::with_current;
        const bool backward = !is_diode(branch) || direction == Direction::against_current;
        if (forward) boost::add_edge(branch.a.index, branch.b.index, step, graph);
        if (backward) boost::add_edge(branch.b.index, branch.a.index, step, graph);
    }
    for (const JointId start : starts) boost::add_edge(network.joints, start.index, Step{0, {}}, graph);
    return graph;
}

/// How a vertex was reached: from which vertex, by which branch.
struct Arrival {
    static constexpr std::size_t nowhere = std::numeric_limits<std::size_t>::max();
    std::size_t from{nowhere};
    BranchId branch;
};

class RememberArrivals : public boost::default_dijkstra_visitor {
public:
    explicit RememberArrivals(std::vector<Arrival>& arrivals) : arrivals_(&arrivals) {}
    template <class Edge>
    void edge_relaxed(Edge edge, const WayGraph& graph) const {
        (*arrivals_)[boost::target(edge, graph)] = {boost::source(edge, graph), graph[edge].branch};
    }

private:
    std::vector<Arrival>* arrivals_;
};

/// The ways with the fewest ohms from one vertex to all others.
struct Ways {
    std::vector<double> ohms;
    std::vector<Arrival> last;

    bool reaches(JointId joint) const { return ohms[joint.index] < std::numeric_limits<double>::max(); }

    std::vector<BranchId> to(JointId joint) const {
        std::vector<BranchId> branches;
        for (std::size_t at = joint.index; last[at].from != Arrival::nowhere; at = last[at].from) {
            if (last[at].branch.valid()) branches.push_back(last[at].branch);
        }
        std::reverse(branches.begin(), branches.end());
        return branches;
    }
};

Ways ways_from(const WayGraph& graph, std::size_t start) {
    const std::size_t vertices = boost::num_vertices(graph);
    Ways ways{std::vector<double>(vertices), std::vector<Arrival>(vertices)};
    const auto distances = boost::make_iterator_property_map(ways.ohms.begin(), boost::get(boost::vertex_index, graph));
    boost::dijkstra_shortest_paths(
        graph, start,
        boost::weight_map(boost::get(&Step::ohms, graph)).distance_map(distances).visitor(RememberArrivals(ways.last)));
    return ways;
}

std::vector<BranchId> path_through(const Network& network, JointId from, JointId to, Carrier most, BranchId avoid) {
    const WayGraph graph = way_graph(network, most, avoid, {});
    return ways_from(graph, from.index).to(to);
}

/// A load's two halves, with what is needed to choose between its two ways round.
struct Round {
    LoadPath path;
    int halves{0};
    double ohms{0};
};

/// All ways from the supply and all ways to battery minus.
class Rounds {
public:
    Rounds(const Network& network, const Reach& reach, Carrier most, BranchId avoid = {},
           const std::vector<bool>& barred = {}) {
        const JointId minus = network.circuit->reference;
        // A feed does not run on past ground, a return not past plus.
        WayGraph feeds = way_graph(network, most, avoid, reach.supply(), Direction::with_current, barred);
        boost::clear_out_edges(minus.index, feeds);
        network_ = &network;
        feed_ = ways_from(feeds, network.joints);
        WayGraph returns = way_graph(network, most, avoid, {}, Direction::against_current, barred);
        for (const JointId end : reach.supply()) boost::clear_out_edges(end.index, returns);
        back_ = ways_from(returns, minus.index);
        poles_ = reach.poles(Through::metal);
    }

    /// The better of the two ways round through the branch.
    Round through(const NetworkBranch& load) const {
        Round forward = between(load.a, load.b);
        if (is_diode(load)) return forward;
        Round backward = between(load.b, load.a);
        const bool turn =
            backward.halves > forward.halves || (backward.halves == forward.halves && backward.ohms < forward.ohms);
        return turn ? backward : forward;
    }

private:
    Round between(JointId in, JointId out) const {
        Round round;
        // A side that metal ties to plus is no way out, one tied to minus no way in, whatever else hangs there.
        if (feed_.reaches(in) && poles_[in.index] != Pole::minus) {
            round.path.feed = feed_.to(in);
            round.ohms += feed_.ohms[in.index];
            ++round.halves;
        }
        if (back_.reaches(out) && poles_[out.index] != Pole::plus && leaves(round.path.feed, in, back_.to(out))) {
            round.path.back = back_.to(out);
            std::reverse(round.path.back.begin(), round.path.back.end());
            round.ohms += back_.ohms[out.index];
            ++round.halves;
        }
        round.path.complete = round.halves == 2;
        return round;
    }

    /// A way back that comes past the feed again (by the load's own suppression diode) carries no current of the load.
    bool leaves(const std::vector<BranchId>& feed, JointId in, const std::vector<BranchId>& back) const {
        std::set<JointId> fed{in};
        for (const BranchId branch : feed) fed.insert({network_->at(branch).a, network_->at(branch).b});
        fed.erase(network_->circuit->reference);
        return std::none_of(back.begin(), back.end(), [&](BranchId branch) {
            return fed.contains(network_->at(branch).a) || fed.contains(network_->at(branch).b);
        });
    }

    const Network* network_{};
    Ways feed_;
    Ways back_;
    std::vector<Pole> poles_;
};

/// A joint where two branches meet and no probe reaches.
bool joins_series(const Network& network, std::size_t joint, const std::vector<std::vector<std::uint32_t>>& at) {
    if (at[joint].size() != 2 || at[joint][0] == at[joint][1]) return false;
    const auto& joints = network.circuit->joints;
    const bool untouchable = joint >= joints.size() || joints[joint].access != Access::open;
    return untouchable && JointId{static_cast<std::uint32_t>(joint)} != network.circuit->reference;
}

}  // namespace

bool is_diode(const NetworkBranch& branch) {
    return sort_of(branch.law) == LawSort::one_way;
}

std::vector<JointId> floating_joints(const Network& network, Diodes diodes) {
    // Its memory is kept, as this runs once a solve.
    auto& sets = kept_by_thread<DisjointSets, struct FloatingSets>();
    sets.reset(network.joints);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (!network.conducts({i}) || (diodes == Diodes::block && is_diode(branch))) continue;
        sets.join(branch.a.index, branch.b.index);
    }
    std::vector<JointId> floating;
    const std::size_t ground = sets.set_of(network.circuit->reference.index);
    for (std::uint32_t i = 0; i < network.joints; ++i) {
        if (sets.set_of(i) != ground) floating.push_back({i});
    }
    return floating;
}

std::vector<int> islands(const Network& network) {
    DisjointSets sets(network.joints);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (network.conducts({i})) sets.join(network.branches[i].a.index, network.branches[i].b.index);
    }
    std::vector<int> number_of_set(network.joints, -1);
    std::vector<int> numbers(network.joints);
    int next = 0;
    for (std::size_t i = 0; i < network.joints; ++i) {
        int& number = number_of_set[sets.set_of(i)];
        if (number < 0) number = next++;
        numbers[i] = number;
    }
    return numbers;
}

std::vector<BranchId> path(const Network& network, JointId from, JointId to, BranchId avoid) {
    return path_through(network, from, to, Carrier::resistor, avoid);
}

std::vector<BranchId> metal_path(const Network& network, JointId from, JointId to) {
    return path_through(network, from, to, Carrier::metal, {});
}

struct LoadPaths::Ways {
    explicit Ways(const Network& of) : network(of), reach(of), plain(of, reach, Carrier::resistor) {
        for (std::uint32_t i = 0; i < of.branches.size(); ++i) {
            has_ballasts = has_ballasts || (reach.carrier({i}) == Carrier::heater && of.conducts({i}));
        }
    }

    /// A ballast is a load by itself, yet stands in the way of the lamp or motor behind it.
    Round through_ballasts(const NetworkBranch& load) {
        if (!ballasts) ballasts.emplace(network, reach, Carrier::heater);
        return ballasts->through(load);
    }
    /// A ballast's own way runs through the load behind it.
    Round of_ballast(BranchId branch) const {
        const NetworkBranch& load = network.at(branch);
        const std::vector<Pole> poles = reach.poles(Through::loads, branch);
        if (!across_supply(poles[load.a.index], poles[load.b.index])) return {};
        return Rounds(network, reach, Carrier::load, branch).through(load);
    }

    /// Loads of one kind in series (two motors, two lamps): the way runs through the others of that kind.
    Round in_series(BranchId branch) const {
        const NetworkBranch& load = network.at(branch);
        const Kind* kind = kind_of(branch.index);
        const std::vector<Pole> poles = reach.poles(Through::loads, branch);
        if (!kind || !across_supply(poles[load.a.index], poles[load.b.index])) return {};
        std::vector<bool> barred(network.branches.size(), false);
        for (std::uint32_t i = 0; i < barred.size(); ++i)
            barred[i] = reach.carrier({i}) == Carrier::load && kind_of(i) != kind;
        return Rounds(network, reach, Carrier::load, branch, barred).through(load);
    }
    const Kind* kind_of(std::uint32_t branch) const {
        if (branch >= network.circuit->branches.size()) return nullptr;
        const PartId part = network.circuit->branches[branch].part;
        return part.valid() ? network.circuit->part(part).kind : nullptr;
    }

    const Network& network;
    Reach reach;
    Rounds plain;
    std::optional<Rounds> ballasts;
    bool has_ballasts{false};
};

LoadPaths::LoadPaths(const Network& network) : ways_(std::make_unique<Ways>(network)) {}
LoadPaths::~LoadPaths() = default;

LoadPath LoadPaths::through(BranchId branch) const {
    const Network& network = ways_->network;
    LoadPath none;
    if (branch.index < network.circuit->branches.size()) none.load = network.circuit->branch(branch).part;
    if (!network.conducts(branch)) return none;
    Round round = ways_->plain.through(network.at(branch));
    if (!round.path.complete && ways_->has_ballasts) {
        const bool is_ballast = ways_->reach.carrier(branch) == Carrier::heater;
        Round further = is_ballast ? ways_->of_ballast(branch) : ways_->through_ballasts(network.at(branch));
        if (further.halves > round.halves) round = std::move(further);
    }
    if (!round.path.complete && ways_->reach.carrier(branch) == Carrier::load) {
        Round further = ways_->in_series(branch);
        if (further.path.complete) round = std::move(further);
    }
    round.path.load = none.load;
    return std::move(round.path);
}

LoadPath branch_path(const Network& network, BranchId branch) {
    return LoadPaths(network).through(branch);
}

LoadPath load_path(const Network& network, PartId load) {
    const BranchId branch = network.circuit->part(load).load_branch;
    LoadPath found;
    if (branch.valid()) found = branch_path(network, branch);
    found.load = load;
    return found;
}

std::vector<std::vector<BranchId>> series_runs(const Network& network) {
    std::vector<std::vector<std::uint32_t>> at(network.joints);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (network.branches[i].open) continue;
        at[network.branches[i].a.index].push_back(i);
        at[network.branches[i].b.index].push_back(i);
    }
    std::vector<std::vector<std::uint32_t>> next(network.branches.size());
    for (std::size_t joint = 0; joint < network.joints; ++joint) {
        if (!joins_series(network, joint, at)) continue;
        next[at[joint][0]].push_back(at[joint][1]);
        next[at[joint][1]].push_back(at[joint][0]);
    }
    std::vector<std::vector<BranchId>> runs;
    std::vector<bool> done(network.branches.size(), false);
    const auto follow = [&](std::uint32_t branch) {
        std::vector<BranchId> run;
        while (!done[branch]) {
            done[branch] = true;
            run.push_back({branch});
            for (const std::uint32_t other : next[branch]) {
                if (!done[other]) branch = other;
            }
        }
        if (run.size() > 1) runs.push_back(std::move(run));
    };
    // Runs start at an end; what is left then are rings.
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (!done[i] && next[i].size() == 1) follow(i);
    }
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (!done[i] && next[i].size() == 2) follow(i);
    }
    std::sort(runs.begin(), runs.end());
    return runs;
}

}  // namespace voltfall
