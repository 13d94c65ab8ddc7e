#include "engine/solve/tied_nodes.hpp"

#include <utility>
#include <variant>

namespace voltfall {

bool TiedNodes::number(const Network& network, const Nodes& nodes, std::span<const std::uint32_t> tied) {
    stiff.clear();
    for (const std::uint32_t branch : tied) {
        if (!is_copper(network.branches[branch])) stiff.push_back({branch, 0, 0});
    }
    copper_of_joint = nodes.of_joint;
    coppers = nodes.count;
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
        const double volts =
            std::visit([&](const auto& law) { return law.tie(branch, network.battery); }, branch.law).value();
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
