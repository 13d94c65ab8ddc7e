#include "cli/views/json_document.hpp"
#include "cli/views/startup_view.hpp"
#include "cli/views/whatif_view.hpp"

namespace voltfall {

namespace {

Json figures_json(const CircuitFigures& figures) {
    Json object = Json::object();
    Json& loads = object["loads"] = Json::object();
    for (const LoadFigures& load : figures.loads)
        loads[load.name] = {{"volts", json_number(load.volts)},
                            {"amps", json_number(load.amps)},
                            {"rpm", json_number(load.rpm)},
                            {"seen", word_of(load.seen)}};
    Json& fuses = object["fuses"] = Json::object();
    for (const FuseFigures& fuse : figures.fuses)
        fuses[fuse.name] = {{"amps", json_number(fuse.amps)},
                            {"opens", fuse.seconds.has_value()},
                            {"seconds", json_number(fuse.seconds)},
                            {"open", fuse.open}};
    Json& points = object["points"] = Json::object();
    for (const PointFigure& point : figures.points) points[point.name] = json_number(point.volts);
    Json& wires = object["wires"] = Json::object();
    for (const WireFigures& wire : figures.wires)
        wires[wire.name] = {{"from", json_number(wire.from)}, {"to", json_number(wire.to)}};
    Json& relays = object["relays"] = Json::object();
    for (const RelayFigure& relay : figures.relays) relays[relay.name] = relay.word;
    object["floating"] = figures.floating;
    object["weak"] = figures.weak;
    object["holding"] = figures.holding;
    return object;
}

Json limit_json(const LimitFigure& limit) {
    return {{"key", limit.key},
            {"what", limit.what},
            {"low", json_number(limit.low)},
            {"high", json_number(limit.high)},
            {"unit", limit.unit},
            {"healthy", json_number(limit.healthy)},
            {"faulted", json_number(limit.faulted)},
            {"healthy_ok", limit.holds(limit.healthy)},
            {"faulted_ok", limit.holds(limit.faulted)}};
}

Json state_json(const WhatifState& state) {
    Json object = {{"state", state.state}};
    object["healthy"] = figures_json(state.healthy);
    object["faulted"] = figures_json(state.faulted);
    object["aftermath"] = Json::array();
    for (const HeatEvent& event : state.aftermath)
        object["aftermath"].push_back({{"seconds", json_number(event.seconds)},
                                       {"what", event.what},
                                       {"kind", event_word(event.kind)},
                                       {"name", event.name},
                                       {"earliest", json_number(event.earliest)},
                                       {"latest", json_number(event.latest)},
                                       {"otherwise", event.otherwise},
                                       {"watts", json_number(event_watts(event))},
                                       {"goes_on", event.goes_on}});
    object["after"] = figures_json(state.after);
    object["limits"] = Json::array();
    for (const LimitFigure& limit : state.limits) object["limits"].push_back(limit_json(limit));
    object["lamp"] = nullptr;
    if (state.lamp) {
        Json shorts = Json::array();
        for (const LampSections::Short& row : state.lamp->shorts) {
            Json millivolts = Json::array();
            for (const double value : row.millivolts) millivolts.push_back(json_number(value));
            shorts.push_back({{"fault", row.fault},
                              {"lamp_volts", json_number(row.lamp_volts)},
                              {"millivolts", std::move(millivolts)}});
        }
        object["lamp"] = {
            {"fuse", state.lamp->fuse}, {"sections", state.lamp->sections}, {"shorts", std::move(shorts)}};
    }
    object["heat"] = Json::array();
    for (const BodyHeat& heat : state.heat)
        object["heat"].push_back({{"name", heat.name},
                                  {"kind", body_word(heat.kind)},
                                  {"celsius", json_number(heat.celsius)},
                                  {"hottest", json_number(heat.hottest)},
                                  {"limit", json_number(heat.limit)},
                                  {"watts", json_number(heat.watts)},
                                  {"healthy_watts", json_number(heat.healthy_watts)}});
    object["startup"] = startup_json(state.start);
    return object;
}

}  // namespace

std::string whatif_json(const WhatifAnswer& answer) {
    Json object = json_answer("whatif");
    object["faults"] = answer.faults;
    object["states"] = Json::array();
    for (const WhatifState& state : answer.states) object["states"].push_back(state_json(state));
    object["not_checked"] = answer.not_checked;
    return json_line(object);
}

}  // namespace voltfall
