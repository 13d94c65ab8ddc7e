// Connector halves, splice legs and wires: what the wires decide.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "netlists/files/circuit_layout.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/text/natural_order.hpp"

namespace voltfall {

namespace {

/// The ends of wires at one terminal: those written to it and those written from it, by wire.
struct Meeting {
    std::vector<std::uint32_t> to;
    std::vector<std::uint32_t> from;
};
using Meetings = std::map<std::string, Meeting, NaturalOrder>;

Meetings meetings_at(const Circuit& circuit, PartId part) {
    Meetings found;
    for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) {
        const Wire& wire = circuit.wires[i];
        if (wire.to.part == part) found[wire.to.terminal].to.push_back(i);
        if (wire.from.part == part) found[wire.from.terminal].from.push_back(i);
    }
    return found;
}

/// A joint called by its first wire, with the others as further names: `C101.4@541`.
JointId joint_of_wires(Layout& layout, const std::string& stem, const std::vector<std::uint32_t>& wires,
                       const std::string& place, Access access) {
    std::vector<std::string> names;
    for (const std::uint32_t wire : wires) {
        Place half = read_place(stem);
        half.half = layout.circuit().wires[wire].name;
        names.push_back(write_place(half));
    }
    Joint joint{names.front(), {names.begin() + 1, names.end()}, place, access, {}};
    return layout.add_joint(std::move(joint));
}

void end_wires(Circuit& circuit, const Meeting& meeting, JointId to, JointId from) {
    for (const std::uint32_t wire : meeting.to) circuit.wires[wire].to.joint = to;
    for (const std::uint32_t wire : meeting.from) circuit.wires[wire].from.joint = from;
}

void lay_cavity(PartId id, const std::string& cavity, const Meeting& meeting, Layout& layout) {
    Circuit& circuit = layout.circuit();
    Part& part = circuit.parts[id.index];
    const std::string name = write_place({part.name, cavity});
    if (meeting.to.empty() || meeting.from.empty()) {
        // Wires on one half only: nothing is plugged to it, or the file says no more.
        Joint joint{name, {}, part.name, Access::open, {}};
        for (const auto& wires : {meeting.to, meeting.from}) {
            for (const std::uint32_t wire : wires)
                joint.aliases.push_back(write_place({part.name, cavity, circuit.wires[wire].name}));
        }
        const JointId alone = layout.add_joint(std::move(joint));
        part.pins[cavity] = part.harness[cavity] = alone;
        end_wires(circuit, meeting, alone, alone);
        return;
    }
    const JointId to = joint_of_wires(layout, name, meeting.to, part.name, Access::open);
    const JointId from = joint_of_wires(layout, name, meeting.from, part.name, Access::open);
    part.harness[cavity] = to;
    part.pins[cavity] = from;
    end_wires(circuit, meeting, to, from);
    const BranchId contact = layout.branch_at(name, {"contact", BranchSort::contact}, to, from,
                                              Resistor{part.value("contact ohms")}, contact_sigma());
    layout.contact_modes(name, contact, {"no contact in " + name, "poor contact in " + name},
                         "melted burnt crust loose");
    FaultMode& pushed = layout.mode_at(name, {"pushed-out", "pin of " + name + " pushed out"}, FaultClass::joint,
                                       {ModeFact::lost_contact, ModeFact::may_touch}, opening(contact));
    pushed.looks = "loose";
    pushed.share = 0.3;  // rarer than a burnt or green contact; ASSUMED
}

/// `SP1.2` where the legs are numbered, else `SP1@541`.
void lay_leg(PartId id, const std::string& terminal, const Meeting& meeting, JointId middle, Layout& layout) {
    Circuit& circuit = layout.circuit();
    Part& part = circuit.parts[id.index];
    std::vector<std::uint32_t> wires = meeting.to;
    wires.insert(wires.end(), meeting.from.begin(), meeting.from.end());
    std::sort(wires.begin(), wires.end());
    // The strands next to the crimp are under insulation; a probe stands on the splice itself.
    const JointId joint = joint_of_wires(layout, part.name, wires, part.name, Access::inside);
    std::string place = circuit.joint(joint).name;
    if (!terminal.empty()) {
        place = write_place({part.name, terminal});
        Joint& named = circuit.joints[joint.index];
        named.aliases.insert(named.aliases.begin(), named.name);
        named.name = place;
        part.pins[terminal] = part.harness[terminal] = joint;
    }
    end_wires(circuit, meeting, joint, joint);
    const BranchId leg = layout.branch_at(place, {"leg", BranchSort::contact}, joint, middle,
                                          Resistor{part.value("contact ohms")}, contact_sigma());
    layout.contact_modes(place, leg, {"splice leg " + place + " off", "poor crimp at " + place}, "crust burnt loose");
}

/// The joint of an end that is no cavity and no splice.
JointId joint_of_end(const Circuit& circuit, const WireEnd& end) {
    if (!end.part.valid()) {
        if (end.terminal == "31") return circuit.metal;
        return end.terminal == "15" ? circuit.bus_15 : circuit.bus_30;
    }
    const Part& part = circuit.part(end.part);
    return joins(part, Joining::metal) ? part.harness.at("") : part.harness.at(end.terminal);
}

/// `F7.2@541`: a socket without a plug of its own name is called by its first wire; any other terminal is too, besides.
void name_by_wire(JointId id, const Wire& wire, Layout& layout) {
    if (layout.name_socket(id, wire.name)) return;
    Joint& joint = layout.circuit().joints[id.index];
    Place place = read_place(joint.name);
    place.half = wire.name;
    const std::string name = write_place(place);
    if (name != joint.name) joint.aliases.push_back(name);
}

void lay_wire(std::uint32_t index, Layout& layout) {
    Circuit& circuit = layout.circuit();
    for (const bool from : {true, false}) {
        Wire& wire = circuit.wires[index];
        WireEnd& end = from ? wire.from : wire.to;
        if (end.joint.valid()) continue;
        end.joint = joint_of_end(circuit, end);
        if (end.part.valid()) name_by_wire(end.joint, wire, layout);
    }
    Wire& wire = circuit.wires[index];
    Parameter length = wire.length;
    // A guessed length is good to 30 % (tolerance_wire_length's note in the defaults).
    if (length.guessed && length.tolerance == 0) length.tolerance = 0.30;
    const double sigma = sigma_of(length, "tolerance_wire_length");
    const WireId id{index};
    wire.middle = layout.add_joint({wire.name + " middle", {}, wire.name, Access::inside, {}});
    const Resistor half{wire.ohms / 2};
    wire.first_half = layout.add_branch({wire.name, "first half", wire.from.joint, wire.middle, half, {}, id, sigma});
    wire.second_half = layout.add_branch({wire.name, "second half", wire.middle, wire.to.joint, half, {}, id, sigma});
}

}  // namespace

