// The faults of wires: open, resistance, chafe, short-to-30, bridges, swapped; and bridges between cavities.
#include <fmt/format.h>
#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "netlists/files/circuit_layout.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/phrases/fault_on_demand.hpp"
#include "netlists/tables/defaults.hpp"
#include "netlists/text/natural_order.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

// Relative weights of a wire's modes: broken or rubbed through alike, the others rarer; ASSUMED.
constexpr double share_open = 1;
constexpr double share_resistance = 0.7;
constexpr double share_chafe = 1;
constexpr double share_short_to_30 = 0.1;
constexpr double share_bridges = 0.2;  ///< of all bridges of a wire or connector together

/// More wires than this in one bundle, or cavities in one connector: only neighbours are paired (pairs grow with the
/// square).
constexpr std::size_t most_paired = 24;
/// The same for wires swapped.
constexpr std::size_t most_swapped = 6;

using Indices = std::vector<std::uint32_t>;

class WireModes {
public:
    explicit WireModes(Layout& layout) : layout_(layout), circuit_(layout.circuit()) {}

    void declare() {
        find_bundles();
        layout_.begin(PartId{});
        for (std::uint32_t i = 0; i < circuit_.wires.size(); ++i) declare_wire(i);
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            layout_.begin({i});
            declare_cavity_bridges(circuit_.parts[i]);
        }
        for (const auto& [first, second] : swapped_) declare_swapped(first, second);
    }

