#include "engine/figures/overview.hpp"

#include <algorithm>

#include "engine/figures/across_loads.hpp"
#include "engine/figures/commanded_loads.hpp"
#include "netlists/graph/feeds.hpp"

namespace voltfall {

namespace {

std::vector<ShownStep> shown_steps(const std::vector<WayStep>& steps) {
    std::vector<ShownStep> shown;
    for (const WayStep& step : steps) shown.push_back({step.place, step.roles, step.ohms, step.only_way});
    return shown;
}

std::vector<ShownWay> shown_ways(const Circuit& circuit, const std::vector<LoadWay>& ways) {
    std::vector<ShownWay> shown;
    for (const LoadWay& way : ways)
        shown.push_back(
            {circuit.part(way.load).name, way.complete, way.ohms, shown_steps(way.feed), shown_steps(way.back)});
    return shown;
}

void add_feeds(ShowAnswer& answer, Simulator& simulator, const Circuit& circuit) {
    Feeds feeds = trace_feeds(circuit);
    leave_out_commanded_off(feeds, simulator, circuit);
    for (const PositionFeeds& position : feeds.positions) {
        ShownPosition shown{position.label,
                            shown_ways(circuit, position.loads),
                            shown_ways(circuit, position.coils),
                            {},
                            position.relays_settled};
        for (const PartId relay : position.pulled) shown.pulled.push_back(circuit.part(relay).name);
        answer.positions.push_back(std::move(shown));
    }
    for (const LoadShares& load : feeds.loads) {
        ShownLoad shown{circuit.part(load.load).name, load.works_in, {}, parts_across(circuit, load.load)};
        for (const SharedPlace& place : load.places)
            shown.places.push_back({place.place, place.positions, place.every});
        answer.loads.push_back(std::move(shown));
    }
    for (const JointId joint : feeds.floating_off)
        if (circuit.joint(joint).access != Access::inside) answer.floating_off.push_back(circuit.joint(joint).name);
}

/// Values of one kind stand together: name, value and source once, then who uses it.
void add_value(std::vector<ShownDefault>& values, const Parameter& parameter, const std::string& user) {
    for (ShownDefault& known : values)
        if (known.name == parameter.name && known.value == parameter.value && known.source == parameter.source) {
            if (std::find(known.used_by.begin(), known.used_by.end(), user) == known.used_by.end())
                known.used_by.push_back(user);
            return;
        }
    values.push_back({parameter.name, parameter.value, parameter.unit, parameter.source, {user}});
}

void add_parameter(ShowAnswer& answer, const Parameter& parameter, const std::string& user) {
    if (!parameter.typed)
        add_value(answer.defaults, parameter, user);
    else if (parameter.guessed)
        add_value(answer.guesses, parameter, user);
}

void add_values(ShowAnswer& answer, const Circuit& circuit) {
    for (const Part& part : circuit.parts) {
        for (const Parameter& parameter : part.parameters) add_parameter(answer, parameter, part.name);
        for (const Coil& coil : part.coils) add_parameter(answer, coil.ohms, part.name);
        for (const Limiter& limiter : part.limiters) add_parameter(answer, limiter.opens_at, part.name);
    }
    for (const Wire& wire : circuit.wires) add_parameter(answer, wire.length, wire.name);
}

}  // namespace

ShowAnswer overview_of(Simulator& simulator, const Circuit& circuit) {
    ShowAnswer answer;
    answer.circuit = circuit.name;
    answer.note = circuit.note;
    add_feeds(answer, simulator, circuit);
    for (const Part& part : circuit.parts)
        if (part.moved_by) answer.contacts.push_back(part.name + "=" + part.positions[part.rest_position].name);
    add_values(answer, circuit);
    return answer;
}

}  // namespace voltfall
