#include "netlists/parts/layout.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "netlists/parts/kind.hpp"
#include "netlists/parts/usual_changes.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

ModeWords wire_bridge_words(const std::string& wire, const std::string& other) {
    return {"bridge " + other, "wires " + wire + " and " + other + " touch"};
}

ModeWords cavity_bridge_words(const std::string& place, const std::string& first, const std::string& second) {
    return {"bridge " + first + "-" + second,
            "cavities " + first + " and " + second + " of " + place + " bridged (water or dirt)"};
}

bool Layout::used(std::string_view terminal) const {
    return std::any_of(used_.begin(), used_.end(),
                       [&](const auto& entry) { return entry.first == part_ && entry.second == terminal; });
}

void Layout::mark_used(PartId part, std::string_view terminal) {
    used_.emplace_back(part, terminal);
}

JointId Layout::add_joint(Joint joint) {
    circuit_.joints.push_back(std::move(joint));
    return {static_cast<std::uint32_t>(circuit_.joints.size() - 1)};
}

BranchId Layout::add_branch(Branch branch) {
    circuit_.branches.push_back(std::move(branch));
    const BranchId id{static_cast<std::uint32_t>(circuit_.branches.size() - 1)};
    const Branch& added = circuit_.branches.back();
    if (added.part.valid()) circuit_.parts[added.part.index].branches.push_back(id);
    return id;
}

JointId Layout::pin(std::string_view terminal) {
    Part& part = circuit_.parts[part_.index];
    const std::string key(terminal);
    if (const auto found = part.pins.find(key); found != part.pins.end()) return found->second;

    const std::string reach = part.plug.empty() ? part.name : part.plug;
    const JointId pin = add_joint({write_terminal(part.name, terminal), {}, reach, Access::open, {}});
    part.pins[key] = pin;
    const bool has_socket = part.kind->fitting == Fitting::plugs_in || !part.plug.empty();
    if (!has_socket || !used(terminal)) {
        part.harness[key] = pin;
        return pin;
    }
    const bool named = !part.plug.empty();
    const std::string place = named ? write_place({part.plug, key}) : write_terminal(part.name, terminal);
    const JointId wire_side = add_joint({place, {}, reach, Access::open, {}});
    if (!named) sockets_without_wire_.push_back(wire_side);
    part.harness[key] = wire_side;
    // A socket without a named plug has no ohms of its own while healthy: it is one piece of copper.
    const double ohms = named ? default_value("plug_ohm") : 0.0;
    const BranchId socket = branch_at(place, {named ? "plug" : "socket", BranchSort::socket}, wire_side, pin,
                                      Resistor{ohms}, contact_sigma());
    const std::string where = (named ? "plug " : "the socket at ") + place;
    contact_modes(place, socket, {"no contact in " + where, "poor contact in " + where}, "melted burnt crust loose");
    return pin;
}

bool Layout::name_socket(JointId joint, std::string_view wire) {
    const auto socket = std::find(sockets_without_wire_.begin(), sockets_without_wire_.end(), joint);
    if (socket == sockets_without_wire_.end()) return false;
    sockets_without_wire_.erase(socket);
    std::string& name = circuit_.joints[joint.index].name;
    Place place = read_place(name);
    place.half = wire;
    name = write_place(place);
    return true;
}

JointId Layout::inner(std::string_view name) {
    const Part& part = circuit_.parts[part_.index];
    return add_joint({part.name + " " + std::string(name), {}, part.name, Access::inside, {}});
}

BranchId Layout::branch(BranchRole role, JointId a, JointId b, Law law, double tolerance) {
    return branch_at(circuit_.parts[part_.index].name, std::move(role), a, b, law, tolerance);
}

BranchId Layout::branch(BranchRole role, std::string_view from, std::string_view to, Law law, double tolerance) {
    const JointId first = pin(from);
    const JointId second = pin(to);
    return branch(std::move(role), first, second, std::move(law), tolerance);
}

BranchId Layout::branch_at(std::string_view place, BranchRole role, JointId a, JointId b, Law law, double tolerance) {
    return add_branch({std::string(place), std::move(role.words), a, b, law, part_, {}, tolerance, role.sort});
}

FaultMode& Layout::mode(ModeWords words, FaultClass fault_class, ModeFacts facts, ChangesOf changes) {
    return mode_at(circuit_.parts[part_.index].name, std::move(words), fault_class, facts, std::move(changes));
}

FaultMode& Layout::mode_at(std::string_view place, ModeWords words, FaultClass fault_class, ModeFacts facts,
                           ChangesOf changes) {
    auto mode = std::make_shared<FaultMode>();
    mode->place = place;
    mode->part = part_;
    mode->mode = std::move(words.words);
    mode->plain = std::move(words.plain);
    mode->facts = facts;
    mode->fault_class = fault_class;
    mode->repair = place;
    mode->changes = std::move(changes);
    FaultMode& added = *mode;
    circuit_.modes.push_back(std::move(mode));
    return added;
}

void Layout::contact_modes(std::string_view place, BranchId branch, ContactPlain plain, std::string_view looks) {
    FaultMode& open = mode_at(place, {"open", std::move(plain.open)}, FaultClass::joint,
                              {ModeFact::lost_contact, ModeFact::may_touch}, opening(branch));
    open.looks = looks;
    FaultMode& poor = mode_at(place, {"resistance", std::move(plain.poor)}, FaultClass::joint,
                              {ModeFact::poor_contact, ModeFact::may_touch}, adding_ohms(branch));
    poor.size = resistance_range();
    poor.looks = looks;
    poor.share = 2;  // poor contacts are reported about twice as often as lost ones (common practice, no source)
}

SizeRange resistance_range() {
    const auto [low, high, unit] = default_range("range_resistance");
    return {low, high, default_value("resistance_ohm"), unit, true, "range_resistance"};
}

SizeRange contact_to_metal_range(double usual) {
    const auto [low, high, unit] = default_range("range_chafe");
    return {low, high, usual, unit, true, "range_chafe"};
}

SizeRange factor_range(std::string_view range_row, std::string_view usual_row) {
    const auto [low, high, unit] = default_range(range_row);
    return {low, high, default_value(usual_row), unit, true, std::string(range_row)};
}

double contact_sigma() {
    return std::log(default_value("tolerance_contact_factor"));
}

double sigma_of(const Parameter& parameter, std::string_view row) {
    if (parameter.tolerance > 0) return parameter.tolerance / 3;
    if (row.empty()) return 0;
    const auto share = parse_measure(default_row(row).text);
    return share ? share->value / 3 : 0;
}

}  // namespace voltfall
