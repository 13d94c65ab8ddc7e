#include "cli/views/deck_view.hpp"

#include <sstream>

#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"

namespace voltfall {

namespace {

/// The lines of a deck that stands in no file.
std::vector<std::string> lines_of(const DeckAnswer& answer) {
    std::vector<std::string> lines;
    std::istringstream text(answer.file.empty() ? answer.deck : "");
    text.exceptions(std::ios::badbit);  // else memory that runs out is the end of the text
    for (std::string line; std::getline(text, line);) lines.push_back(line);
    return lines;
}

}  // namespace

std::string deck_text(const DeckAnswer& answer, PageStyle) {
    return answer.file.empty() ? answer.deck : std::string();
}

std::string deck_json(const DeckAnswer& answer) {
    Json json = json_answer("deck");
    json["faults"] = answer.faults;
    json["state"] = answer.state;
    json["at"] = answer.at;
    json["file"] = json_text_or_null(answer.file);
    json["nodes"] = Json::object();
    for (const auto& [place, node] : answer.nodes) json["nodes"][place] = node;
    json["deck"] = lines_of(answer);
    return json_line(json);
}

std::string deck_plain(const DeckAnswer& answer) {
    PlainRecords records;
    for (const std::string& fault : answer.faults) records.record({"fault", fault});
    records.record({"state", answer.state});
    records.record({"at", answer.at});
    if (!answer.file.empty()) records.record({"file", answer.file});
    for (const auto& [place, node] : answer.nodes) records.record({"node", place, node});
    for (const std::string& line : lines_of(answer)) records.record({"deck", line});
    return records.text();
}

}  // namespace voltfall
