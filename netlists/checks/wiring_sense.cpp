#include "netlists/checks/wiring_sense.hpp"

#include <optional>

#include "netlists/checks/rules.hpp"
#include "netlists/tables/defaults.hpp"

namespace voltfall {

namespace {

/// The circuit with battery plus at each fuse that lacks a feed: what is dead behind one is no mistake of its own.
Circuit with_feeds(const Circuit& circuit, const WiredTerminals& ends) {
    Circuit fed = circuit;
    const JointId plus = circuit.parts.at(circuit.battery.index).pins.at("+");
    for (std::uint32_t i = 0; i < circuit.parts.size(); ++i) {
        const Part& part = circuit.parts[i];
        if (!lacks_feed(ends, {i}, part)) continue;
        Branch tie;
        tie.place = part.name;
        tie.role = "feed";
        tie.a = plus;
        tie.b = part.pins.at("1");
        tie.law = Resistor{default_value("feed_ohm")};
        tie.sort = BranchSort::tie;
        fed.branches.push_back(std::move(tie));
    }
    return fed;
}

}  // namespace

Problems check_wiring(const Circuit& typed) {
    Problems problems;
    const WiredTerminals ends(typed);
    check_parts(typed, ends, problems);
    std::optional<Circuit> fed;
    if (any_lacks_feed(typed, ends)) fed = with_feeds(typed, ends);
    const Circuit& circuit = fed ? *fed : typed;
    const Survey survey = survey_positions(circuit);
    check_loads(circuit, ends, survey, problems);
    check_relays(circuit, ends, survey, problems);
    check_switches(circuit, ends, problems);
    check_commands(circuit, ends, problems);
    check_supply(circuit, survey, problems);
    check_fuse_loads(circuit, problems);
    problems.sort();
    return problems;
}

}  // namespace voltfall
