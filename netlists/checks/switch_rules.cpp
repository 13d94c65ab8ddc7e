// Switches and keys: does each position reach something?
#include <algorithm>

#include "netlists/checks/rules.hpp"
#include "netlists/graph/paths.hpp"
#include "netlists/parts/kind.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

/// Switches times branches that are looked at; beyond, a note says so.
constexpr std::size_t most_walk_work = 50'000'000;

std::vector<std::string> contacts_of(const Part& part) {
    std::vector<std::string> names;
    for (const Position& position : part.positions) {
        for (const std::string& contact : position.contacts) {
            if (std::find(names.begin(), names.end(), contact) == names.end()) names.push_back(contact);
        }
    }
    return names;
}

std::vector<std::string> bare_contacts(const WiredTerminals& ends, PartId id,
                                       const std::vector<std::string>& contacts) {
    std::vector<std::string> bare;
    std::copy_if(contacts.begin(), contacts.end(), std::back_inserter(bare),
                 [&](const std::string& contact) { return !ends.wired(id, contact); });
    return bare;
}

/// Terminals of this switch that lead to the battery's network by themselves, all other contacts closed.
std::vector<std::string> live_terminals(const Network& all_closed_network, const Part& part) {
    Network network = all_closed_network;
    for (const auto& [terminal, branch] : part.contacts) network.at(branch).open = true;
    const std::vector<int> island = islands(network);
    const int live = island[network.circuit->reference.index];
    std::vector<std::string> terminals;
    for (const auto& [terminal, pin] : part.pins) {
        if (island[pin.index] == live) terminals.push_back(terminal);
    }
    return terminals;
}

std::string terminal_list(const Part& part, const std::vector<std::string>& terminals) {
    std::vector<std::string> names;
    for (const std::string& terminal : terminals) names.push_back(terminal_name(part, terminal));
    return listed(names);
}

/// A position does something when it ties at least two terminals that lead somewhere.
void check_position(const WiredTerminals& ends, PartId id, const Part& part, const Position& position,
                    const std::vector<std::string>& live, Problems& problems) {
    const std::vector<std::string> bare = bare_contacts(ends, id, position.contacts);
    const auto is_live = [&](const std::string& terminal) {
        return std::find(live.begin(), live.end(), terminal) != live.end();
    };
    const auto count =
        std::count_if(position.contacts.begin(), position.contacts.end(), is_live) + is_live(part.common);
    if (bare.size() == position.contacts.size()) {
        problems.error(ProblemCode::position_reaches_nothing, part.source,
                       "position " + position.name + " of " + part.name + " reaches nothing: " +
                           terminal_list(part, bare) + (bare.size() == 1 ? " has no wire" : " have no wire"),
                       "add a wire to " + terminal_name(part, bare.front()) + ", or take the position out of the line");
    } else if (count < 2) {
        std::vector<std::string> dead;
        std::copy_if(position.contacts.begin(), position.contacts.end(), std::back_inserter(dead),
                     [&](const std::string& contact) { return !is_live(contact) && ends.wired(id, contact); });
        if (!is_live(part.common)) dead.push_back(part.common);
        problems.error(ProblemCode::position_reaches_nothing, part.source,
                       "position " + position.name + " of " + part.name + " reaches nothing: what is wired to " +
                           terminal_list(part, dead) + " leads neither to the supply nor to ground",
                       "follow that wire in the diagram and write where it ends");
    }
}

void check_switch(const Network& closed, const WiredTerminals& ends, PartId id, const Part& part, Problems& problems) {
    if (!ends.wired(id, part.common)) {
        problems.error(
            ProblemCode::position_reaches_nothing, part.source,
            terminal_name(part, part.common) + " has no wire: no position of " + part.name + " reaches anything",
            "add a wire to " + terminal_name(part, part.common) + ", the common terminal");
        return;
    }
    const std::vector<std::string> live = live_terminals(closed, part);
    for (const Position& position : part.positions) {
        if (!position.contacts.empty()) check_position(ends, id, part, position, live, problems);
    }
    for (const std::string& contact : bare_contacts(ends, id, contacts_of(part))) {
        const bool told = std::any_of(part.positions.begin(), part.positions.end(), [&](const Position& position) {
            const auto& own = position.contacts;
            return std::find(own.begin(), own.end(), contact) != own.end() &&
                   bare_contacts(ends, id, own).size() == own.size();
        });
        if (told) continue;
        problems.warning(
            ProblemCode::contact_unwired, part.source, "contact " + contact + " of " + part.name + " has no wire",
            "add a wire to " + terminal_name(part, contact) + ", or take the contact out of its positions");
    }
}

/// `feed 15` runs through the key's own 15.
void check_key(const Circuit& circuit, Problems& problems) {
    if (!circuit.key.valid()) return;
    const auto fed =
        std::find_if(circuit.parts.begin(), circuit.parts.end(), [](const Part& p) { return p.feed == "15"; });
    if (fed == circuit.parts.end()) return;
    const Part& key = circuit.part(circuit.key);
    const std::vector<std::string> contacts = contacts_of(key);
    if (std::find(contacts.begin(), contacts.end(), "15") != contacts.end()) return;
    problems.error(ProblemCode::key_without_15, key.source,
                   fed->name + " has 'feed 15', but no position of " + key.name + " closes contact 15",
                   "write it as 'key: off acc=75 on=75+15 start=15+50', or feed " + fed->name + " by a wire");
}

/// Without pressure (or cold) a contact that opens below a figure is open, one that opens above it is closed:
/// `normally` may say nothing else, and the healthy figure may not lie on the far side of both.
void check_figures(const Part& part, Problems& problems) {
    const Parameter* opens = part.parameter("opens at");
    const Parameter* closes = part.parameter("closes at");
    if (!has_duty(part, Duty::acting_contact) || !opens || !closes) return;
    const bool open_without = opens->value < closes->value;
    const bool says_open = part.has_flag("open");
    if (!says_open && !part.has_flag("closed")) return;
    if (says_open == open_without) return;
    problems.warning(
        ProblemCode::contact_figures, part.source,
        part.name + " is said to be normally " + (says_open ? "open" : "closed") + ", but by its figures it is " +
            (open_without ? "open" : "closed") + " without pressure: it opens " + (open_without ? "below " : "above ") +
            write_measure(opens->value, opens->unit) + " and closes " + (open_without ? "above " : "below ") +
            write_measure(closes->value, closes->unit) + "; the figures are believed",
        std::string("write normally ") + (open_without ? "open" : "closed") + ", or swap the two figures");
}

}  // namespace

void check_switches(const Circuit& circuit, const WiredTerminals& ends, Problems& problems) {
    check_key(circuit, problems);
    for (const Part& part : circuit.parts) check_figures(part, problems);
    const Network closed = all_closed(circuit);
    std::size_t work = 0;
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        // The positions of a control panel with electronics close nothing that has a wire of its own.
        if (!has_duty(part, Duty::control) || part.electronics || ends.untouched({i})) continue;
        work += circuit.branches.size();
        if (work > most_walk_work) {
            problems.note(ProblemCode::not_tried, part.source,
                          "too many switches to try each position; from " + part.name + " on they were not tried");
            return;
        }
        check_switch(closed, ends, {i}, part, problems);
    }
}

}  // namespace voltfall
