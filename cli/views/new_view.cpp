#include "cli/views/new_view.hpp"

#include "cli/views/json_document.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

std::string new_text(const StarterList& list, PageStyle style) {
    TextPage page(style);
    TextTable table({{"starter"}, {"circuit", Align::left, Fold::words}});
    for (const StarterLine& starter : list) table.row({starter.name, starter.line});
    page.table(table, 0);
    page.gap();
    page.paragraph("voltfall new NAME -o FILE writes one; its values are invented, put in your vehicle's own", 0, 2,
                   Tone::quiet);
    return page.text();
}

std::string new_json(const StarterList& list) {
    Json object = json_answer("new");
    object["starters"] = Json::array();
    for (const StarterLine& starter : list)
        object["starters"].push_back({{"name", starter.name}, {"line", starter.line}});
    return json_line(object);
}

std::string new_plain(const StarterList& list) {
    PlainRecords records;
    for (const StarterLine& starter : list) records.record({"starter", starter.name, starter.line});
    return records.text();
}

}  // namespace voltfall