private:
    FaultMode& mode(const std::string& place, ModeWords words, ModeFacts facts, ChangesOf changes,
                    std::string_view looks, double share) {
        FaultMode& added = layout_.mode_at(place, std::move(words), FaultClass::wire, facts, std::move(changes));
        added.looks = looks;
        added.share = share;
        return added;
    }

    void declare_wire(std::uint32_t index) {
        const Wire& wire = circuit_.wires[index];
        const WireId id{index};
        const BranchId half = wire.first_half;
        const JointId middle = wire.middle;
        mode(wire.name, {"open", "wire " + wire.name + " broken"}, {ModeFact::lost_contact, ModeFact::may_touch},
             opening(half), "cracked rubbed", share_open);
        mode(wire.name, {"resistance", "wire " + wire.name + " corroded or partly broken"},
             {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(half), "crust burnt melted", share_resistance)
            .size = resistance_range();
        declare_path(wire.name, {"chafe", "wire " + wire.name + " rubbed through to metal"},
                     {ModeFact::rubbed_to_metal, ModeFact::may_touch}, id, middle, circuit_.metal, "chafe_ohm",
                     share_chafe);
        declare_path(wire.name, {"short-to-30", "wire " + wire.name + " touches a live wire (30)"}, {}, id, middle,
                     circuit_.bus_30, "short_to_30_ohm", share_short_to_30);
        const std::set<std::uint32_t>& others = bridged_[index];
        for (const std::uint32_t other : others)
            declare_bridge(index, other, share_bridges / static_cast<double>(others.size()));
    }

    void declare_path(const std::string& place, ModeWords words, ModeFacts facts, WireId id, JointId middle, JointId to,
                      std::string_view ohm_row, double share) {
        FaultMode& path = mode(
            place, std::move(words), facts,
            [id, middle, to](double ohms, double where) {
                return std::vector<Change>{PlaceMiddle{id, where}, Connect{middle, to, ohms}};
            },
            "rubbed melted", share);
        path.size = contact_to_metal_range(default_value(ohm_row));
        path.along_wire = true;
    }

    void declare_bridge(std::uint32_t first, std::uint32_t second, double share) {
        const Wire& a = circuit_.wires[first];
        const Wire& b = circuit_.wires[second];
        const WireId id_a{first};
        const WireId id_b{second};
        const JointId middle_a = a.middle;
        const JointId middle_b = b.middle;
        FaultMode& bridge = mode(
            a.name, wire_bridge_words(a.name, b.name), {ModeFact::may_touch},
            [=](double ohms, double where) {
                return std::vector<Change>{PlaceMiddle{id_a, where}, PlaceMiddle{id_b, where},
                                           Connect{middle_a, middle_b, ohms}};
            },
            "melted rubbed", share);
        bridge.size = contact_to_metal_range(default_value("bridge_ohm"));
        bridge.along_wire = true;
    }

    /// A row of two wires in each other's place.
    void declare_swapped(std::uint32_t first, std::uint32_t second) {
        const BuiltMode built = build_swapped(circuit_, circuit_.wires[first].name, circuit_.wires[second].name);
        if (!built) return;
        auto row = std::make_shared<FaultMode>(**built);
        row->catalogued = true;
        circuit_.modes.push_back(std::move(row));
    }

    /// Wires that run side by side: on the same half of a connector or plug, or under one [care] text.
    void find_bundles() {
        std::map<std::string, Indices> bundles;
        for (std::uint32_t i = 0; i < circuit_.wires.size(); ++i) {
            for (const bool from : {true, false}) add_to_bundle(bundles, i, from);
            if (const Care* care = circuit_.care_of(circuit_.wires[i].name)) bundles["care " + care->text].push_back(i);
        }
        for (auto& [name, wires] : bundles) {
            wires.erase(std::unique(wires.begin(), wires.end()), wires.end());
            pair_up(wires);
        }
        for (auto& [name, wires] : sockets_) {
            wires.erase(std::unique(wires.begin(), wires.end()), wires.end());
            swap_within(wires);
        }
    }

    void add_to_bundle(std::map<std::string, Indices>& bundles, std::uint32_t index, bool from) {
        const Wire& wire = circuit_.wires[index];
        const WireEnd& end = from ? wire.from : wire.to;
        if (!end.part.valid()) return;
        const Part& part = circuit_.part(end.part);
        if (joins(part, Joining::cavities)) bundles[part.name + (from ? " from" : " to")].push_back(index);
        if (!part.plug.empty()) bundles[part.plug].push_back(index);
        // Wires of one colour and size are taken for each other where somebody works on the harness.
        if (from && !wire.colour.empty()) sockets_[fmt::format("like {} {}", wire.colour, wire.size)].push_back(index);
        if (joins(part, Joining::cavities) || !part.plug.empty() || part.relay) sockets_[part.name].push_back(index);
    }

    /// Wires that end in one connector, plug or relay's socket may have been put back in each other's place.
    void swap_within(Indices wires) {
        std::sort(wires.begin(), wires.end(), [&](std::uint32_t a, std::uint32_t b) {
            return NaturalOrder()(circuit_.wires[a].name, circuit_.wires[b].name);
        });
        const std::size_t reach = wires.size() > most_swapped ? 2 : wires.size();
        for (std::size_t i = 0; i < wires.size(); ++i) {
            for (std::size_t j = i + 1; j < std::min(i + reach, wires.size()); ++j)
                swapped_.insert(std::minmax(wires[i], wires[j]));
        }
    }

    void pair_up(const Indices& wires) {
        for (std::size_t i = 0; i < wires.size(); ++i) {
            const std::size_t end = wires.size() > most_paired ? std::min(i + 2, wires.size()) : wires.size();
            for (std::size_t j = i + 1; j < end; ++j) {
                if (!meet(circuit_.wires[wires[i]], circuit_.wires[wires[j]])) bridged_[wires[i]].insert(wires[j]);
            }
        }
    }

    /// Wires that end on one joint: a bridge between them changes nothing that a person would see.
    static bool meet(const Wire& a, const Wire& b) {
        return a.from.joint == b.from.joint || a.from.joint == b.to.joint || a.to.joint == b.from.joint ||
               a.to.joint == b.to.joint;
    }

    /// Water or whiskers between the cavities of a connector or plug, where wires stand in both.
    void declare_cavity_bridges(const Part& part) {
        const bool connector = joins(part, Joining::cavities);
        if (!connector && part.plug.empty()) return;
        const std::string& place = connector ? part.name : part.plug;
        std::vector<std::pair<std::string, JointId>> cavities;
        for (const auto& [cavity, joint] : part.harness) {
            if (connector || joint != part.pins.at(cavity)) cavities.emplace_back(cavity, joint);
        }
        std::sort(cavities.begin(), cavities.end(),
                  [](const auto& a, const auto& b) { return NaturalOrder()(a.first, b.first); });
        // Names such as 15, 30 and 50 tell no positions: then any two may be side by side.
        bool positions_known = false;
        for (std::size_t i = 0; i + 1 < cavities.size(); ++i)
            positions_known |= are_neighbours(cavities[i].first, cavities[i + 1].first);
        for (std::size_t i = 0; i < cavities.size(); ++i) {
            const std::size_t end = cavities.size() > most_paired ? std::min(i + 2, cavities.size()) : cavities.size();
            for (std::size_t j = i + 1; j < end; ++j) {
                const bool side_by_side = !positions_known || are_neighbours(cavities[i].first, cavities[j].first);
                declare_cavity_bridge(place, cavities[i], cavities[j], side_by_side);
            }
        }
    }

    void declare_cavity_bridge(const std::string& place, const std::pair<std::string, JointId>& first,
                               const std::pair<std::string, JointId>& second, bool side_by_side) {
        const JointId a = first.second;
        const JointId b = second.second;
        FaultMode& bridge = layout_.mode_at(place, cavity_bridge_words(place, first.first, second.first),
                                            FaultClass::joint, {ModeFact::may_touch}, joining(a, b));
        bridge.size = contact_to_metal_range(default_value("bridge_ohm"));
        bridge.catalogued = side_by_side;
        bridge.looks = "wet crust melted";
        bridge.share = share_bridges;
    }

    /// 3 and 4, A and B.
    static bool are_neighbours(const std::string& a, const std::string& b) {
        const auto one = parse_measure(a);
        const auto two = parse_measure(b);
        if (one && two) return two->value - one->value == 1 || one->value - two->value == 1;
        if (a.size() != 1 || b.size() != 1) return false;
        const int step = lower(b)[0] - lower(a)[0];
        return step == 1 || step == -1;
    }

    Layout& layout_;
    Circuit& circuit_;
    std::map<std::uint32_t, std::set<std::uint32_t>> bridged_;
    std::map<std::string, Indices> sockets_;  ///< wires that end in one connector, plug or socket, or look alike
    std::set<std::pair<std::uint32_t, std::uint32_t>> swapped_;
};

}  // namespace

void declare_wire_modes(Layout& layout) {
    WireModes(layout).declare();
}

}  // namespace voltfall
