// The answer of `prove` for programs.
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/proof_view.hpp"

namespace voltfall {

namespace {

/// "passed", "failed", "open": one case for programs.
std::string result_word(CheckResult result) {
    return result == CheckResult::failed ? "failed" : std::string(word_of(result));
}

}  // namespace

std::string proof_json(const ProofView& view) {
    const ProofAnswer& answer = view.answer;
    Json object = json_answer("prove");
    object["job"] = json_text_or_null(answer.job);
    object["proved"] = answer.proved;
    object["nothing_found"] = answer.nothing_found;
    object["checks"] = Json::array();
    for (const ProofCheck& check : answer.checks)
        object["checks"].push_back({{"what", check.what},
                                    {"result", result_word(check.result)},
                                    {"before", json_text_or_null(check.before)},
                                    {"after", json_text_or_null(check.after)},
                                    {"limit", json_text_or_null(check.limit)},
                                    {"why", json_text_or_null(check.why)},
                                    {"closes", json_text_or_null(check.closes)}});
    object["compared"] = Json::array();
    for (const BeforeAfter& row : answer.compared)
        object["compared"].push_back({{"test", row.test},
                                      {"before", json_text_or_null(row.before)},
                                      {"after", json_text_or_null(row.after)},
                                      {"sound", json_text_or_null(row.sound)}});
    object["concern"] = answer.concern_text;
    object["cause"] = answer.cause_text;
    object["correction"] = answer.correction_text;
    object["order"] = answer.order;
    object["may_wait"] = answer.may_wait;
    object["hand_back"] = answer.hand_back;
    object["hand_back_why"] = answer.hand_back_text;
    object["cautions"] = answer.cautions;
    object["notes"] = answer.notes;
    object["minutes"] = {{"tests", json_number(answer.minutes.tests)},
                         {"repairs", json_number(answer.minutes.repairs)},
                         {"proof", json_number(answer.minutes.proof)}};
    return json_line(object);
}

std::string proof_plain(const ProofView& view) {
    const ProofAnswer& answer = view.answer;
    PlainRecords records;
    records.record({"proved", PlainRecords::yes_no(answer.proved), PlainRecords::yes_no(answer.nothing_found)});
    for (const ProofCheck& check : answer.checks)
        records.record({"check", check.what, result_word(check.result), check.before, check.after, check.limit,
                        check.why, check.closes});
    for (const BeforeAfter& row : answer.compared)
        records.record({"compared", row.test, row.before, row.after, row.sound});
    const auto number = PlainRecords::number;
    records.record(
        {"minutes", number(answer.minutes.tests), number(answer.minutes.repairs), number(answer.minutes.proof)});
    records.record({"concern", answer.concern_text});
    records.record({"cause", answer.cause_text});
    records.record({"correction", answer.correction_text});
    for (const std::string& item : answer.order) records.record({"order", item});
    for (const std::string& item : answer.may_wait) records.record({"may_wait", item});
    records.record({"hand_back", PlainRecords::yes_no(answer.hand_back), answer.hand_back_text});
    for (const std::string& caution : answer.cautions) records.record({"caution", caution});
    for (const std::string& note : answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