void lay_connector(PartId connector, Layout& layout) {
    for (const auto& [cavity, meeting] : meetings_at(layout.circuit(), connector))
        lay_cavity(connector, cavity, meeting, layout);
}

void lay_splice(PartId splice, Layout& layout) {
    Circuit& circuit = layout.circuit();
    const std::string name = circuit.part(splice).name;
    const JointId middle = layout.add_joint({name, {}, name, Access::open, {}});
    circuit.parts[splice.index].pins[""] = circuit.parts[splice.index].harness[""] = middle;
    for (const auto& [terminal, meeting] : meetings_at(circuit, splice)) {
        if (!terminal.empty()) {
            lay_leg(splice, terminal, meeting, middle, layout);
            continue;
        }
        for (const std::uint32_t wire : meeting.to) lay_leg(splice, "", {{wire}, {}}, middle, layout);
        for (const std::uint32_t wire : meeting.from) lay_leg(splice, "", {{}, {wire}}, middle, layout);
    }
}

void lay_wires(Layout& layout) {
    Circuit& circuit = layout.circuit();
    for (std::uint32_t i = 0; i < circuit.wires.size(); ++i) lay_wire(i, layout);
    // Fed by a bus and no wire: `F7.1@30`.
    while (!layout.sockets_without_wire().empty()) {
        const JointId socket = layout.sockets_without_wire().front();
        const auto fed = std::find_if(circuit.parts.begin(), circuit.parts.end(), [&](const Part& part) {
            return std::any_of(part.harness.begin(), part.harness.end(),
                               [&](const auto& pin) { return pin.second == socket; });
        });
        layout.name_socket(socket, fed == circuit.parts.end() || fed->feed.empty() ? "30" : fed->feed);
    }
}

}  // namespace voltfall
