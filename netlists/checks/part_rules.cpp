// Parts and their ends: what needs no walk through the circuit.
#include <algorithm>
#include <map>

#include "netlists/checks/rules.hpp"
#include "netlists/parts/feed_words.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"
#include "netlists/text/suggest.hpp"
#include "netlists/text/words.hpp"

namespace voltfall {

namespace {

/// The battery and the key are tied by `feed 30` and `feed 15` without a wire.
bool used_by_feeds(const Circuit& circuit, PartId part) {
    const auto fed = [&](std::string_view bus) {
        return std::any_of(circuit.parts.begin(), circuit.parts.end(), [&](const Part& p) { return p.feed == bus; });
    };
    return (part == circuit.battery && (fed("30") || fed("15"))) || (part == circuit.key && fed("15"));
}

bool needs_wires(const Part& part) {
    const bool is_lamp = part.kind->load == LoadKind::lamp;
    return part.fuse.has_value() || (part.load_branch.valid() && !is_lamp);
}

std::string example_wire(const Circuit& circuit, const Part& part) {
    const auto terminals = part.kind->terminals(part);
    std::string from = terminals.empty() ? part.name : terminal_name(part, terminals.front());
    if (joins(part, Joining::cavities)) from = write_place({part.name, "1"});
    const auto other = std::find_if(circuit.parts.begin(), circuit.parts.end(),
                                    [&](const Part& p) { return &p != &part && joins(p, Joining::metal); });
    const std::string to = other == circuit.parts.end() ? circuit.part(circuit.battery).name + "-" : other->name;
    return "'" + from + " > " + to + "  1mm2 BK 1m'";
}

void check_alone(const Circuit& circuit, const Part& part, Problems& problems) {
    const std::string message = "no wire reaches " + part.name + " (" + std::string(kind_word(part)) + ")";
    const std::string suggestion =
        "add a wire in [wires], such as " + example_wire(circuit, part) + ", or take the line of " + part.name + " out";
    if (needs_wires(part)) {
        problems.error(ProblemCode::no_wire, part.source, message, suggestion);
    } else {
        problems.warning(ProblemCode::no_wire, part.source, message, suggestion);
    }
}

/// Says how to write what a fuse is fed by; where its own words tell it ("always live", "ignition"), in their place.
std::string feed_advice(const Part& fuse, const std::string& bare) {
    Problems unused;
    for (const Word& word : cut_words(TypedText::argument("", fuse.print), unused)) {
        if (const std::string_view feed = feed_called(word.text); !feed.empty())
            return "write feed " + std::string(feed) + " in place of '" + fuse.print + "'";
    }
    return "add ', feed 30' (always live) or ', feed 15' (key on) to its line, or a wire to " + bare;
}

/// Parts of two terminals that current runs through: fuses and such need both, the rest only end in the air.
void check_two_ends(const WiredTerminals& ends, PartId id, const Part& part, Problems& problems) {
    const auto terminals = part.kind->terminals(part);
    if (terminals.size() != 2 || part.load_branch.valid()) return;
    if (has_duty(part, Duty::battery) || has_duty(part, Duty::control) || has_duty(part, Duty::key)) return;
    for (std::size_t i = 0; i < 2; ++i) {
        if (ends.wired(id, terminals[i]) || !ends.wired(id, terminals[1 - i])) continue;
        const std::string bare = terminal_name(part, terminals[i]);
        if (lacks_feed(ends, id, part)) {
            problems.error(ProblemCode::no_feed, part.source,
                           bare + " has neither a wire nor a feed: " + part.name + " gets no current",
                           feed_advice(part, bare));
        } else if (part.fuse) {
            problems.error(ProblemCode::no_wire, part.source, bare + " has no wire: " + part.name + " feeds nothing",
                           "add a wire from " + bare + " to what the fuse feeds");
        } else {
            problems.warning(ProblemCode::wire_ends_in_air, part.source,
                             bare + " has no wire: " + part.name + " ends in the air", "add a wire to " + bare);
        }
    }
}

void check_splice(const WiredTerminals& ends, PartId id, const Part& part, Problems& problems) {
    if (ends.at(id).size() != 1) return;
    problems.warning(ProblemCode::wire_ends_in_air, part.source,
                     "only one wire reaches splice " + part.name + ": it joins nothing",
                     "write the other wires of the splice with " + part.name + " as their end");
}

void check_cavities(const Circuit& circuit, const WiredTerminals& ends, PartId id, const Part& part,
                    Problems& problems) {
    struct Halves {
        std::vector<WireId> to;
        std::vector<WireId> from;
    };
    std::map<std::string, Halves> cavities;
    std::vector<std::string> order;
    for (const WiredTerminals::End& end : ends.at(id)) {
        if (!cavities.contains(end.terminal)) order.push_back(end.terminal);
        Halves& halves = cavities[end.terminal];
        (end.written_to ? halves.to : halves.from).push_back(end.wire);
    }
    for (const std::string& cavity : order) {
        const Halves& halves = cavities[cavity];
        if (!halves.to.empty() && !halves.from.empty()) continue;
        const bool all_to = halves.from.empty();
        const std::vector<WireId>& wires = all_to ? halves.to : halves.from;
        const std::string name = terminal_name(part, cavity);
        const Wire& last = circuit.wire(wires.back());
        const SourcePlace& place = all_to ? last.to.source : last.from.source;
        if (wires.size() == 1) {
            problems.warning(ProblemCode::wire_ends_in_air, place,
                             "wire " + last.name + " is the only one at " + name + ": it ends in the air there",
                             std::string("write the wire of the other half ") + (all_to ? "*from* " : "*to* ") + name);
            continue;
        }
        std::vector<std::string> names;
        for (const WireId wire : wires) names.push_back(circuit.wire(wire).name);
        const std::string suggestion = all_to ? "write one of them *from* " + name + ", as '" + name + " > ...'"
                                              : "write one of them *to* " + name + ", as '... > " + name + "'";
        problems.error(ProblemCode::one_half, place,
                       "wires " + listed(names) + " are all written " + (all_to ? "to " : "from ") + name +
                           ", so they sit on one half and the contact between the halves is bypassed",
                       suggestion);
    }
}

void check_fed_twice(const Circuit& circuit, const WiredTerminals& ends, PartId id, const Part& part,
                     Problems& problems) {
    if (part.feed.empty() || !ends.has_wire(id, "1")) return;
    const auto& at = ends.at(id);
    const auto wire =
        std::find_if(at.begin(), at.end(), [](const WiredTerminals::End& end) { return end.terminal == "1"; });
    const std::string& name = circuit.wire(wire->wire).name;
    problems.note(ProblemCode::two_feeds, part.source,
                  part.name + " has 'feed " + part.feed + "' and wire " + name + " at its terminal 1 as well",
                  "leave one of them out if the diagram shows one feed");
}

/// One note for the whole file: what was guessed counts with a wide tolerance.
void note_guessed(const Circuit& circuit, Problems& problems) {
    const SourcePlace* first = nullptr;
    std::vector<std::string> values;
    const auto add = [&](std::vector<std::string>& names, const std::string& name, const SourcePlace& place) {
        if (!first) first = &place;
        if (names.empty() || names.back() != name) names.push_back(name);
    };
    for (const Part& part : circuit.parts) {
        for (const Parameter& parameter : part.parameters) {
            if (parameter.guessed) add(values, "the " + parameter.name + " of " + part.name, part.source);
        }
        for (const Coil& coil : part.coils) {
            if (coil.ohms.guessed) add(values, "coil " + coil.from + "-" + coil.to + " of " + part.name, part.source);
        }
    }
    std::vector<std::string> lengths;
    for (const Wire& wire : circuit.wires) {
        if (wire.length.guessed || !wire.length.typed) add(lengths, wire.number, wire.source);
    }
    if (!lengths.empty())
        values.push_back((lengths.size() == 1 ? "the length of wire " : "the lengths of wires ") + listed(lengths));
    if (!first) return;
    problems.note(ProblemCode::guessed_figures, *first, "guessed: " + listed(values),
                  "measure them where a reading is a little off; a guessed length counts with 30%");
}

}  // namespace

bool stands_alone(const Circuit& circuit, const WiredTerminals& ends, PartId part) {
    return ends.untouched(part) && (circuit.part(part).feed.empty() || needs_wires(circuit.part(part))) &&
           !used_by_feeds(circuit, part);
}

bool lacks_feed(const WiredTerminals& ends, PartId id, const Part& part) {
    return part.fuse && !ends.wired(id, "1") && ends.wired(id, "2");
}

bool any_lacks_feed(const Circuit& circuit, const WiredTerminals& ends) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        if (lacks_feed(ends, {i}, circuit.parts[i])) return true;
    }
    return false;
}

void check_parts(const Circuit& circuit, const WiredTerminals& ends, Problems& problems) {
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        const PartId id{i};
        if (stands_alone(circuit, ends, id)) {
            // What a fuse without a feed asks for is the battery.
            if (id == circuit.battery && any_lacks_feed(circuit, ends)) continue;
            check_alone(circuit, part, problems);
            continue;
        }
        if (joins(part, Joining::legs)) check_splice(ends, id, part, problems);
        if (joins(part, Joining::cavities)) check_cavities(circuit, ends, id, part, problems);
        check_two_ends(ends, id, part, problems);
        check_fed_twice(circuit, ends, id, part, problems);
    }
    note_guessed(circuit, problems);
}

}  // namespace voltfall
