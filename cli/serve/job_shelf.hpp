// The jobs of a folder on one page: a list, and behind each row the job as it is served alone.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/serve/job_desk.hpp"

namespace voltfall {

class JobShelf {
public:
    /// Makes the desk of a job's file, whose addresses begin with `base`.
    using Open = std::function<std::unique_ptr<JobDesk>(const std::string& file, const std::string& base)>;

    /// `files`: paths of jobs. `lessons`: are lessons served beside them, at "/"?
    JobShelf(const std::vector<std::string>& files, Open open, bool lessons);

    /// Nullopt where the path is neither the list's nor a job's.
    std::optional<HttpResponse> answer(const HttpRequest& request);

private:
    struct Slot {
        std::string path;
        std::unique_ptr<JobDesk> desk;  ///< once somebody works it
    };

    HttpResponse show_list() const;

    std::map<std::string, Slot> slots_;  ///< by the name of the file
    Open open_;
    bool lessons_;
};

}  // namespace voltfall
