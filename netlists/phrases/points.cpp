#include <algorithm>
#include <span>
#include <string_view>
#include <unordered_set>

#include "netlists/parts/kind.hpp"
#include "netlists/phrases/places.hpp"
#include "netlists/phrases/reading_phrase.hpp"
#include "netlists/phrases/vocabulary.hpp"
#include "netlists/text/lists.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"

namespace voltfall {

namespace {

JointId joint_with_name(const Circuit& circuit, std::string_view name) {
    for (std::size_t i = 0; i < circuit.joints.size(); ++i) {
        if (same_word(circuit.joints[i].name, name)) return {static_cast<std::uint32_t>(i)};
    }
    return {};
}

std::vector<JointId> joints_starting(const Circuit& circuit, const std::string& start) {
    std::vector<JointId> found;
    for (std::size_t i = 0; i < circuit.joints.size(); ++i) {
        const std::string& name = circuit.joints[i].name;
        if (name.size() > start.size() && same_word(std::string_view(name).substr(0, start.size()), start)) {
            found.push_back({static_cast<std::uint32_t>(i)});
        }
    }
    return found;
}

/// `C205.A@60` (both pieces of a chain) and `C205.A@60b`.
std::vector<JointId> joints_at_wire(const Circuit& circuit, std::string_view typed) {
    Place place = read_place(typed);
    if (place.half.empty()) return {};
    if (auto pieces = joints_starting(circuit, std::string(typed) + ":"); !pieces.empty()) return pieces;
    const WireId wire = circuit.find_wire(place.half);
    if (!wire.valid()) return {};
    place.half = circuit.wire(wire).name;
    const JointId joint = joint_with_name(circuit, write_place(place));
    return joint.valid() ? std::vector<JointId>{joint} : std::vector<JointId>{};
}

JointId terminal_joint(const std::map<std::string, JointId>& terminals, const std::string& terminal) {
    const auto found = terminals.find(terminal);
    return found == terminals.end() ? JointId{} : found->second;
}

/// `M1.+`, `B1.-`, `C303.3` by the part's own names of its terminals; a numbered ground or splice (`G201.1`).
std::vector<JointId> joints_of_terminal(const Circuit& circuit, std::string_view typed) {
    const auto [owner, terminal, half] = read_place(typed);
    if (owner.empty() || terminal.empty()) return {};
    for (const Part& part : circuit.parts) {
        const bool plug = !part.plug.empty() && same_word(part.plug, owner);
        if (!plug && !same_word(part.name, owner)) continue;
        if (!plug && part.kind->terminals(part).empty()) {
            const JointId whole = joint_with_name(circuit, part.name);
            return whole.valid() ? std::vector<JointId>{whole} : std::vector<JointId>{};
        }
        if (!half.empty()) continue;
        const std::string canonical = canonical_terminal(part, terminal);
        const JointId joint = terminal_joint(plug ? part.harness : part.pins, canonical);
        if (!canonical.empty() && joint.valid()) return {joint};
    }
    return {};
}

/// The trade's words for the vehicle's metal, where no name of the circuit is so spelled.
bool is_metal_word(std::string_view typed) {
    return is_said(metal_sayings(), typed);
}

/// "C101.4" of "C101.4@541": a view of the name, for it is asked of every joint for each word that is typed.
std::string_view before_at(std::string_view joint_name) {
    return joint_name.substr(0, joint_name.find('@'));
}

std::optional<std::string> find_bus(const Circuit& circuit, std::string_view typed) {
    for (const JointId bus : {circuit.bus_30, circuit.bus_15, circuit.metal}) {
        if (bus.valid() && same_word(circuit.joint(bus).name, typed)) return circuit.joint(bus).name;
    }
    return std::nullopt;
}

std::optional<std::string> find_chain(const Circuit& circuit, std::string_view typed) {
    for (const Wire& wire : circuit.wires) {
        if (same_word(wire.number, typed)) return wire.number;
    }
    return std::nullopt;
}

void add_once(std::vector<std::string>& names, std::string_view name) {
    if (!name.empty() && std::find(names.begin(), names.end(), name) == names.end()) names.emplace_back(name);
}

/// A terminal that the part has, but that nothing is wired to.
bool is_unused_terminal(const Circuit& circuit, std::string_view typed) {
    const Place place = read_place(typed);
    const PartId part = place.cavity.empty() || !place.half.empty() ? PartId{} : circuit.find_part(place.owner);
    if (!part.valid() || circuit.part(part).kind->terminals(circuit.part(part)).empty()) return false;
    return !canonical_terminal(circuit.part(part), place.cavity).empty();
}

/// Why a known thing is no point, and what would be.
std::string point_advice(const Circuit& circuit, std::string_view typed) {
    const auto choices = [](const std::vector<std::string>& names) {
        return names.empty() ? std::string() : "name a point of it: " + list_words(names);
    };
    if (const PartId id = circuit.find_part(typed); id.valid()) {
        std::vector<std::string> names;
        for (const auto& [terminal, joint] : circuit.part(id).pins) names.push_back(circuit.joint(joint).name);
        if (names.empty()) names = cavities_of(circuit, circuit.part(id).name);
        std::string advice = choices(names);
        if (const auto& positions = circuit.part(id).positions; !positions.empty()) {
            advice += (advice.empty() ? "" : "; ") + ("as a state write " + circuit.part(id).name) + "=" +
                      positions.back().name;
        }
        return advice;
    }
    if (find_connector(circuit, typed)) return choices(cavities_of(circuit, typed));
    if (const WireId id = circuit.find_wire(typed); id.valid()) {
        const Wire& wire = circuit.wire(id);
        if (!wire.from.joint.valid() || !wire.to.joint.valid()) return {};
        return "a probe stands at an end of the wire: " + circuit.joint(wire.from.joint).name + " or " +
               circuit.joint(wire.to.joint).name;
    }
    const std::string near = names_near(circuit, typed);
    return near.empty() ? did_you_mean_or_known(typed, place_names(circuit)) : near;
}

/// Letters in front of the digits: "SP" of "SP2".
std::string_view stem_of(std::string_view name) {
    return name.substr(0, name.find_first_of("0123456789"));
}

/// The line that would declare such a thing, after a part of the same stem that joins or protects; empty otherwise.
std::string line_to_add(const Circuit& circuit, std::string_view typed) {
    const std::string owner(read_place(typed).owner);
    const std::string_view stem = stem_of(owner);
    if (owner.empty() || stem.empty() || stem.size() == owner.size() || circuit.find_part(owner).valid()) return {};
    for (const Part& part : circuit.parts) {
        if (!only_joins(part) || !same_word(stem_of(part.name), stem)) continue;
        return "if it is on the diagram, add its line: " + owner + " = \"" + std::string(part.kind->word) + "\"";
    }
    if (same_word(stem, "SP")) return "a splice needs its line: " + owner + " = \"splice\"";
    return {};
}

}  // namespace

std::string names_near(const Circuit& circuit, std::string_view typed) {
    const std::string line = line_to_add(circuit, typed);
    const std::string near = did_you_mean(typed, place_names(circuit));
    if (line.empty() || near.empty()) return line.empty() ? near : line;
    return near + " " + line;
}

std::string word_near(std::string_view typed, const std::vector<std::string>& words) {
    constexpr std::size_t letters_a_mistake = 4;
    std::vector<std::string> near;
    for (const std::string& word : words) {
        const std::size_t most = std::max<std::size_t>(1, std::min(typed.size(), word.size()) / letters_a_mistake);
        if (edit_distance(typed, word) <= most) near.push_back(word);
    }
    return did_you_mean(typed, near);
}

std::string list_words(const std::vector<std::string>& words) {
    constexpr std::size_t most = 12;
    if (words.size() <= most) return joined(words, " or ");
    return joined(std::span(words).first(most), ", ") + " …";
}

std::optional<std::string> with_dot(std::string_view typed) {
    const auto sign = typed.find_last_of("-/");
    if (sign == std::string_view::npos || sign == 0 || sign + 1 == typed.size()) return std::nullopt;
    return write_place({typed.substr(0, sign), typed.substr(sign + 1)});
}

std::vector<JointId> joints_named(const Circuit& circuit, std::string_view typed) {
    if (typed.empty()) return {};
    if (const JointId joint = joint_with_name(circuit, typed); joint.valid()) return {joint};
    if (auto halves = joints_starting(circuit, std::string(typed) + "@"); !halves.empty()) return halves;
    if (const JointId joint = circuit.find_joint(typed); joint.valid()) return {joint};
    if (auto at_wire = joints_at_wire(circuit, typed); !at_wire.empty()) return at_wire;
    if (auto terminal = joints_of_terminal(circuit, typed); !terminal.empty()) return terminal;
    if (is_metal_word(typed) && circuit.metal.valid() && !circuit.find_part(typed).valid()) return {circuit.metal};
    const auto dotted = with_dot(typed);
    const bool whole_name = circuit.find_part(typed).valid() || circuit.find_wire(typed).valid();
    return dotted && !whole_name ? joints_named(circuit, *dotted) : std::vector<JointId>{};
}

bool is_exact_name(const Circuit& circuit, std::string_view typed) {
    const auto is = [&](std::string_view name) { return name == typed; };
    const auto part = [&](const Part& p) { return is(p.name) || (!p.plug.empty() && is(p.plug)); };
    const auto wire = [&](const Wire& w) { return is(w.name) || is(w.number); };
    const auto joint = [&](const Joint& j) {
        // The whole name, or what stands before its `@`.
        const bool begins = j.name.starts_with(typed);
        const bool named = begins && (j.name.size() == typed.size() ||
                                      (j.name[typed.size()] == '@' && typed.find('@') == std::string_view::npos));
        return named || std::any_of(j.aliases.begin(), j.aliases.end(), is);
    };
    return std::any_of(circuit.parts.begin(), circuit.parts.end(), part) ||
           std::any_of(circuit.wires.begin(), circuit.wires.end(), wire) ||
           std::any_of(circuit.joints.begin(), circuit.joints.end(), joint);
}

std::optional<std::string> find_connector(const Circuit& circuit, std::string_view typed) {
    for (const Part& part : circuit.parts) {
        if (!part.plug.empty() && same_word(part.plug, typed)) return part.plug;
        if (joins(part, Joining::cavities) && same_word(part.name, typed)) return part.name;
    }
    return std::nullopt;
}

bool sits_there(const Circuit& circuit, const Branch& branch, std::string_view place) {
    if (same_word(branch.place, place) || is_cavity_of(branch.place, place)) return true;
    if (!branch.part.valid()) return false;
    const Part& part = circuit.part(branch.part);
    return same_word(part.name, place) || same_word(part.plug, place);
}

std::vector<std::string> cavities_of(const Circuit& circuit, std::string_view connector) {
    std::vector<std::string> names;
    const auto start = [&](char sign) { return std::string(connector) + sign; };
    for (const JointId id : joints_starting(circuit, start('.'))) add_once(names, before_at(circuit.joint(id).name));
    if (names.empty()) {
        for (const JointId id : joints_starting(circuit, start('@'))) add_once(names, circuit.joint(id).name);
    }
    return names;
}

std::vector<std::string> pieces_of_chain(const Circuit& circuit, std::string_view number) {
    std::vector<std::string> pieces;
    for (const Wire& wire : circuit.wires) {
        if (same_word(wire.number, number)) pieces.push_back(wire.name);
    }
    return pieces.size() > 1 ? pieces : std::vector<std::string>{};
}

std::optional<Point> read_point(const Word& word, const WordReader& words, const Circuit& circuit, Problems& problems) {
    auto joints = joints_named(circuit, word.text);
    if (!joints.empty()) return Point{std::move(joints), word.text};
    const bool known = find_place(circuit, word.text).has_value();
    if (is_unused_terminal(circuit, word.text)) {
        problems.error(ProblemCode::unwired_point, words.place(&word),
                       "nothing is wired to '" + word.text + "' in this circuit", point_advice(circuit, word.text));
        return std::nullopt;
    }
    problems.error(ProblemCode::unknown_point, words.place(&word),
                   known ? "'" + word.text + "' is not one point" : "no point is called '" + word.text + "'",
                   point_advice(circuit, word.text));
    return std::nullopt;
}

std::optional<std::string> find_place(const Circuit& circuit, std::string_view typed) {
    if (typed.empty()) return std::nullopt;
    if (auto bus = find_bus(circuit, typed)) return bus;
    if (const PartId part = circuit.find_part(typed); part.valid()) return circuit.part(part).name;
    if (const WireId wire = circuit.find_wire(typed); wire.valid()) return circuit.wire(wire).name;
    if (auto connector = find_connector(circuit, typed)) return connector;
    if (auto chain = find_chain(circuit, typed)) return chain;
    const auto joints = joints_named(circuit, typed);
    if (joints.empty()) return std::nullopt;
    const std::string& name = circuit.joint(joints.front()).name;
    return joints.size() == 1 ? name : std::string(before_at(name));
}

std::vector<std::string> place_names(const Circuit& circuit) {
    std::vector<std::string> names;
    std::unordered_set<std::string_view> there;
    const auto add = [&](std::string_view name) {
        if (!name.empty() && there.insert(name).second) names.emplace_back(name);
    };
    for (const Part& part : circuit.parts) {
        add(part.name);
        add(part.plug);
    }
    for (const Wire& wire : circuit.wires) {
        add(wire.name);
        add(wire.number);
    }
    for (const Joint& joint : circuit.joints) {
        if (joint.access == Access::inside) continue;
        add(before_at(joint.name));
        add(joint.name);
    }
    return names;
}

}  // namespace voltfall
