#include "cli/views/check_view.hpp"

#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/problem_view.hpp"
#include "netlists/text/problem_code.hpp"

namespace voltfall {

namespace {

Json problem_json(const Problem& problem) {
    return {{"file", problem.place.file.str()}, {"line", problem.place.line},
            {"column", problem.place.column},   {"severity", severity_name(problem.severity)},
            {"message", problem.message},       {"suggestion", json_text_or_null(problem.suggestion)},
            {"code", code_name(problem.code)}};
}

void add_outcome(Json& object, bool ok, const std::vector<Problem>& problems,
                 const std::optional<CircuitCounts>& counts) {
    object["ok"] = ok;
    object["problems"] = Json::array();
    for (const Problem& problem : problems) object["problems"].push_back(problem_json(problem));
    object["parts"] = counts ? Json(counts->parts) : Json(nullptr);
    object["wires"] = counts ? Json(counts->wires) : Json(nullptr);
    object["nodes"] = counts ? Json(counts->nodes) : Json(nullptr);
    object["branches"] = counts ? Json(counts->branches) : Json(nullptr);
}

std::string counts_text(const CircuitCounts& counts) {
    return fmt::format("{}, {}, {}, {}", counted(counts.parts, "part"), counted(counts.wires, "wire"),
                       counted(counts.nodes, "node"), counted(counts.branches, "branch"));
}

std::string count_field(const std::optional<CircuitCounts>& counts, std::size_t CircuitCounts::*field) {
    return counts ? fmt::format("{}", (*counts).*field) : "";
}

}  // namespace

std::string check_text(const CheckAnswer& answer, PageStyle style) {
    TextPage page(style);
    write_problems(page, answer.problems());
    page.gap();
    for (const CheckedFile& file : answer.files) {
        const std::string verdict = file.ok() ? "OK" : "NOT OK";
        std::string text = fmt::format("{}: {}", shown_name(file.file), verdict);
        if (!file.problems.empty()) text += "; " + problem_counts(file.problems);
        if (file.counts) text += "; " + counts_text(*file.counts);
        page.paragraph(text, 0, 2, file.ok() ? Tone::good : Tone::bad);
    }
    return page.text();
}

std::string check_json(const CheckAnswer& answer) {
    Json object = json_answer("check");
    add_outcome(object, answer.ok(), answer.problems(), answer.counts());
    if (answer.files.size() > 1) {
        object["files"] = Json::array();
        for (const CheckedFile& file : answer.files) {
            Json one = {{"file", file.file}};
            add_outcome(one, file.ok(), file.problems, file.counts);
            object["files"].push_back(std::move(one));
        }
    }
    return json_line(object);
}

std::string check_plain(const CheckAnswer& answer) {
    PlainRecords records;
    for (const Problem& problem : answer.problems())
        records.record({"problem", problem.place.file.str(), fmt::format("{}", problem.place.line),
                        fmt::format("{}", problem.place.column), std::string(severity_name(problem.severity)),
                        problem.message, problem.suggestion, std::string(code_name(problem.code))});
    for (const CheckedFile& file : answer.files)
        records.record(
            {"file", file.file, PlainRecords::yes_no(file.ok()), fmt::format("{}", file.problems.size()),
             count_field(file.counts, &CircuitCounts::parts), count_field(file.counts, &CircuitCounts::wires),
             count_field(file.counts, &CircuitCounts::nodes), count_field(file.counts, &CircuitCounts::branches)});
    return records.text();
}

}  // namespace voltfall
