#include "netlists/graph/paths.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/biconnected_components.hpp>
#include <boost/graph/dijkstra_shortest_paths.hpp>
#include <boost/pending/disjoint_sets.hpp>
#include <limits>
#include <map>
#include <utility>
#include <variant>

#include "netlists/graph/poles.hpp"

namespace voltfall {

namespace {

/// Way ohms of a diode: enough that a plain wire beside it is preferred.
constexpr double diode_way_ohms = 0.5;
/// Added for every branch, so that of two ways of equal ohms the shorter one is taken.
constexpr double step_ohms = 1e-9;

bool is_diode(const NetworkBranch& branch) { return std::holds_alternative<Diode>(branch.law); }

/// Disjoint sets of joints over two arrays that are kept from call to call: this runs once a solve.
class JointSets {
public:
    explicit JointSets(std::size_t joints) : sets_(grown(ranks(), joints), grown(parents(), joints)) {
        for (std::size_t i = 0; i < joints; ++i) sets_.make_set(i);
    }
    void tie(JointId a, JointId b) { sets_.union_set(std::size_t{a.index}, std::size_t{b.index}); }
    std::size_t set_of(std::size_t joint) { return sets_.find_set(joint); }

private:
    static std::vector<std::size_t>& ranks() {
        thread_local std::vector<std::size_t> store;
        return store;
    }
    static std::vector<std::size_t>& parents() {
        thread_local std::vector<std::size_t> store;
        return store;
    }
    static std::size_t* grown(std::vector<std::size_t>& store, std::size_t size) {
        if (store.size() < size) store.resize(size);
        return store.data();
    }
    boost::disjoint_sets<std::size_t*, std::size_t*> sets_;
};

/// One way of walking a branch.
struct Step {
    double ohms{};
    BranchId branch;
};
using WayGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS, boost::no_property, Step>;

double way_ohms(const NetworkBranch& branch) {
    if (const auto* resistor = std::get_if<Resistor>(&branch.law)) return resistor->ohms + branch.added_ohms + step_ohms;
    if (const auto* contact = std::get_if<Contact>(&branch.law)) return contact->ohms + branch.added_ohms + step_ohms;
    return diode_way_ohms + branch.added_ohms;
}

/// The ways through branches that stand in a current's way no more than `most`. One vertex more than joints: the
/// last leads to every `start`.
WayGraph way_graph(const Network& network, Carrier most, BranchId avoid, const std::vector<JointId>& starts) {
    WayGraph graph(network.joints + 1);
    const std::vector<Carrier> kinds = carriers(network);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const BranchId id{i};
        if (id == avoid || kinds[i] > most || !network.conducts(id)) continue;
        const NetworkBranch& branch = network.branches[i];
        const Step step{way_ohms(branch), id};
        boost::add_edge(branch.a.index, branch.b.index, step, graph);
        if (!is_diode(branch)) boost::add_edge(branch.b.index, branch.a.index, step, graph);
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
    const auto distances =
        boost::make_iterator_property_map(ways.ohms.begin(), boost::get(boost::vertex_index, graph));
    boost::dijkstra_shortest_paths(graph, start,
                                   boost::weight_map(boost::get(&Step::ohms, graph))
                                       .distance_map(distances)
                                       .visitor(RememberArrivals(ways.last)));
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

Round round_of(const Network& network, const WayGraph& graph, const Ways& feed_ways, JointId in, JointId out) {
    Round round;
    const JointId minus = network.circuit->reference;
    if (feed_ways.reaches(in)) {
        round.path.feed = feed_ways.to(in);
        round.ohms += feed_ways.ohms[in.index];
        ++round.halves;
    }
    const Ways back = ways_from(graph, out.index);
    if (back.reaches(minus)) {
        round.path.back = back.to(minus);
        round.ohms += back.ohms[minus.index];
        ++round.halves;
    }
    round.path.complete = round.halves == 2;
    return round;
}

/// The better of the two ways round through the branch.
Round best_round(const Network& network, const Reach& reach, BranchId branch, Carrier most) {
    WayGraph graph = way_graph(network, most, branch, reach.supply());
    const NetworkBranch& load = network.at(branch);
    // A feed does not run on past ground, a return not past plus.
    boost::clear_out_edges(network.circuit->reference.index, graph);
    const Ways feed = ways_from(graph, network.joints);
    for (const JointId end : reach.supply()) boost::clear_out_edges(end.index, graph);
    Round forward = round_of(network, graph, feed, load.a, load.b);
    if (is_diode(load)) return forward;
    Round backward = round_of(network, graph, feed, load.b, load.a);
    const bool turn = backward.halves > forward.halves ||
                      (backward.halves == forward.halves && backward.ohms < forward.ohms);
    return turn ? backward : forward;
}

using PlainGraph = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS, boost::no_property,
                                         boost::property<boost::edge_index_t, std::size_t>>;

/// The branches a feed or return may run through, one edge for each pair of joints; edge numbers index `branches`.
struct TieGraph {
    PlainGraph graph;
    std::vector<BranchId> branches;
    std::vector<int> parallel;       ///< how many branches tie the same two joints
};

TieGraph tie_graph(const Network& network, const std::vector<Carrier>& kinds) {
    TieGraph ties{PlainGraph(network.joints), {}, {}};
    std::map<std::pair<JointId, JointId>, std::size_t> known;
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (kinds[i] > Carrier::resistor || branch.a == branch.b || !network.conducts({i})) continue;
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
std::vector<BranchId> lone_edges(const TieGraph& ties) {
    std::vector<std::size_t> component(ties.branches.size());
    const auto component_map =
        boost::make_iterator_property_map(component.begin(), boost::get(boost::edge_index, ties.graph));
    const std::size_t count = boost::biconnected_components(ties.graph, component_map);
    std::vector<int> members(count, 0);
    for (const std::size_t c : component) ++members[c];
    std::vector<BranchId> lone;
    for (std::size_t i = 0; i < ties.branches.size(); ++i) {
        if (members[component[i]] == 1 && ties.parallel[i] == 1) lone.push_back(ties.branches[i]);
    }
    return lone;
}

/// Joints at the ends of loads and coils.
std::vector<JointId> load_ends(const Network& network, const std::vector<Carrier>& kinds) {
    std::vector<JointId> ends;
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (kinds[i] != Carrier::load && kinds[i] != Carrier::heater) continue;
        ends.push_back(network.branches[i].a);
        ends.push_back(network.branches[i].b);
    }
    return ends;
}

std::vector<Pole> poles_without(Network& network, BranchId opened) {
    network.at(opened).open = true;
    const std::vector<Pole> poles = Reach(network).poles(Through::resistors);
    network.at(opened).open = false;
    return poles;
}

/// A joint where two branches meet and no probe reaches.
bool joins_series(const Network& network, std::size_t joint, const std::vector<std::vector<std::uint32_t>>& at) {
    if (at[joint].size() != 2 || at[joint][0] == at[joint][1]) return false;
    const auto& joints = network.circuit->joints;
    const bool untouchable = joint >= joints.size() || joints[joint].access != Access::open;
    return untouchable && JointId{static_cast<std::uint32_t>(joint)} != network.circuit->reference;
}

}  // namespace

std::vector<JointId> floating_joints(const Network& network, Diodes diodes) {
    JointSets sets(network.joints);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (!network.conducts({i}) || (diodes == Diodes::block && is_diode(branch))) continue;
        sets.tie(branch.a, branch.b);
    }
    std::vector<JointId> floating;
    const std::size_t ground = sets.set_of(network.circuit->reference.index);
    for (std::uint32_t i = 0; i < network.joints; ++i) {
        if (sets.set_of(i) != ground) floating.push_back({i});
    }
    return floating;
}

std::vector<int> islands(const Network& network) {
    JointSets sets(network.joints);
    for (std::uint32_t i = 0; i < network.branches.size(); ++i) {
        if (network.conducts({i})) sets.tie(network.branches[i].a, network.branches[i].b);
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

std::vector<BranchId> bridges(const Network& network) {
    const std::vector<Carrier> kinds = carriers(network);
    const std::vector<JointId> ends = load_ends(network, kinds);
    const std::vector<Pole> whole = Reach(network).poles(Through::resistors);
    Network cut = network;
    std::vector<BranchId> found;
    for (const BranchId branch : lone_edges(tie_graph(network, kinds))) {
        const std::vector<Pole> left = poles_without(cut, branch);
        const bool cuts = std::any_of(ends.begin(), ends.end(), [&](JointId end) {
            return whole[end.index] != Pole::none && left[end.index] != whole[end.index];
        });
        if (cuts) found.push_back(branch);
    }
    std::sort(found.begin(), found.end());
    return found;
}

LoadPath branch_path(const Network& network, BranchId branch) {
    LoadPath none;
    if (branch.index < network.circuit->branches.size()) none.load = network.circuit->branch(branch).part;
    if (!network.conducts(branch)) return none;
    const Reach reach(network);
    Round round = best_round(network, reach, branch, Carrier::resistor);
    // A ballast is a load by itself, yet stands in the way of the lamp or motor behind it.
    if (!round.path.complete) {
        Round through_ballast = best_round(network, reach, branch, Carrier::heater);
        if (through_ballast.halves > round.halves) round = std::move(through_ballast);
    }
    if (!round.path.complete && reach.carrier(branch) == Carrier::heater) {
        Round as_ballast = best_round(network, reach, branch, Carrier::load);
        if (as_ballast.halves > round.halves) round = std::move(as_ballast);
    }
    round.path.load = none.load;
    return std::move(round.path);
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
