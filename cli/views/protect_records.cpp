// `protect` for programs: JSON and plain.
#include <cmath>

#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/protect_view.hpp"

namespace voltfall {

namespace {

Json at_json(const WireAtOpening& at) {
    return {{"amps", json_number(at.amps)},       {"seconds", json_number(at.seconds)},
            {"celsius", json_number(at.celsius)}, {"limit", json_number(at.limit)},
            {"latest", json_number(at.latest)},   {"latest_celsius", json_number(at.latest_celsius)}};
}

Json fuse_json(const FuseGuard& guard) {
    Json bands = Json::array();
    for (const FuseTimes& times : guard.times)
        bands.push_back({{"amps", json_number(times.amps)},
                         {"earliest", json_number(times.earliest)},
                         {"typical", json_number(times.typical)},
                         {"latest", json_number(times.latest)}});
    Json guards = Json::array();
    Json wires = Json::array();
    for (const WireVerdict& wire : guard.wires) {
        guards.push_back(wire.wire);
        wires.push_back({{"wire", wire.wire},
                         {"ok", wire.ok()},
                         {"fails_from", json_number(wire.fails_from)},
                         {"fails_to", json_number(wire.fails_to)},
                         {"worst", at_json(wire.worst)},
                         {"hardest", at_json(wire.hardest)}});
    }
    Json contacts = Json::array();
    for (const ContactVerdict& contact : guard.contacts)
        contacts.push_back({{"contact", contact.name},
                            {"rating", json_number(contact.rating)},
                            {"ok", contact.ok()},
                            {"fails_from", json_number(contact.fails_from)},
                            {"fails_to", json_number(contact.fails_to)},
                            {"bears", json_number(contact.bears)},
                            {"opens", json_number(contact.opens)}});
    return {{"fuse", guard.name},
            {"rating", json_number(guard.rating)},
            {"type", guard.type},
            {"colour", json_text_or_null(std::string(guard.colour))},
            {"i2t", json_number(guard.i2t)},
            {"bands", std::move(bands)},
            {"guards", std::move(guards)},
            {"loads", guard.loads},
            {"wires", std::move(wires)},
            {"contacts", std::move(contacts)}};
}

}  // namespace

std::string protect_json(const ProtectAnswer& answer) {
    Json json = json_answer("protect");
    json["ok"] = answer.ok();
    json["fuses"] = Json::array();
    for (const FuseGuard& guard : answer.protection.fuses) json["fuses"].push_back(fuse_json(guard));
    json["gaps"] = Json::array();
    for (const ProtectionGap& gap : answer.protection.gaps)
        json["gaps"].push_back({{"fault", gap.fault},
                                {"state", gap.state},
                                {"amps", json_number(gap.amps)},
                                {"what", gap.what},
                                {"kind", body_word(gap.kind)},
                                {"limiter", gap.limiter},
                                {"watts", json_number(gap.watts)},
                                {"seconds", json_number(gap.seconds)},
                                {"melts", json_number(gap.melts)},
                                {"rating", gap.rating > 0 ? json_number(gap.rating) : Json(nullptr)},
                                {"limiter_celsius", json_number(gap.limiter_celsius)},
                                {"fuse", gap.fuse}});
    json["hot"] = Json::array();
    for (const HotPlace& place : answer.protection.hot) {
        Json lasts = Json::array();
        for (const HotPlace::Lasts& one : place.lasts) {
            const bool melts = std::isfinite(one.seconds);
            lasts.push_back({{"metal", json_number(one.metal_celsius)},
                             {"seconds", melts ? json_number(one.seconds) : Json(nullptr)}});
        }
        Json then = Json::array();
        for (const HotPlace::Then& one : place.then)
            then.push_back({{"state", one.state}, {"what", one.what}, {"seconds", json_number(one.seconds)}});
        json["hot"].push_back({{"wire", place.wire},
                               {"care", place.care},
                               {"lasts", std::move(lasts)},
                               {"fault", place.fault},
                               {"then", std::move(then)}});
    }
    json["assumed"] = answer.assumed;
    return json_line(json);
}

std::string protect_plain(const ProtectAnswer& answer) {
    const auto number = [](std::optional<double> value) { return PlainRecords::number(value); };
    PlainRecords records;
    for (const FuseGuard& guard : answer.protection.fuses) {
        records.record({"fuse", guard.name, number(guard.rating), guard.type, std::string(guard.colour),
                        number(guard.i2t), PlainRecords::joined(guard.loads)});
        for (const FuseTimes& times : guard.times)
            records.record({"band", guard.name, number(times.amps), number(times.earliest), number(times.typical),
                            number(times.latest)});
        for (const ContactVerdict& contact : guard.contacts)
            records.record({"contact", guard.name, contact.name, number(contact.rating),
                            PlainRecords::yes_no(contact.ok()), number(contact.fails_from), number(contact.fails_to),
                            number(contact.bears), number(contact.opens)});
        for (const WireVerdict& wire : guard.wires) {
            records.record({"wire", guard.name, wire.wire, PlainRecords::yes_no(wire.ok()), number(wire.fails_from),
                            number(wire.fails_to)});
            for (const auto& [name, at] : {std::pair{"worst", &wire.worst}, std::pair{"hardest", &wire.hardest}})
                records.record({name, guard.name, wire.wire, number(at->amps), number(at->seconds), number(at->celsius),
                                number(at->limit), number(at->latest), number(at->latest_celsius)});
        }
    }
    for (const ProtectionGap& gap : answer.protection.gaps)
        records.record({"gap", gap.fault, gap.state, number(gap.amps), gap.what, std::string(body_word(gap.kind)),
                        PlainRecords::yes_no(gap.limiter), number(gap.watts), number(gap.seconds), gap.fuse,
                        number(gap.melts), gap.rating > 0 ? number(gap.rating) : "", number(gap.limiter_celsius)});
    for (const HotPlace& place : answer.protection.hot) {
        for (const HotPlace::Lasts& one : place.lasts)
            records.record({"lasts", place.wire, number(one.metal_celsius),
                            std::isfinite(one.seconds) ? number(one.seconds) : ""});
        for (const HotPlace::Then& one : place.then)
            records.record({"then", place.wire, place.fault, one.state, one.what, number(one.seconds)});
    }
    for (const std::string& figure : answer.assumed) records.record({"assumed", figure});
    return records.text();
}

}  // namespace voltfall
