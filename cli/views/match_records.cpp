// `match` for programs: JSON and plain.
#include <fmt/format.h>

#include "cli/views/json_document.hpp"
#include "cli/views/match_view.hpp"
#include "cli/views/plain_records.hpp"

namespace voltfall {

namespace {

std::string unit_of(Unit unit) {
    return unit == Unit::none ? "" : std::string(unit_name(unit));
}

/// Shares of a wire's length have no unit of their own.
Json estimate_json(const std::optional<SizeEstimate>& estimate) {
    if (!estimate) return nullptr;
    const std::string unit = estimate->unit == Unit::percent ? "" : unit_of(estimate->unit);
    return {{"best", json_number(estimate->best)},
            {"low", json_number(estimate->low)},
            {"high", json_number(estimate->high)},
            {"unit", json_text_or_null(unit)}};
}

Json candidate_json(const Candidate& candidate) {
    Json causes = Json::array();
    for (const LikelyCause& cause : candidate.caused_by)
        causes.push_back({{"fault", cause.fault}, {"probability", json_number(cause.probability)}});
    return {{"fault", candidate.fault},
            {"place", candidate.place},
            {"mode", candidate.mode},
            {"probability", json_number(candidate.probability)},
            {"size", estimate_json(candidate.size)},
            {"where", estimate_json(candidate.where)},
            {"because", candidate.because},
            {"against", candidate.against},
            {"caused_by", std::move(causes)},
            {"alike_so_far", candidate.alike_so_far},
            {"same_as", candidate.same_as},
            {"repair", json_text_or_null(candidate.repair)},
            {"led_to", phrases_of(candidate.led_to)}};
}

void add_estimate(std::vector<std::string>& fields, const std::optional<SizeEstimate>& estimate) {
    fields.push_back(estimate ? PlainRecords::number(estimate->best) : "");
    fields.push_back(estimate ? PlainRecords::number(estimate->low) : "");
    fields.push_back(estimate ? PlainRecords::number(estimate->high) : "");
    fields.push_back(estimate && estimate->unit != Unit::percent ? unit_of(estimate->unit) : "");
}

}  // namespace

std::string match_json(const MatchView& view) {
    const MatchAnswer& answer = view.answer;
    Json object = json_answer("match");
    object["readings"] = answer.readings;
    object["places"] = Json::array();
    for (const RepairChance& place : answer.places)
        object["places"].push_back(
            {{"place", place.place}, {"probability", json_number(place.probability)}, {"faults", place.faults}});
    object["candidates"] = Json::array();
    for (const Candidate& candidate : answer.candidates) object["candidates"].push_back(candidate_json(candidate));
    object["none_of_these"] = json_number(answer.none_of_these);
    object["doubtful"] = Json::array();
    for (const Doubt& doubt : answer.doubtful)
        object["doubtful"].push_back({{"reading", doubt.reading}, {"probability", json_number(doubt.probability)}});
    object["ruled_out"] = Json::array();
    for (const RuledOut& out : answer.ruled_out) object["ruled_out"].push_back({{"fault", out.fault}, {"by", out.by}});
    if (answer.pairs_asked) {
        object["pairs"] = Json::array();
        for (const FaultPair& pair : answer.pairs)
            object["pairs"].push_back({{"faults", pair.faults},
                                       {"repairs", pair.repairs},
                                       {"probability", json_number(pair.probability)},
                                       {"of_repairs", json_number(pair.of_repairs)}});
    }
    object["supply_unknown"] = answer.supply_unknown;
    object["notes"] = answer.notes;
    return json_line(object);
}

std::string match_plain(const MatchView& view) {
    const MatchAnswer& answer = view.answer;
    PlainRecords records;
    for (const RepairChance& place : answer.places)
        records.record(
            {"place", place.place, PlainRecords::number(place.probability), PlainRecords::joined(place.faults)});
    for (const Candidate& candidate : answer.candidates) {
        std::vector<std::string> fields = {"candidate", candidate.fault, candidate.place, candidate.mode,
                                           PlainRecords::number(candidate.probability)};
        add_estimate(fields, candidate.size);
        add_estimate(fields, candidate.where);
        std::vector<std::string> causes;
        for (const LikelyCause& cause : candidate.caused_by)
            causes.push_back(cause.fault + "=" + PlainRecords::number(cause.probability));
        using List = const std::vector<std::string>;
        for (List* list : std::initializer_list<List*>{&candidate.because, &candidate.against, &causes,
                                                       &candidate.alike_so_far, &candidate.same_as})
            fields.push_back(PlainRecords::joined(*list));
        fields.push_back(candidate.repair);
        fields.push_back(PlainRecords::joined(phrases_of(candidate.led_to)));
        records.record(fields);
    }
    records.record({"none_of_these", PlainRecords::number(answer.none_of_these)});
    for (const Doubt& doubt : answer.doubtful)
        records.record({"doubtful", doubt.reading, PlainRecords::number(doubt.probability)});
    for (const RuledOut& out : answer.ruled_out) records.record({"ruled_out", out.fault, out.by});
    for (const FaultPair& pair : answer.pairs)
        records.record({"pair", pair.faults[0], pair.faults[1], pair.repairs[0], pair.repairs[1],
                        PlainRecords::number(pair.probability)});
    records.record({"supply_unknown", PlainRecords::yes_no(answer.supply_unknown)});
    for (const std::string& note : answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
