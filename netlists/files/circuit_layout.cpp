#include "netlists/files/circuit_layout.hpp"

#include <algorithm>
#include <set>

#include "netlists/parts/kind.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// The terminal that `feed 30` and `feed 15` tie to the bus: the first one, or the supply's own of a relay or key.
std::string feed_terminal(const Part& part) {
    for (const std::string_view wanted : {"1", "30"}) {
        if (std::string terminal = canonical_terminal(part, wanted); !terminal.empty()) return terminal;
    }
    if (!part.common.empty()) return part.common;
    const auto terminals = part.kind->terminals(part);
    return terminals.empty() ? std::string() : terminals.front();
}

class SupplyLayout {
public:
    explicit SupplyLayout(Layout& layout) : layout_(layout), circuit_(layout.circuit()) {}

    void lay() {
        mark_used_terminals();
        lay_buses();
        lay_battery_ties();
        lay_parts();
        lay_feeds();
        lay_key();
    }

private:
    void mark(PartId part, const std::string& terminal) {
        if (used_.insert({part, terminal}).second) layout_.mark_used(part, terminal);
    }

    bool names_15(const WireEnd& end) const { return !end.part.valid() && end.terminal == "15"; }

    void mark_used_terminals() {
        for (const Wire& wire : circuit_.wires) {
            needs_15_ = needs_15_ || names_15(wire.from) || names_15(wire.to);
            for (const WireEnd* end : {&wire.from, &wire.to}) {
                if (end->part.valid()) mark(end->part, end->terminal);
            }
        }
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            const Part& part = circuit_.parts[i];
            needs_15_ = needs_15_ || part.feed == "15";
            if (!part.feed.empty()) mark({i}, feed_terminal(part));
            if (has_duty(part, Duty::key) && !circuit_.key.valid()) circuit_.key = {i};
        }
        key_drives_15_ =
            needs_15_ && circuit_.key.valid() && canonical_terminal(circuit_.part(circuit_.key), "15") == "15";
        if (!key_drives_15_) return;
        mark(circuit_.key, "15");
        // A key whose own supply is not drawn stands where the implied one would: at the battery bus.
        key_needs_30_ = used_.insert({circuit_.key, "30"}).second;
        if (key_needs_30_) layout_.mark_used(circuit_.key, "30");
    }

    void lay_buses() {
        circuit_.metal = layout_.add_joint({"31", {}, "31", Access::open, {}});
        circuit_.bus_30 = layout_.add_joint({"30", {}, "30", Access::inside, {}});
        if (needs_15_) circuit_.bus_15 = layout_.add_joint({"15", {}, "15", Access::inside, {}});
    }

    BranchId tie(const std::string& place, const std::string& role, JointId a, JointId b, Law law,
                 BranchSort sort = BranchSort::tie) {
        return layout_.add_branch({place, role, a, b, law, {}, {}, 0, sort});
    }

    /// A connector's cavity or a whole splice, which wires run through; for other parts the terminal.
    std::pair<PartId, std::string> node_of(const WireEnd& end) const {
        const bool splice = end.part.valid() && joins(circuit_.part(end.part), Joining::legs);
        return {end.part, splice ? std::string() : end.terminal};
    }
    bool runs_through(const WireEnd& end) const {
        if (!end.part.valid()) return false;
        const Part& part = circuit_.part(end.part);
        return joins(part, Joining::legs) || joins(part, Joining::cavities);
    }
    bool is_metal(const WireEnd& end) const {
        return end.part.valid() ? joins(circuit_.part(end.part), Joining::metal) : end.terminal == "31";
    }

    /// Is battery minus wired to a ground or to the metal? Then the file says how they are tied.
    bool is_strapped() const {
        std::set<std::pair<PartId, std::string>> reached{{circuit_.battery, "-"}};
        for (bool grown = true; grown;) {
            grown = false;
            for (const Wire& wire : circuit_.wires) {
                const bool from = reached.count(node_of(wire.from)) > 0;
                const bool to = reached.count(node_of(wire.to)) > 0;
                if (from == to) continue;
                const WireEnd& other = from ? wire.to : wire.from;
                if (is_metal(other)) return true;
                if (runs_through(other)) grown = reached.insert(node_of(other)).second || grown;
            }
        }
        return false;
    }

    void lay_battery_ties() {
        layout_.begin(circuit_.battery);
        circuit_.reference = layout_.pin("-");
        const Resistor feed{default_value("feed_ohm")};
        tie("30", "bus", layout_.pin("+"), circuit_.bus_30, feed);
        if (!is_strapped()) tie("31", "body", circuit_.metal, circuit_.reference, Resistor{default_value("body_ohm")});
        if (needs_15_ && !key_drives_15_) {
            circuit_.implied_key =
                tie("key", "key", circuit_.bus_30, circuit_.bus_15, Contact{feed.ohms, false}, BranchSort::other);
        }
    }

    void lay_parts() {
        for (std::uint32_t i = 0; i < circuit_.parts.size(); ++i) {
            const Part& part = circuit_.parts[i];
            layout_.begin({i});
            if (joins(part, Joining::cavities)) {
                lay_connector({i}, layout_);
            } else if (joins(part, Joining::legs)) {
                lay_splice({i}, layout_);
            } else {
                part.kind->lay(part, layout_);
            }
            if (only_joins(part)) continue;
            // A terminal that the kind had no use for is a joint all the same: a wire ends there.
            for (auto used = used_.lower_bound({PartId{i}, ""}); used != used_.end() && used->first == PartId{i};
                 ++used) {
                layout_.pin(used->second);
            }
        }
    }

    void lay_feeds() {
        for (const Part& part : circuit_.parts) {
            if (part.feed.empty()) continue;
            const JointId bus = part.feed == "15" ? circuit_.bus_15 : circuit_.bus_30;
            tie(part.name, "feed", bus, part.harness.at(feed_terminal(part)), Resistor{default_value("feed_ohm")});
        }
    }

    void lay_key() {
        if (!key_drives_15_) return;
        const Part& key = circuit_.part(circuit_.key);
        const Resistor feed{default_value("feed_ohm")};
        tie("15", "bus", key.harness.at("15"), circuit_.bus_15, feed);
        if (key_needs_30_) tie("30", "feed", circuit_.bus_30, key.harness.at("30"), feed);
    }

    Layout& layout_;
    Circuit& circuit_;
    std::set<std::pair<PartId, std::string>> used_;
    bool needs_15_{false};
    bool key_drives_15_{false};
    bool key_needs_30_{false};
};

}  // namespace

void lay_circuit(CircuitDraft& draft, Layout& layout) {
    SupplyLayout(layout).lay();
    lay_wires(layout);
    draft.laid = true;
}

}  // namespace voltfall
