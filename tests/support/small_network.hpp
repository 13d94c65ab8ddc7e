// Circuits for tests of the graph, built by hand: joints by name, a line a branch.
#pragma once

#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "netlists/circuit/circuit.hpp"
#include "netlists/circuit/network.hpp"
#include "netlists/parts/kinds.hpp"

namespace voltfall {

class SmallNetwork {
public:
    SmallNetwork() {
        circuit_.reference = joint("B1-");
        circuit_.metal = circuit_.reference;
        circuit_.bus_30 = joint("B1+");
        circuit_.battery = part("B1");
        source("B1", "B1+", "B1-", 12.6);
    }

    const Circuit& circuit() const { return circuit_; }
    Circuit& edit() { return circuit_; }

    JointId joint(const std::string& name) {
        const auto found = joints_.find(name);
        if (found != joints_.end()) return found->second;
        Joint made;
        made.name = name;
        made.place = name;
        circuit_.joints.push_back(made);
        return joints_[name] = {static_cast<std::uint32_t>(circuit_.joints.size() - 1)};
    }
    /// A joint that no probe reaches.
    JointId inner(const std::string& name) {
        const JointId id = joint(name);
        circuit_.joints[id.index].access = Access::inside;
        return id;
    }

    PartId part(const std::string& name) {
        const PartId known = circuit_.find_part(name);
        if (known.valid()) return known;
        Part made;
        made.name = name;
        circuit_.parts.push_back(made);
        return {static_cast<std::uint32_t>(circuit_.parts.size() - 1)};
    }

    BranchId branch(const std::string& place, const std::string& a, const std::string& b, Law law, PartId owner = {},
                    const std::string& role = "") {
        circuit_.branches.push_back({place, role, joint(a), joint(b), law, owner, {}, 0});
        return {static_cast<std::uint32_t>(circuit_.branches.size() - 1)};
    }
    BranchId wire(const std::string& name, const std::string& a, const std::string& b, double ohms = 0.01) {
        return branch(name, a, b, Resistor{ohms});
    }
    BranchId source(const std::string& name, const std::string& plus, const std::string& minus, double volts) {
        return branch(name, plus, minus, Source{volts, volts, 0.01}, part(name), "cell");
    }
    BranchId diode(const std::string& name, const std::string& a, const std::string& k) {
        return branch(name, a, k, Diode{1e-14, 1}, part(name));
    }
    /// A lamp of two ohms.
    PartId load(const std::string& name, const std::string& a, const std::string& b) {
        const PartId id = part(name);
        circuit_.parts[id.index].load_branch = branch(name, a, b, Resistor{2}, id, "filament");
        return id;
    }
    /// A resistor part of one ohm: a heater, or a ballast.
    PartId heater(const std::string& name, const std::string& a, const std::string& b) {
        const PartId id = part(name);
        circuit_.parts[id.index].kind = &resistor_kind;
        circuit_.parts[id.index].load_branch = branch(name, a, b, Resistor{1}, id, "element");
        return id;
    }
    /// A resistor across a relay's coil.
    BranchId suppression(const std::string& name, const std::string& j86, const std::string& j85) {
        const BranchId across = branch(name, j86, j85, Resistor{680}, part(name), "suppression");
        circuit_.branches[across.index].sort = BranchSort::suppression;
        return across;
    }
    /// A pack of one coil.
    BranchId pack(const std::string& name, const std::string& a, const std::string& b, double ohms) {
        const PartId id = part(name);
        circuit_.parts[id.index].coils.push_back({"1", "2", {}});
        const BranchId coil = branch(name, a, b, Resistor{ohms}, id, "coil 1-2");
        circuit_.branches[coil.index].sort = BranchSort::pack_coil;
        return coil;
    }
    PartId relay(const std::string& name, const std::string& j86, const std::string& j85, const std::string& j30,
                 const std::string& j87, const std::string& j87a = "") {
        const PartId id = part(name);
        RelayAction action;
        action.healthy_coil_ohms = 90;
        action.coil = branch(name, j86, j85, Resistor{90}, id, "coil");
        action.normally_open = branch(name, j30, j87, Contact{0.002, false}, id, "contact");
        if (!j87a.empty()) action.normally_closed = branch(name, j30, j87a, Contact{0.002, true}, id, "contact 87a");
        circuit_.parts[id.index].relay = action;
        return id;
    }
    /// A switch whose positions each close one contact; "off" comes first.
    PartId selector(const std::string& name, const std::string& common,
                    const std::vector<std::pair<std::string, std::string>>& position_and_joint) {
        const PartId id = part(name);
        std::vector<Position> positions{{"off", {}}};
        std::map<std::string, BranchId> contacts;
        for (const auto& [position, joint_name] : position_and_joint) {
            const std::string contact = std::to_string(positions.size());
            positions.push_back({position, {contact}});
            contacts[contact] = branch(name, common, joint_name, Contact{0.005, false}, id, "contact " + contact);
        }
        circuit_.parts[id.index].positions = positions;
        circuit_.parts[id.index].contacts = contacts;
        circuit_.controls.push_back({id, name});
        return id;
    }

private:
    Circuit circuit_;
    std::map<std::string, JointId> joints_;
};

/// Places of branches, in order: "F7 541 542".
inline std::string places(const Circuit& circuit, const std::vector<BranchId>& branches) {
    std::string text;
    for (const BranchId id : branches) text += (text.empty() ? "" : " ") + circuit.branch(id).place;
    return text;
}

/// Names of joints, in order.
inline std::string names(const Circuit& circuit, const std::vector<JointId>& joints) {
    std::string text;
    for (const JointId id : joints) text += (text.empty() ? "" : " ") + circuit.joint(id).name;
    return text;
}

}  // namespace voltfall
