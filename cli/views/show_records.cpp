// `show` for programs: JSON and plain.
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/show_view.hpp"

namespace voltfall {

namespace {

Json steps_json(const std::vector<ShownStep>& steps) {
    Json list = Json::array();
    for (const ShownStep& step : steps)
        list.push_back({{"place", step.place},
                        {"roles", step.roles},
                        {"ohms", json_number(step.ohms)},
                        {"only_way", step.only_way}});
    return list;
}

Json ways_json(const std::vector<ShownWay>& ways) {
    Json list = Json::array();
    for (const ShownWay& way : ways)
        list.push_back({{"load", way.load},
                        {"complete", way.complete},
                        {"ohms", way.complete ? json_number(way.ohms) : Json(nullptr)},
                        {"feed", steps_json(way.feed)},
                        {"back", steps_json(way.back)}});
    return list;
}

Json load_json(const ShownLoad& load) {
    Json places = Json::array();
    for (const ShownShare& share : load.places)
        places.push_back({{"place", share.place}, {"positions", share.positions}, {"every", share.every}});
    return {{"load", load.load}, {"works_in", load.works_in}, {"places", std::move(places)}, {"across", load.across}};
}

std::string unit_word(Unit unit) {
    return unit == Unit::none ? "" : std::string(unit_name(unit));
}

Json values_json(const std::vector<ShownDefault>& values) {
    Json list = Json::array();
    for (const ShownDefault& value : values)
        list.push_back({{"name", value.name},
                        {"value", json_number(value.value)},
                        {"unit", json_text_or_null(unit_word(value.unit))},
                        {"source", value.source},
                        {"assumed", value.assumed()},
                        {"used_by", value.used_by}});
    return list;
}

void write_way(PlainRecords& records, const ShownPosition& position, const ShownWay& way, const char* kind) {
    records.record({kind, position.label, way.load, PlainRecords::yes_no(way.complete),
                    way.complete ? PlainRecords::number(way.ohms) : ""});
    const auto write_steps = [&](const std::vector<ShownStep>& steps, const char* side) {
        for (const ShownStep& step : steps)
            records.record({"step", position.label, way.load, side, step.place, PlainRecords::joined(step.roles),
                            PlainRecords::number(step.ohms), PlainRecords::yes_no(step.only_way)});
    };
    write_steps(way.feed, "feed");
    write_steps(way.back, "back");
}

void write_values(PlainRecords& records, const char* kind, const std::vector<ShownDefault>& values) {
    for (const ShownDefault& value : values)
        records.record({kind, value.name, PlainRecords::number(value.value), unit_word(value.unit), value.source,
                        PlainRecords::yes_no(value.assumed()), PlainRecords::joined(value.used_by)});
}

}  // namespace

std::string show_json(const ShowAnswer& answer) {
    Json object = json_answer("show");
    object["circuit"] = answer.circuit;
    object["positions"] = Json::array();
    for (const ShownPosition& position : answer.positions)
        object["positions"].push_back({{"position", position.label},
                                       {"loads", ways_json(position.loads)},
                                       {"coils", ways_json(position.coils)},
                                       {"pulled", position.pulled},
                                       {"relays_settled", position.relays_settled}});
    object["loads"] = Json::array();
    for (const ShownLoad& load : answer.loads) object["loads"].push_back(load_json(load));
    object["floating_off"] = answer.floating_off;
    object["defaults"] = values_json(answer.defaults);
    object["guesses"] = values_json(answer.guesses);
    return json_line(object);
}

std::string show_plain(const ShowAnswer& answer) {
    PlainRecords records;
    for (const ShownPosition& position : answer.positions) {
        for (const ShownWay& way : position.loads) write_way(records, position, way, "load");
        for (const ShownWay& way : position.coils) write_way(records, position, way, "coil");
        for (const std::string& relay : position.pulled) records.record({"pulled", position.label, relay});
        if (!position.relays_settled) records.record({"chatters", position.label});
    }
    for (const ShownLoad& load : answer.loads)
        for (const ShownShare& share : load.places)
            records.record({"share", load.load, share.place, PlainRecords::joined(share.positions),
                            PlainRecords::yes_no(share.every)});
    for (const ShownLoad& load : answer.loads)
        if (!load.across.empty()) records.record({"across", load.load, PlainRecords::joined(load.across)});
    for (const std::string& joint : answer.floating_off) records.record({"floating", joint});
    write_values(records, "default", answer.defaults);
    write_values(records, "guess", answer.guesses);
    return records.text();
}

}  // namespace voltfall
