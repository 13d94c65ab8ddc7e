// What a browser may ask of one job, each change through the same code as `read`.
#pragma once

#include <functional>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "cli/serve/job_page.hpp"
#include "cli/serve/request.hpp"
#include "netlists/files/job_store.hpp"

namespace voltfall {

class JobDesk {
public:
    /// Weighs a job as it stands in its file.
    using Weigh = std::function<ReportView(const std::shared_ptr<const Circuit>&, const Job&)>;

    JobDesk(std::string file, Weigh weigh);

    /// The page, or a redirect to it after a change. The file is read anew each time, so that another program's change
    /// counts.
    HttpResponse answer(const HttpRequest& request);

private:
    HttpResponse show();
    HttpResponse take_answer(const HttpRequest& request);
    HttpResponse undo(const HttpRequest& request);
    void keep(const std::string& phrase);
    void tell(const StoredReading& stored, const std::string& done);
    bool is_new_turn(const HttpRequest& request);
    std::shared_ptr<const Circuit> circuit();

    std::string file_;
    Weigh weigh_;
    std::vector<std::string> skipped_;  ///< phrases of tests
    std::set<std::string> turns_;       ///< answered already
    std::string message_;
    std::string typed_;
    unsigned long next_turn_{1};
};

}  // namespace voltfall
