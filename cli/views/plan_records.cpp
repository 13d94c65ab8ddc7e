#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/plan_view.hpp"
#include "netlists/phrases/test_phrase.hpp"

namespace voltfall {

namespace {

Json node_json(const Circuit& circuit, const PlanNode& node) {
    if (!node.test)
        return {{"repair", json_text_or_null(node.repair)},
                {"fault", json_text_or_null(node.fault)},
                {"probability", json_number(node.probability)}};
    Json branches = Json::array();
    for (const PlanNode::Branch& branch : node.branches)
        branches.push_back({{"if", branch.outcome},
                            {"from", json_number(branch.from)},
                            {"to", json_number(branch.to)},
                            {"probability", json_number(branch.probability)},
                            {"then", node_json(circuit, *branch.then)}});
    return {{"test", write_test(circuit, *node.test)},
            {"minutes", json_number(node.minutes)},
            {"expected_minutes", json_number(node.expected)},
            {"caution", node.caution},
            {"branches", std::move(branches)}};
}

void add_records(PlainRecords& records, const Circuit& circuit, const PlanNode& node, int& last, int from,
                 const PlanNode::Branch* by) {
    const int number = ++last;
    const std::string follows = from > 0 ? std::to_string(from) : "";
    const std::string outcome = by ? by->outcome : "";
    const std::string probability = by ? PlainRecords::number(by->probability) : "1";
    if (!node.test) {
        records.record({"end", std::to_string(number), follows, outcome, probability, node.repair, node.fault,
                        PlainRecords::number(node.probability)});
        return;
    }
    records.record({"step", std::to_string(number), follows, outcome, probability, write_test(circuit, *node.test),
                    PlainRecords::number(node.minutes), PlainRecords::number(node.expected),
                    PlainRecords::joined(node.caution)});
    for (const PlanNode::Branch& branch : node.branches)
        add_records(records, circuit, *branch.then, last, number, &branch);
}

}  // namespace

std::string plan_json(const PlanView& view) {
    Json object = json_answer("plan");
    object["tree"] = view.answer.tree ? node_json(*view.circuit, *view.answer.tree) : Json(nullptr);
    object["expected_minutes"] = json_number(view.answer.expected_minutes);
    object["worst_minutes"] = json_number(view.answer.worst_minutes);
    object["right"] = json_number(view.answer.right);
    object["exact"] = view.answer.exact;
    object["notes"] = view.answer.notes;
    return json_line(object);
}

std::string plan_plain(const PlanView& view) {
    PlainRecords records;
    int last = 0;
    if (view.answer.tree) add_records(records, *view.circuit, *view.answer.tree, last, 0, nullptr);
    records.record({"minutes", PlainRecords::number(view.answer.expected_minutes),
                    PlainRecords::number(view.answer.worst_minutes), PlainRecords::number(view.answer.right),
                    PlainRecords::yes_no(view.answer.exact)});
    for (const std::string& note : view.answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
