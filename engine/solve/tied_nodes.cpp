#include "engine/solve/tied_nodes.hpp"

#include <cstdint>
#include <utility>
#include <variant>

namespace voltfall {

namespace {

std::optional<double> stiff_volts(const Network& network, const NetworkBranch& branch) {
    if (is_copper(branch)) return std::nullopt;
    return std::visit([&](const auto& law) { return law.tie(branch, network.battery); }, branch.law);
}

}  // namespace

bool TiedNodes::number(const Network& network) {
    copper_.reset(network.joints);
    stiff.clear();
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        const NetworkBranch& branch = network.branches[i];
        if (!is_copper(branch)) {
            if (stiff_volts(network, branch)) stiff.push_back({i, 0, 0});
            continue;
        }
        copper_.join(branch.a.index, branch.b.index);
    }
    copper_of_joint.assign(network.joints, -1);
    copper_of_joint[copper_.set_of(network.circuit->reference.index)] = 0;
    coppers = 0;
    for (std::uint32_t joint = 0; joint < network.joints; ++joint) {
        // The number of a set stands at whichever joint is its root, and is there before any other is asked for.
        int& of_set = copper_of_joint[copper_.set_of(joint)];
        if (of_set < 0) of_set = ++coppers;
        copper_of_joint[joint] = of_set;
    }
    place_of_copper.resize(static_cast<std::size_t>(coppers) + 1);
    for (int node = 0; node <= coppers; ++node) place_of_copper[node] = {node, 0};
    unknowns = coppers;
    offset.clear();
    if (!stiff.empty() && !tie_stiff_sources(network)) return false;
    ends.resize(network.branches.size());
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        ends[i] = {place_of_copper[copper_of_joint[network.branches[i].a.index]].unknown,
                   place_of_copper[copper_of_joint[network.branches[i].b.index]].unknown};
    }
    if (stiff.empty()) return true;
    offset.resize(network.branches.size());
    for (std::size_t i = 0; i < network.branches.size(); ++i) {
        offset[i] = place_of_copper[copper_of_joint[network.branches[i].a.index]].offset -
                    place_of_copper[copper_of_joint[network.branches[i].b.index]].offset;
    }
    return true;
}

bool TiedNodes::tie_stiff_sources(const Network& network) {
    // Each node's volts above the first node of its group; joining two groups moves the smaller-numbered group's frame
    // over the other.
    std::vector<Place> group(place_of_copper.begin(), place_of_copper.end());
    for (StiffSource& source : stiff) {
        const NetworkBranch& branch = network.branches[source.branch];
        source.from = copper_of_joint[branch.a.index];
        source.to = copper_of_joint[branch.b.index];
        const double volts = *stiff_volts(network, branch);
        const Place from = group[source.from];
        const Place to = group[source.to];
        if (from.unknown == to.unknown) return false;
        // V(from) - V(to) = volts.
        const bool keep_from = from.unknown < to.unknown;
        const int kept = keep_from ? from.unknown : to.unknown;
        const int gone = keep_from ? to.unknown : from.unknown;
        const double moved = keep_from ? from.offset - volts - to.offset : to.offset + volts - from.offset;
        for (Place& place : group) {
            if (place.unknown == gone) place = {kept, place.offset + moved};
        }
    }
    std::vector<int> number(group.size(), -1);
    number[group[0].unknown] = 0;
    unknowns = 0;
    for (Place& place : group) {
        int& of_group = number[place.unknown];
        if (of_group < 0) of_group = ++unknowns;
        place.unknown = of_group;
    }
    place_of_copper = std::move(group);
    return true;
}

}  // namespace voltfall
