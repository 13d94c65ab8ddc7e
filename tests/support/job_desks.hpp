// A job on a desk of its own, and requests to it as browsers make them.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <utility>

#include "cli/serve/job_desk.hpp"
#include "netlists/phrases/test_phrase.hpp"
#include "tests/cli/command_line.hpp"

namespace voltfall::testing {

inline HttpRequest from_browser(const std::string& path, const std::string& session = "s") {
    HttpRequest request;
    request.method = "GET";
    request.path = path;
    request.host = "127.0.0.1:4000";
    request.session = session;
    return request;
}

inline HttpRequest posted(const std::string& path, std::map<std::string, std::string> form) {
    HttpRequest request = from_browser(path);
    request.method = "POST";
    request.form = std::move(form);
    return request;
}

/// A job beside its circuit, and a desk that proposes one test without weighing anything.
class Desk {
public:
    Desk()
        : file_("open.job.toml", text()),
          desk_(
              file_.path(), weigh, [](const auto&, const auto&) { return std::string("the report"); },
              [] { return std::string("http://next"); }) {
        std::filesystem::copy_file(scenario("cab-blower.toml"),
                                   std::filesystem::path(file_.path()).parent_path() / "cab-blower.toml");
    }
    static std::string text() {
        return "format  = 1\ncircuit = \"cab-blower.toml\"\nconcern = \"weak <b>air</b>\"\n\n[readings]\n"
               "1 = \"hi  blower slow\"   # seen\n";
    }
    HttpResponse ask(const HttpRequest& request) { return desk_.answer(request); }
    std::string now() const { return file_.text(); }
    const ScratchFile& file() const { return file_; }

private:
    static ReportView weigh(const std::shared_ptr<const Circuit>& circuit, const Job& job) {
        ReportView view;
        view.circuit = circuit;
        view.job = job;
        view.is_job = true;
        Problems problems;
        TestProposal test;
        test.test = *read_test_phrase(TypedText::argument("test", "hi, key run  M1.1 to B1-"), *circuit, problems);
        view.next.tests.push_back(test);
        return view;
    }
    ScratchFile file_;
    JobDesk desk_;
};

}  // namespace voltfall::testing
