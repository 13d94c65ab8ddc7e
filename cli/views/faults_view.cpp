#include "cli/views/faults_view.hpp"

#include <fmt/format.h>

#include "cli/views/figures.hpp"
#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

namespace {

Json seen_json(const SymptomPattern& symptom) {
    Json object = Json::object();
    for (const auto& [state, word] : symptom.seen) object[state] = word;
    return object;
}

/// "lo, ml, mh: dead" for states that share a word, in the order of the states.
void write_symptom(TextPage& page, const SymptomPattern& symptom, std::size_t faults) {
    std::vector<std::pair<std::string, std::string>> words;  // what is seen -> states
    for (const auto& [state, word] : symptom.changed) {
        auto known = words.begin();
        while (known != words.end() && known->first != word) ++known;
        if (known == words.end())
            words.emplace_back(word, state);
        else
            known->second += ", " + state;
    }
    std::string text;
    for (const auto& [word, states] : words) text += (text.empty() ? "" : "; ") + states + ": " + word;
    if (text.empty()) text = "nothing a driver notices";
    if (!symptom.fuses.empty()) text += "; opens " + name_list(symptom.fuses, symptom.fuses.size());
    page.heading(fmt::format("{} ({})", text, counted(faults, "fault")));
}

/// The sizes of one mode within a group, as a person says them: "C101.4 resistance 0.5 ohm or more".
std::string with_sizes(const std::vector<ListedFault>& faults, std::size_t first, std::size_t last) {
    const ListedFault& low = faults[first];
    const ListedFault& high = faults[last];
    if (!low.size || (low.smallest && high.largest)) return low.fault;
    if (low.smallest) return low.fault + " " + shown_size(*high.size, high.unit) + " or less";
    if (high.largest) return low.fault + " " + shown_size(*low.size, low.unit) + " or more";
    return low.fault + " " + shown_range(*low.size, *high.size, low.unit);
}

std::vector<std::string> fault_lines(const SymptomGroup& group) {
    std::vector<std::string> lines;
    for (std::size_t first = 0; first < group.faults.size();) {
        std::size_t last = first;
        while (last + 1 < group.faults.size() && group.faults[last + 1].fault == group.faults[first].fault) ++last;
        lines.push_back(with_sizes(group.faults, first, last));
        first = last + 1;
    }
    return lines;
}

}  // namespace

std::string faults_text(const FaultsAnswer& answer, PageStyle style) {
    TextPage page(style);
    if (!answer.circuit.empty()) page.heading(answer.circuit);
    std::string healthy;
    for (const auto& [state, word] : answer.healthy.seen) healthy += (healthy.empty() ? "" : ", ") + state + " " + word;
    page.labelled("healthy:", healthy, 0);
    page.paragraph("sizes: five from the least to the largest of each fault", 0, 2, Tone::quiet);
    for (const SymptomGroup& group : answer.groups) {
        page.gap();
        const std::vector<std::string> lines = fault_lines(group);
        write_symptom(page, group.symptom, lines.size());
        for (std::size_t i = 0; i < lines.size() && i < style.top; ++i) page.paragraph(lines[i], 2);
        if (lines.size() > style.top)
            page.paragraph(more_line(lines.size() - style.top, lines.size()), 2, 2, Tone::quiet);
    }
    if (!answer.notes.empty()) page.gap();
    for (const std::string& note : answer.notes) page.labelled("note", note, 0);
    return page.text();
}

std::string faults_json(const FaultsAnswer& answer) {
    Json object = json_answer("faults");
    object["healthy"] = seen_json(answer.healthy);
    object["groups"] = Json::array();
    for (const SymptomGroup& group : answer.groups) {
        Json one = {{"symptom", seen_json(group.symptom)}, {"fuses", group.symptom.fuses}, {"faults", Json::array()}};
        for (const ListedFault& fault : group.faults)
            one["faults"].push_back(
                {{"fault", fault.fault},
                 {"size", json_number(fault.size)},
                 {"unit", fault.size ? json_text_or_null(std::string(unit_name(fault.unit))) : Json(nullptr)}});
        object["groups"].push_back(std::move(one));
    }
    object["notes"] = answer.notes;
    return json_line(object);
}

std::string faults_plain(const FaultsAnswer& answer) {
    PlainRecords records;
    int number = 0;
    for (const SymptomGroup& group : answer.groups) {
        ++number;
        std::vector<std::string> seen;
        for (const auto& [state, word] : group.symptom.seen) seen.push_back(state + "=" + word);
        for (const ListedFault& fault : group.faults)
            records.record({"fault", fmt::format("{}", number), PlainRecords::joined(seen),
                            PlainRecords::joined(group.symptom.fuses), fault.fault, PlainRecords::number(fault.size),
                            fault.size ? std::string(unit_name(fault.unit)) : ""});
    }
    for (const std::string& note : answer.notes) records.record({"note", note});
    return records.text();
}

}  // namespace voltfall
