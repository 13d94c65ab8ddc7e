#include "netlists/circuit/network.hpp"

#include <cmath>
#include <limits>

#include "netlists/text/overloaded.hpp"

namespace voltfall {

namespace {

void apply_change(Network& network, const Change& change) {
    std::visit(Overloaded{
                   [&](const SetLaw& c) { network.at(c.branch).law = c.law; },
                   [&](const AddOhms& c) { network.at(c.branch).added_ohms += c.ohms; },
                   [&](const OpenBranch& c) { network.at(c.branch).open = true; },
                   [&](const Connect& c) { network.connect(c.a, c.b, Resistor{c.ohms}); },
                   [&](const HoldContact& c) {
                       auto& branch = network.at(c.branch);
                       if (auto* contact = std::get_if<Contact>(&branch.law)) contact->closed = c.closed;
                       if (auto* stage = std::get_if<Stage>(&branch.law)) stage->passes = c.closed;
                       branch.held = true;
                   },
                   [&](const HoldPosition& c) { network.held_positions[c.part.index] = static_cast<int>(c.position); },
                   [&](const PlaceMiddle& c) {
                       const Wire& wire = network.circuit->wire(c.wire);
                       network.at(wire.first_half).law = Resistor{wire.ohms * c.share};
                       network.at(wire.second_half).law = Resistor{wire.ohms * (1 - c.share)};
                   },
                   [&](const MoveEnd& c) {
                       auto& branch = network.at(c.branch);
                       (c.first_end ? branch.a : branch.b) = c.joint;
                   },
                   [&](const FitFuse& c) { network.ratings[c.part.index] = c.rating_amps; },
                   [&](const PullHarder& c) { network.pull_factors[c.part.index] *= c.factor; },
               },
               change);
}

}  // namespace

Network::Network(const Circuit& of) : circuit(&of), joints(of.joints.size()) {
    branches.reserve(of.branches.size() + 8);
    for (const Branch& branch : of.branches) branches.emplace_back(branch.law, branch.a, branch.b);
    ratings.resize(of.parts.size(), 0.0);
    pull_factors.resize(of.parts.size(), 1.0);
    held_positions.resize(of.parts.size(), -1);
    for (std::size_t i = 0; i < of.parts.size(); ++i) {
        if (of.parts[i].fuse) ratings[i] = of.parts[i].fuse->rating_amps;
    }
}

void Network::apply(std::span<const Change> changes) {
    for (const Change& change : changes) apply_change(*this, change);
}

BranchId Network::connect(JointId a, JointId b, Law law) {
    branches.emplace_back(law, a, b);
    return {static_cast<std::uint32_t>(branches.size() - 1)};
}

double Network::ohms(BranchId id) const {
    const NetworkBranch& branch = at(id);
    if (branch.open) return open_ohms;
    const auto plain = plain_ohms(branch.law);
    if (!plain) return std::numeric_limits<double>::quiet_NaN();
    return voltfall::conducts(branch.law) ? *plain + branch.added_ohms : open_ohms;
}

}  // namespace voltfall
