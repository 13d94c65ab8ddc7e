// What browsers may ask of one job, each change through the same code as `read`.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "cli/serve/job_page.hpp"
#include "cli/serve/request.hpp"
#include "netlists/files/job_store.hpp"

namespace voltfall {

class JobDesk {
public:
    /// Weighs a job as it stands in its file.
    using Weigh = std::function<ReportView(const std::shared_ptr<const Circuit>&, const Job&)>;
    /// An address with a key for one more browser.
    using Invite = std::function<std::string()>;
    /// The report of the job as it stands in its file, a whole page.
    using Report = std::function<std::string(const std::shared_ptr<const Circuit>&, const Job&)>;

    /// `base` stands before all addresses of the job where it is one of several: "/job/weak-air.job.toml".
    JobDesk(std::string file, Weigh weigh, Report report, Invite invite, std::string base = {});

    /// The page, or a redirect to it after a change; the request's path is the one behind `base`. The file is read anew
    /// each time, so that another program's change counts.
    HttpResponse answer(const HttpRequest& request);

private:
    /// What one browser has been told, and has left out.
    struct Visit {
        std::string message;
        std::string typed;
        std::vector<std::string> skipped;   ///< phrases of tests
        std::string seen;                   ///< stamp of the file as it was shown last
        std::vector<std::string> together;  ///< keys of readings that the last answer has kept
    };

    HttpResponse show(Visit& visit);
    /// The job, or the page that says why it cannot be read.
    tl::expected<JobReading, HttpResponse> read(const std::string& text, const Visit& visit) const;
    static std::optional<AskedTest> asked(const JobPage& page, const Visit& visit);
    static LastKept last_kept(const Job& job, const Visit& visit);
    HttpResponse report() const;
    HttpResponse news(const HttpRequest& request) const;
    HttpResponse invite() const;
    HttpResponse take_answer(const HttpRequest& request, Visit& visit);
    HttpResponse take_repair(const HttpRequest& request, Visit& visit);
    HttpResponse undo(const HttpRequest& request, Visit& visit);
    /// The readings that the card's fields tell of; empty where they tell nothing, and then it may be said why.
    std::vector<std::string> phrases_of(const HttpRequest& request, Visit& visit) const;
    void keep(const std::vector<std::string>& phrases, Visit& visit);
    void tell(const StoredReading& stored, const std::string& done, Visit& visit);
    bool is_new_turn(const HttpRequest& request);
    std::string news_for(const Visit& visit, const std::string& stamp) const;

    std::string file_;
    std::string base_;
    Weigh weigh_;
    Report report_;
    Invite invite_;
    std::map<int, Visit> visits_;    ///< by browser
    std::set<unsigned long> turns_;  ///< answered already
    std::string own_stamp_;          ///< of the file as we have written it last
    unsigned long next_turn_{1};
};

}  // namespace voltfall
