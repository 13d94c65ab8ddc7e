// What learners have done so far, by skill.
#include <fmt/format.h>

#include "cli/views/debrief_view.hpp"
#include "cli/views/figures.hpp"
#include "cli/views/plain_records.hpp"
#include "cli/views/text_table.hpp"

namespace voltfall {

std::string progress_text(const ProgressSoFar& progress, PageStyle style) {
    TextTable table({{"who"},
                     {"skill", Align::left, Fold::words},
                     {"solved", Align::right},
                     {"min", Align::right},
                     {"plan min", Align::right, Fold::whole, 1},
                     {"blind", Align::right, Fold::whole, 2},
                     {"wrong parts", Align::right, Fold::words},
                     {"guesses", Align::right, Fold::whole, 3},
                     {"unsafe", Align::right}});
    for (const SkillRecord& r : progress.records)
        table.row({r.who, r.skill, fmt::format("{}/{}", r.solved, r.runs), write_fixed(r.minutes, 0),
                   write_fixed(r.plan_minutes, 0), fmt::format("{}/{}", r.blind_tests, r.tests),
                   std::to_string(r.wrong_parts), std::to_string(r.guesses), std::to_string(r.unsafe)});
    TextPage page(style);
    page.table(table, 0);
    page.paragraph("evidence for a teacher, not a pass: hands are watched by people", 0, 0, Tone::quiet);
    if (progress.broken > 0)
        page.paragraph(counted(progress.broken, "line") + " could not be read", 0, 2, Tone::caution);
    return page.text();
}

std::string progress_plain(const ProgressSoFar& progress) {
    PlainRecords records;
    for (const SkillRecord& r : progress.records)
        records.record({"skill", r.who, r.skill, std::to_string(r.solved), std::to_string(r.runs),
                        plain_number(r.minutes), plain_number(r.plan_minutes), std::to_string(r.blind_tests),
                        std::to_string(r.tests), std::to_string(r.wrong_parts), std::to_string(r.guesses),
                        std::to_string(r.unsafe)});
    return records.text();
}

}  // namespace voltfall
