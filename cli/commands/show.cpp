// `show`: what feeds what.
#include <algorithm>
#include <ostream>

#include "cli/commands/command.hpp"
#include "cli/commands/inputs.hpp"
#include "cli/commands/options.hpp"
#include "cli/views/show_view.hpp"
#include "netlists/graph/feeds.hpp"

namespace voltfall {

namespace {

void declare(CLI::App& app, Arguments& arguments) {
    declare_file(app, arguments, "CIRCUIT", "a circuit, or a job that names one");
}

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

void add_feeds(ShowAnswer& answer, const Circuit& circuit) {
    const Feeds feeds = trace_feeds(circuit);
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
        ShownLoad shown{circuit.part(load.load).name, load.works_in, {}};
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

ExitStatus run(const Arguments& arguments, Console& console) {
    const auto input = load_input(arguments, console);
    if (!input) return ExitStatus::file_errors;
    const Circuit& circuit = *input->circuit;
    ShowAnswer answer;
    answer.circuit = circuit.name;
    answer.note = circuit.note;
    add_feeds(answer, circuit);
    add_values(answer, circuit);
    switch (arguments.format) {
        case Format::text:
            console.out << show_text(answer, answer_style(arguments, console));
            break;
        case Format::json:
            console.out << show_json(answer);
            break;
        case Format::plain:
            console.out << show_plain(answer);
            break;
    }
    return ExitStatus::done;
}

}  // namespace

const Command show_command = {
    "show",
    "what feeds what: every load's way from battery to ground in each position, and what the positions share",
    "CIRCUIT",
    "voltfall show cab-blower.toml\n"
    "voltfall show cab-blower.toml --format json",
    declare,
    run,
};

}  // namespace voltfall
