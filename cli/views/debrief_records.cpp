#include "cli/views/debrief_view.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"

namespace voltfall {

namespace {

Json steps_json(const Debrief& debrief) {
    Json steps = Json::array();
    for (const DebriefStep& step : debrief.steps)
        steps.push_back({{"test", step.test},
                         {"reading", step.value},
                         {"minutes", json_number(step.minutes)},
                         {"suspect", json_text_or_null(step.suspect)},
                         {"bits", json_number(step.bits)},
                         {"ruled_out", step.ruled_out},
                         {"blind", json_text_or_null(step.blind)},
                         {"repeated", step.repeated}});
    return steps;
}

Json figures_json(const DebriefFigures& f) {
    return {{"minutes", json_number(f.minutes)},
            {"plan_minutes", json_number(f.plan_minutes)},
            {"plan_solved", f.plan_solved},
            {"budget_minutes", json_number(f.budget_minutes)},
            {"parts", f.parts},
            {"plan_parts", f.plan_parts},
            {"wrong_parts", f.wrong_parts},
            {"unwarranted", f.unwarranted},
            {"tests", f.tests},
            {"blind_tests", f.blind_tests},
            {"hints", f.hints},
            {"risk", f.risk}};
}

}  // namespace

std::string debrief_json(const LearnerResult& result) {
    const Debrief& debrief = result.debrief;
    Json answer = json_answer("teach");
    answer["lesson"] = {{"file", result.file},
                        {"title", result.title},
                        {"skill", result.skill},
                        {"level", result.level},
                        {"seed", result.seed}};
    answer["verdict"] = verdict_word(debrief.verdict);
    answer["sentence"] = debrief.sentence;
    answer["hidden"] = debrief.hidden;
    answer["roots"] = debrief.roots;
    answer["steps"] = steps_json(debrief);
    answer["figures"] = figures_json(debrief.figures);
    answer["plan"] = debrief.plan;
    answer["reason"] = debrief.reason;
    answer["proved"] = debrief.proved;
    answer["proof"] = debrief.proof;
    answer["afterwards"] = debrief.afterwards;
    return json_line(answer);
}

std::string debrief_plain(const LearnerResult& result) {
    const auto number = PlainRecords::number;
    const auto joined = PlainRecords::joined;
    const Debrief& debrief = result.debrief;
    const DebriefFigures& f = debrief.figures;
    PlainRecords records;
    records.record({"lesson", result.file, result.title, result.skill, number(result.level),
                    number(static_cast<double>(result.seed))});
    records.record({"verdict", std::string(verdict_word(debrief.verdict)), debrief.sentence});
    for (const std::string& fault : debrief.hidden) records.record({"hidden", fault});
    for (const std::string& fault : debrief.roots) records.record({"root", fault});
    for (const DebriefStep& step : debrief.steps)
        records.record({"step", step.test, step.value, number(step.minutes), step.suspect, number(step.bits),
                        joined(step.ruled_out), step.blind, PlainRecords::yes_no(step.repeated)});
    records.record({"figures", number(f.minutes), number(f.plan_minutes), number(f.budget_minutes),
                    number(static_cast<double>(f.parts)), joined(f.wrong_parts), joined(f.unwarranted),
                    number(static_cast<double>(f.tests)), number(static_cast<double>(f.blind_tests)),
                    number(static_cast<double>(f.hints)), PlainRecords::yes_no(f.risk)});
    for (const std::string& line : debrief.plan) records.record({"plan", line});
    for (const std::string& line : debrief.reason) records.record({"reason", line});
    records.record({"proof", PlainRecords::yes_no(debrief.proved), debrief.proof});
    return records.text();
}

}  // namespace voltfall
