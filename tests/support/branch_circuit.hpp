// Circuits at branch level for tests: joints and branches only, made line by line.
#pragma once

#include <string>

#include "netlists/circuit/circuit.hpp"
#include "netlists/circuit/network.hpp"

namespace voltfall::test {

/// Joints are named as they are first used; "0" is the reference.
class BranchCircuit {
public:
    BranchCircuit() {
        circuit_.name = "branches";
        circuit_.reference = joint("0");
    }

    JointId joint(const std::string& name) {
        for (std::size_t i = 0; i < circuit_.joints.size(); ++i) {
            if (circuit_.joints[i].name == name) return {static_cast<std::uint32_t>(i)};
        }
        circuit_.joints.push_back({name, {}, name, Access::open, {}});
        return {static_cast<std::uint32_t>(circuit_.joints.size() - 1)};
    }

    BranchId branch(const std::string& name, const std::string& a, const std::string& b, Law law) {
        circuit_.branches.push_back({name, "branch", joint(a), joint(b), law, {}, {}, 0});
        return {static_cast<std::uint32_t>(circuit_.branches.size() - 1)};
    }
    BranchId resistor(const std::string& name, const std::string& a, const std::string& b, double ohms) {
        return branch(name, a, b, Resistor{ohms});
    }
    BranchId source(const std::string& name, const std::string& plus, const std::string& minus, double volts,
                    double ohms = 0) {
        return branch(name, plus, minus, Source{volts, volts, ohms});
    }

    /// A relay: coil and contacts become one part.
    PartId relay(const std::string& name, BranchId coil, double ohms, double pulls, double drops, BranchId open,
                 BranchId closed = {}) {
        Part part;
        part.name = name;
        part.relay = RelayAction{coil, ohms, pulls, drops, open, closed};
        circuit_.parts.push_back(part);
        return {static_cast<std::uint32_t>(circuit_.parts.size() - 1)};
    }

    Circuit& circuit() { return circuit_; }
    Network network() const { return Network(circuit_); }

private:
    Circuit circuit_;
};

}  // namespace voltfall::test
