#include "netlists/graph/feeds.hpp"

#include <algorithm>
#include <set>

#include "netlists/graph/drawn_state.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

/// Positions times branches that are walked: a circuit as large as a whole vehicle has each of its positions shown.
constexpr std::size_t most_branches_walked = 300'000;

/// A position to look at.
struct PositionOfPart {
    PartId part;
    std::size_t position{};
};

std::vector<PositionOfPart> positions_of_parts(const Circuit& circuit) {
    std::vector<PositionOfPart> positions;
    for (const Control& control : circuit.controls) {
        const Part& part = circuit.part(control.part);
        for (std::size_t i = 0; i < part.positions.size(); ++i) positions.push_back({control.part, i});
    }
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (part.contacts.empty() || PartId{i} == circuit.key || circuit.is_control({i})) continue;
        for (std::size_t p = 0; p < part.positions.size(); ++p) {
            if (p != off_position(part) && !part.positions[p].contacts.empty()) positions.push_back({{i}, p});
        }
    }
    if (positions.empty()) positions.push_back({});
    return positions;
}

std::string label_of(const Circuit& circuit, const PositionOfPart& at) {
    if (!at.part.valid()) return "key on";
    const Part& part = circuit.part(at.part);
    const std::string& word = part.positions[at.position].name;
    const bool shared = std::any_of(circuit.parts.begin(), circuit.parts.end(), [&](const Part& other) {
        const bool movable =
            &other != &part && !other.contacts.empty() && &other - circuit.parts.data() != circuit.key.index;
        return movable && other.position_named(word).has_value();
    });
    return shared || !circuit.is_control(at.part) ? part.name + "=" + word : word;
}

Network network_of(const Circuit& circuit, const PositionOfPart& at, DrawnRelays& relays) {
    Network network = network_at_rest(circuit);
    if (at.part.valid()) {
        set_position(network, at.part, at.position);
        if (at.position != off_position(circuit.part(at.part))) set_key(network, "run");
    }
    relays = set_relays(network);
    return network;
}

double plain_ohms(const Network& network, BranchId branch) {
    return voltfall::plain_ohms(network.at(branch).law) ? network.ohms(branch) : 0;
}

/// Ties of the reader's own that nobody finds in a vehicle: a bus to its fuse, metal to battery minus.
bool is_tie(const Branch& branch) {
    return branch.sort == BranchSort::tie;
}

std::vector<WayStep> steps_of(const Network& network, const std::vector<BranchId>& branches,
                              const std::set<BranchId>& only_ways) {
    std::vector<WayStep> steps;
    for (const BranchId id : branches) {
        const Branch& branch = network.circuit->branch(id);
        if (is_tie(branch)) continue;
        if (steps.empty() || steps.back().place != branch.place) steps.push_back({branch.place, {}, {}, 0, false});
        WayStep& step = steps.back();
        step.roles.push_back(branch.role);
        step.branches.push_back(id);
        step.ohms += plain_ohms(network, id);
        step.only_way = step.only_way || only_ways.contains(id);
    }
    return steps;
}

LoadWay way_of(const Network& network, const LoadPaths& paths, BranchId branch, const std::set<BranchId>& only_ways) {
    const LoadPath path = paths.through(branch);
    LoadWay way{path.load, path.complete, steps_of(network, path.feed, only_ways),
                steps_of(network, path.back, only_ways), 0};
    for (const WayStep& step : way.feed) way.ohms += step.ohms;
    for (const WayStep& step : way.back) way.ohms += step.ohms;
    return way;
}

PositionFeeds feeds_in(const Circuit& circuit, const PositionOfPart& at) {
    PositionFeeds feeds{at.part, at.position, label_of(circuit, at), {}, {}, {}, true};
    DrawnRelays relays;
    const Network network = network_of(circuit, at, relays);
    feeds.relays_settled = relays.settled;
    const LoadPaths paths(network);
    const std::vector<BranchId> cuts = bridges(network);
    const std::set<BranchId> only_ways(cuts.begin(), cuts.end());
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (part.load_branch.valid()) feeds.loads.push_back(way_of(network, paths, part.load_branch, only_ways));
        if (!part.relay) continue;
        feeds.coils.push_back(way_of(network, paths, part.relay->coil, only_ways));
        if (relays.pulled[i]) feeds.pulled.push_back({i});
    }
    return feeds;
}

void add_place(LoadShares& shares, const std::string& place, const std::string& label) {
    auto found = std::find_if(shares.places.begin(), shares.places.end(),
                              [&](const SharedPlace& shared) { return shared.place == place; });
    if (found == shares.places.end()) found = shares.places.insert(found, {place, {}, false});
    if (found->positions.empty() || found->positions.back() != label) found->positions.push_back(label);
}

LoadShares shares_of(PartId load, const std::vector<PositionFeeds>& positions, std::size_t at) {
    LoadShares shares{load, {}, {}};
    for (const PositionFeeds& position : positions) {
        const LoadWay& way = position.loads[at];
        if (!way.complete) continue;
        shares.works_in.push_back(position.label);
        for (const WayStep& step : way.feed) add_place(shares, step.place, position.label);
        for (const WayStep& step : way.back) add_place(shares, step.place, position.label);
    }
    for (SharedPlace& place : shares.places) place.every = place.positions.size() == shares.works_in.size();
    return shares;
}

std::vector<JointId> floating_at_rest(const Circuit& circuit) {
    const Network network = network_at_rest(circuit);
    std::vector<bool> used(network.joints, false);
    for (const NetworkBranch& branch : network.branches) {
        used[branch.a.index] = true;
        used[branch.b.index] = true;
    }
    std::vector<JointId> floating = floating_joints(network);
    std::erase_if(floating, [&](JointId joint) { return !used[joint.index]; });
    return floating;
}

}  // namespace

Feeds trace_feeds(const Circuit& circuit) {
    Feeds feeds;
    std::size_t branches_left = most_branches_walked;
    for (const PositionOfPart& at : positions_of_parts(circuit)) {
        feeds.positions.push_back(feeds_in(circuit, at));
        feeds.all_positions = branches_left >= circuit.branches.size();
        if (!feeds.all_positions) break;
        branches_left -= circuit.branches.size();
    }
    const auto& first = feeds.positions.front().loads;
    for (std::size_t i = 0; i < first.size(); ++i) {
        feeds.loads.push_back(shares_of(first[i].load, feeds.positions, i));
    }
    feeds.floating_off = floating_at_rest(circuit);
    return feeds;
}

}  // namespace voltfall
