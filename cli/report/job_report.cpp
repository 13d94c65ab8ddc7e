#include "cli/report/job_report.hpp"

#include <fmt/format.h>

#include "cli/report/workshop_sheet.hpp"
#include "netlists/phrases/reading_phrase.hpp"

namespace voltfall {

namespace {

void write_readings(HtmlPage& page, const Job& job) {
    const auto rows_of = [](const std::vector<Reading>& readings) {
        std::vector<std::vector<std::string>> rows;
        for (const Reading& reading : readings) rows.push_back({reading.id, reading.text, reading.note});
        return rows;
    };
    if (!job.readings.empty()) {
        page.open("section");
        page.heading(2, "Readings");
        page.table({"no.", "reading", "note"}, rows_of(job.readings));
        page.table({"no.", "reading", "note"}, rows_of(job.after), "after the repair");
        page.close("section");
    }
    if (!job.history.empty()) {
        page.open("section");
        page.heading(2, "What was done before");
        page.list(job.history);
        page.close("section");
    }
}

}  // namespace

std::string report_page(const ReportView& view) {
    HtmlPage page;
    write_workshop_sheet(page, view);
    if (view.lesson) write_lesson(page, *view.lesson);
    write_pictures(page, view);
    write_readings(page, view.job);
    const std::string number = view.job.job.empty() ? view.circuit->name : "Job " + view.job.job;
    return page.file(view.job.concern.empty() ? view.circuit->name : view.job.concern + ", " + number, number);
}

}  // namespace voltfall
