#include "cli/serve/job_shelf.hpp"

#include <filesystem>
#include <utility>

#include "cli/views/figures.hpp"
#include "cli/views/problem_view.hpp"
#include "netlists/files/job_file.hpp"
#include "netlists/platform/paths.hpp"

namespace voltfall {

namespace {

ListedJob listed_job(const std::string& name, const std::string& path) {
    ListedJob listed{name, {}, {}, {}};
    const JobReading reading = read_job_file(path);
    if (!reading.job) {
        listed.problem = "It cannot be read: " + first_problem(reading.problems);
        return listed;
    }
    const Job& job = *reading.job;
    listed.concern = job.concern;
    listed.state = counted(job.readings.size() + job.after.size(), "reading");
    if (!job.repaired.empty()) listed.state += "; mended: " + job.repaired.back().place;
    return listed;
}

}  // namespace

JobShelf::JobShelf(const std::vector<std::string>& files, Open open, bool lessons)
    : open_(std::move(open)), lessons_(lessons) {
    for (const std::string& path : files) slots_[path_text(path_of(path).filename())].path = path;
}

std::optional<HttpResponse> JobShelf::answer(const HttpRequest& request) {
    if (request.path == "/jobs" || (request.path == "/" && !lessons_)) return show_list();
    constexpr std::string_view start = "/job/";
    if (!request.path.starts_with(start)) return std::nullopt;
    const std::size_t end = request.path.find('/', start.size());
    const auto found = slots_.find(request.path.substr(start.size(), end - start.size()));
    if (found == slots_.end()) return refused(404, "There is no such job; the list stands at /jobs.");
    const std::string base = job_base(found->first);
    if (end == std::string::npos) return see_other(base + "/");
    Slot& slot = found->second;
    if (!slot.desk) slot.desk = open_(slot.path, base);
    HttpRequest within = request;
    within.path = request.path.substr(end);
    return slot.desk->answer(within);
}

HttpResponse JobShelf::show_list() const {
    std::vector<ListedJob> jobs;
    for (const auto& [name, slot] : slots_) jobs.push_back(listed_job(name, slot.path));
    HttpResponse response;
    response.body = jobs_page(jobs, lessons_);
    return response;
}

}  // namespace voltfall
